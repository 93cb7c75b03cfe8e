"""Templates and what they are given: one frozen record per page, shown by one template."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from service.web.pages.frame import frame_of
from service.web.security import remember

TEMPLATES: Final = Path(__file__).parent.parent / "templates"
# A page depends on the theme and the visit, both in cookies.
HEADERS: Final[Mapping[str, str]] = {"Vary": "Cookie"}


def templates(folder: Path = TEMPLATES) -> Environment:
    """The templates; a name that a page does not hold is a fault, not an empty place."""
    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


_TEMPLATES: Final = templates()


def rendered(template: str, frame: Any, page: Any) -> str:
    """One page as text."""
    return _TEMPLATES.get_template(template).render(frame=frame, page=page)


def page_answer(
    request: Request,
    template: str,
    page: Any,
    *,
    section: str,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """A page as an answer. `page` is the frozen record that `template` shows."""
    text = rendered(template, frame_of(request, section), page)
    answer = HTMLResponse(text, status, {**HEADERS, **(headers or {})})
    remember(request, answer)
    return answer
