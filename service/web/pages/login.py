"""Signing in and out: the staff's passphrase, and the initials that the audit shall say."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus
from ipaddress import IPv6Address, ip_address, ip_network
from typing import Annotated, Final
from urllib.parse import quote

from fastapi import APIRouter, FastAPI, Form, Query
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from service.bar import Bar, TooManyTries, note_sign_in, note_try
from service.web.deps import BarHere
from service.web.pages.frame import address_of, own_address
from service.web.pages.problems import wants_page
from service.web.pages.rendering import page_answer
from service.web.security import (
    By,
    SignInFirst,
    WhoHere,
    begin,
    end,
    forget,
    keys_of,
    remember,
    sign_in_problem,
    visit_of,
)

router = APIRouter()
LOGIN: Final = "/login"
LONGEST_INITIALS: Final = 12
LONGEST_ADDRESS: Final = 4000
_WHO: Final = "login page"
_WRONG: Final = "That is not the passphrase. Nobody is locked out; look at it letter by letter."
_WAIT: Final = "There were too many tries from here. Wait {minutes} minutes, then try again."
# A household or a bar has a whole network of this size (RFC 6177, section 2).
_IPV6_NETWORK: Final = 64

Back = Annotated[str, Form(max_length=LONGEST_ADDRESS)]


@dataclass(frozen=True, slots=True)
class LoginPage:
    """The form, where it leads to, and why it did not the last time."""

    back: str
    initials: str
    problem: str


@router.get(LOGIN, include_in_schema=False)
async def ask(
    request: Request, back: Annotated[str, Query(max_length=LONGEST_ADDRESS)] = "/"
) -> Response:
    """The form; straight on where nobody has to sign in."""
    if keys_of(request).passphrase is None:
        return RedirectResponse(own_address(back), HTTPStatus.SEE_OTHER)
    return _page(request, LoginPage(own_address(back), "", ""), HTTPStatus.OK)


@router.post(LOGIN, include_in_schema=False)
def sign_in(
    request: Request,
    bar: BarHere,
    passphrase: Annotated[str, Form(max_length=LONGEST_ADDRESS)] = "",
    initials: Annotated[str, Form(max_length=LONGEST_ADDRESS)] = "",
    back: Back = "/",
) -> Response:
    """Let staff in. A try is kept before the words are looked at, so it counts whatever follows:
    the one request here with two transactions."""
    address = _from(request)
    hand = "".join(c for c in initials.strip() if c.isalnum() or c in " .-")[:LONGEST_INITIALS]
    page = LoginPage(own_address(back), hand, "")
    if refused := _tried(bar, address):
        minutes = -(-refused.wait_seconds // 60)
        page = LoginPage(page.back, hand, _WAIT.format(minutes=minutes))
        wait = {"Retry-After": str(refused.wait_seconds)}
        return _page(request, page, HTTPStatus.TOO_MANY_REQUESTS, wait)
    wanted = keys_of(request).passphrase
    if wanted is None or not wanted.is_said_by(passphrase):
        return _page(request, LoginPage(page.back, hand, _WRONG), HTTPStatus.FORBIDDEN)
    with bar.unit(f"staff {hand}") as unit:
        note_sign_in(unit, address)
    begin(request, staff=hand)
    answer = RedirectResponse(page.back, HTTPStatus.SEE_OTHER)
    remember(request, answer)
    return answer


@router.post("/logout", include_in_schema=False)
def sign_out(request: Request, who: WhoHere) -> Response:
    """This browser is nobody's again, and so is every copy of its cookie."""
    visit = visit_of(request)
    if who.by is By.STAFF and visit is not None:
        end(request, visit, who.name)
    answer = RedirectResponse(LOGIN, HTTPStatus.SEE_OTHER)
    forget(request, answer)
    return answer


def install(app: FastAPI) -> None:
    """Whoever has to sign in first is shown where; after the faults told as pages."""

    @app.exception_handler(SignInFirst)
    async def of_nobody(request: Request, _error: SignInFirst) -> Response:
        if not wants_page(request):
            return sign_in_problem()
        back = quote(address_of(request), safe="")
        return RedirectResponse(f"{LOGIN}?back={back}", HTTPStatus.SEE_OTHER)


def _tried(bar: Bar, address: str) -> TooManyTries | None:
    with bar.unit(_WHO) as unit:
        return note_try(unit, address)


def _from(request: Request) -> str:
    """Where a try comes from: an address, or the network that one household has."""
    host = request.client.host if request.client else "this machine"
    try:
        address = ip_address(host)
    except ValueError:
        return host[:60]
    if isinstance(address, IPv6Address):
        return str(ip_network((address, _IPV6_NETWORK), strict=False))
    return str(address)


def _page(
    request: Request, page: LoginPage, status: HTTPStatus, headers: dict[str, str] | None = None
) -> Response:
    return page_answer(request, "login.html", page, section="", status=status, headers=headers)
