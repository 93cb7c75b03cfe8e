"""Every form brings a token that only our own pages know (signed double submit).

The token belongs to the visit in the browser's cookie, which no page and no other site can read.
(OWASP Cross-Site Request Forgery Prevention Cheat Sheet, "Signed Double-Submit Cookie".)
"""

from __future__ import annotations

from hmac import compare_digest
from http import HTTPStatus
from typing import Final

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request

from service.web.limits import LARGEST_IMPORT
from service.web.security.keys import keys_of
from service.web.security.visits import begin, visit_of

FIELD: Final = "csrf"
HEADER: Final = "X-CSRF-Token"
READING: Final = frozenset({"GET", "HEAD", "OPTIONS"})
_REFUSAL: Final = (
    "this form did not come from one of our pages, or the page is too old; nothing was changed. "
    "Open the page again and send it once more"
)


class FormToken:
    """The token of a request's visit, made when a template writes it: no form, no cookie."""

    def __init__(self, request: Request) -> None:
        self.request = request

    def __str__(self) -> str:
        visit = visit_of(self.request) or begin(self.request)
        return keys_of(self.request).form_token(visit.id)


async def form_checked(request: Request) -> None:
    """Refuses a form without the token of its visit; a script may bring it in a header."""
    if request.method in READING:
        return
    given = request.headers.get(HEADER) or (await form_of(request)).get(FIELD)
    visit = visit_of(request)
    wanted = keys_of(request).form_token(visit.id) if visit is not None else ""
    if not wanted or not isinstance(given, str) or not _alike(given, wanted):
        request.state.refused_form = await form_of(request)
        raise HTTPException(HTTPStatus.FORBIDDEN, _REFUSAL)


def refused_form(request: Request) -> FormData:
    """The form that `form_checked` refused, so that the answer can give its text back; else none.

    A page that lay open over a restart or a night brings an old token, and a spec was typed there.
    """
    form: FormData = getattr(request.state, "refused_form", FormData())
    return form


async def form_of(request: Request) -> FormData:
    """The form, which is remembered for whoever asks after. Pasted rows come as one field, so one
    field may be as large as a whole request."""
    return await request.form(max_part_size=LARGEST_IMPORT)


def _alike(given: str, wanted: str) -> bool:
    return given.isascii() and compare_digest(given, wanted)
