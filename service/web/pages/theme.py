"""The switch between dark and light, without a script: a form that sets a cookie."""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated, Final

from fastapi import APIRouter, Form
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from service.web.pages.frame import THEME_COOKIE, Theme, own_address

router = APIRouter()
_A_YEAR_S: Final = 365 * 24 * 3600


@router.post("/theme", include_in_schema=False)
async def choose(
    request: Request,
    theme: Annotated[Theme, Form()],
    back: Annotated[str, Form(max_length=4000)] = "/",
) -> Response:
    """Keep the choice and go back to the page it was made on."""
    answer = RedirectResponse(own_address(back), HTTPStatus.SEE_OTHER)
    answer.set_cookie(
        THEME_COOKIE,
        theme,
        max_age=_A_YEAR_S,
        samesite="lax",
        httponly=True,
        secure=request.url.scheme == "https",
    )
    return answer
