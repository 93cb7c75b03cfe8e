"""Who asks: somebody on this machine, staff that signed in, a program with a token, or nobody."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from http import HTTPStatus
from typing import Final

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request

from service.bar import ApiToken, Bar, Scope, token_holder
from service.settings import Settings
from service.web.security.visits import visit_of

# As wide as the audit's column of hands.
LONGEST_NAME: Final = 60
_BEARER: Final = "bearer "
_NO_TOKEN: Final = (
    "this token is not known, or was called in; ask whoever runs the service for another"
)


class By(StrEnum):
    """What lets them in."""

    LOCAL = "local"
    STAFF = "staff"
    TOKEN = "token"
    NOBODY = "nobody"


@dataclass(frozen=True, slots=True)
class Who:
    """One who asks. `name` is what the audit says of their hand."""

    by: By
    name: str
    scopes: frozenset[Scope]

    def may(self, scope: Scope) -> bool:
        return scope in self.scopes


LOCAL: Final = Who(By.LOCAL, "local", frozenset(Scope))
NOBODY: Final = Who(By.NOBODY, "nobody", frozenset())


async def who_of(request: Request) -> Who:
    """Who asks; a token that is none is refused wherever it is shown, also on this machine."""
    authorization = request.headers.get("authorization", "")
    settings: Settings = request.app.state.settings
    if authorization[: len(_BEARER)].lower() == _BEARER:
        who = await _holder(request.app.state.bar, authorization[len(_BEARER) :].strip())
    elif not settings.asks_for_login:
        who = LOCAL
    else:
        who = await _on_visit(request)
    return who


def _token(bar: Bar, word: str) -> ApiToken | None:
    with bar.look() as unit:
        return token_holder(unit, word)


async def _holder(bar: Bar, word: str) -> Who:
    token = await run_in_threadpool(_token, bar, word)
    if token is None:
        headers = {"WWW-Authenticate": 'Bearer error="invalid_token"'}
        raise HTTPException(HTTPStatus.UNAUTHORIZED, _NO_TOKEN, headers)
    return Who(By.TOKEN, f"token {token.name}"[:LONGEST_NAME], frozenset(map(Scope, token.scopes)))


async def _on_visit(request: Request) -> Who:
    visit, state = visit_of(request), request.app.state
    if visit is None or visit.staff is None or await state.ended.holds(state.bar, visit):
        return NOBODY
    return Who(By.STAFF, f"staff {visit.staff}".strip(), frozenset(Scope))
