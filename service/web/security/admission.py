"""The door: whatever is not named open is closed to nobody, and to other sites' pages."""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated, Final
from urllib.parse import urlsplit

from fastapi import Depends, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from service.bar import Scope as Allowed
from service.web.errors import problem
from service.web.security.forms import READING
from service.web.security.who import By, Who, who_of

# Open to everybody: whether the service lives, what a problem means, the way in, the switch of
# the theme, what guests read, and what all pages look like. Every other address is closed.
OPEN: Final = ("/api/v1/health", "/problems", "/login", "/theme", "/g", "/static")
_SIGN_IN: Final = (
    "sign in on the login page, or send a token as 'Authorization: Bearer ...'; "
    "`marc token new NAME` makes one"
)
_OTHER_SITE: Final = "a page of another site sent this; nothing was changed"
_NOT_A_TOKEN: Final = "tokens are handed out and called in by staff that signed in, not by a token"
_ONLY_READ: Final = "this token may only read; make one with the scope 'write'"


class SignInFirst(Exception):
    """Nobody may do this; staff or a token may."""


class Door:
    """Lets those in who may, before anything of what they send is read.

    Who asks is then known to the request: a route takes it as `WhoHere`.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            request = Request(scope)
            try:
                request.state.who = await admitted(request)
            except (HTTPException, SignInFirst) as error:
                tell = request.app.exception_handlers[type(error)]
                refusal: Response = await tell(request, error)
                await refusal(scope, receive, send)
                return
        await self.app(scope, receive, send)


async def admitted(request: Request) -> Who:
    """Who asks, if they may; SignInFirst or a refusal otherwise."""
    who = await who_of(request)
    if request.method not in READING and who.by is not By.TOKEN:
        _refuse_other_sites(request)
    path: str = request.scope["path"]
    if who.by is By.NOBODY and not any(path == o or path.startswith(f"{o}/") for o in OPEN):
        raise SignInFirst
    return who


async def _who(request: Request) -> Who:
    who: Who = request.state.who
    return who


WhoHere = Annotated[Who, Depends(_who)]


def may_write(who: Who) -> None:
    """Refuses who may not write."""
    if who.by is By.NOBODY:
        raise SignInFirst
    if not who.may(Allowed.WRITE):
        raise HTTPException(HTTPStatus.FORBIDDEN, _ONLY_READ)


def may_let_others_in(who: Who) -> None:
    """Refuses a token that would make or end tokens: it could outlive its own end."""
    if who.by not in {By.LOCAL, By.STAFF}:
        raise HTTPException(HTTPStatus.FORBIDDEN, _NOT_A_TOKEN)


def sign_in_problem() -> Response:
    """What a program is told that nobody knows."""
    headers = {"WWW-Authenticate": "Bearer"}
    return problem(
        HTTPStatus.UNAUTHORIZED, "Sign in first", _SIGN_IN,
        kind="/problems/sign-in-first", headers=headers,
    )  # fmt: skip


def _refuse_other_sites(request: Request) -> None:
    """A browser says from whose page a change comes (W3C Fetch Metadata; RFC 6454, section 7)."""
    headers = request.headers
    origin = headers.get("origin")
    if origin is not None:
        ours = urlsplit(origin).netloc == headers.get("host", "")
    else:
        ours = headers.get("sec-fetch-site", "none") in {"same-origin", "none"}
    if not ours:
        raise HTTPException(HTTPStatus.FORBIDDEN, _OTHER_SITE)
