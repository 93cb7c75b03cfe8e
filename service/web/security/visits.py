"""A visit: the signed cookie by which a browser is known again, and whether staff signed in on it.

The cookie says all there is. Another passphrase, or another secret, ends every visit; signing out
ends one (`ended`).
"""

from __future__ import annotations

from dataclasses import dataclass
from secrets import token_urlsafe
from typing import Final

from starlette.requests import Request
from starlette.responses import Response

from service.web.security.keys import keys_of

COOKIE: Final = "marc_visit"
# A shift and the night after it; common practice, no source.
LONGEST_S: Final = 24 * 3600
_ID_BYTES: Final = 18


@dataclass(frozen=True, slots=True)
class Visit:
    """One browser.

    id : drawn at random, anew when somebody signs in
    staff : who signed in, as the audit will say; None where nobody did
    new : whether the browser has yet to be told
    """

    id: str
    staff: str | None = None
    new: bool = False


def visit_of(request: Request) -> Visit | None:
    """The visit in a request's cookie; None where there is none that is good."""
    found: Visit | None = getattr(request.state, "visit", None)
    if found is None and COOKIE in request.cookies:
        found = request.state.visit = _read(request, request.cookies[COOKIE])
    return found


def begin(request: Request, staff: str | None = None) -> Visit:
    """A new visit, which `remember` writes down; earlier ids and their forms are worth nothing."""
    request.state.visit = visit = Visit(token_urlsafe(_ID_BYTES), staff, new=True)
    return visit


def remember(request: Request, response: Response) -> None:
    """Tell the browser of a visit that is new."""
    visit = visit_of(request)
    if visit is None or not visit.new:
        return
    response.set_cookie(
        COOKIE,
        keys_of(request).sign({"id": visit.id, "staff": visit.staff}),
        max_age=LONGEST_S,
        httponly=True,
        samesite="lax",
        secure=request.url.scheme == "https",
    )


def forget(request: Request, response: Response) -> None:
    """The browser is nobody again."""
    secure = request.url.scheme == "https"
    response.delete_cookie(COOKIE, httponly=True, samesite="lax", secure=secure)


def _read(request: Request, text: str) -> Visit | None:
    said = keys_of(request).read(text, LONGEST_S)
    return None if said is None else Visit(said["id"], said["staff"])
