"""Faults as pages: the same words as the API's problem details, and where to go from there."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace
from typing import Any, Final

from fastapi import FastAPI
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from service.web.pages.rendering import page_answer
from service.web.security import FIELD, refused_form

Handler = Callable[[Request, Exception], Awaitable[Response]]
_NOT_PAGES = ("/api/", "/static/", "/pictures/")
_NEVER_SHOWN: Final = frozenset({FIELD, "version", "passphrase", "back", "theme"})
_LONGEST_SHOWN: Final = 100_000  # characters; what is longer came out of a file


@dataclass(frozen=True, slots=True)
class ProblemPage:
    """What went wrong, why, and which fields it is about; and what was typed, where it would be
    lost: each field's words and its text."""

    title: str
    detail: str
    reasons: tuple[str, ...]
    typed: tuple[tuple[str, str], ...] = ()


def install(app: FastAPI) -> None:
    """Wrap each handler of a fault, so that a browser gets a page that says the same."""
    for kind, handler in list(app.exception_handlers.items()):
        app.add_exception_handler(kind, _as_page(handler))


def wants_page(request: Request) -> bool:
    """Whether a person in a browser asks, and not a program."""
    in_browser = "text/html" in request.headers.get("accept", "")
    return in_browser and not request.url.path.startswith(_NOT_PAGES)


def problem_page(body: dict[str, Any]) -> ProblemPage:
    """The page of one problem-details body."""
    reasons = [f"{e['field']}: {e['reason']}" for e in body.get("errors", [])]
    detail = str(body["detail"])
    if detail == body["title"]:
        detail = "There is no page at this address. Go on from one of the places below."
    return ProblemPage(
        title=str(body["title"]),
        detail=detail[:1].upper() + detail[1:],
        reasons=tuple(reasons) if len(reasons) > 1 else (),
    )


def typed_in(form: FormData) -> tuple[tuple[str, str], ...]:
    """What a person typed into a form that was refused, to be copied; secrets are left out."""
    return tuple(
        (name.replace("_", " "), value)
        for name, value in form.multi_items()
        if isinstance(value, str)
        and name not in _NEVER_SHOWN
        and 0 < len(value.strip()) <= _LONGEST_SHOWN
    )


def _as_page(handler: Any) -> Handler:
    async def answer(request: Request, error: Exception) -> Response:
        problem: Response = await handler(request, error)
        if not wants_page(request):
            return problem
        page = problem_page(json.loads(bytes(problem.body)))
        page = replace(page, typed=typed_in(refused_form(request)))
        return page_answer(request, "problem.html", page, section="", status=problem.status_code)

    return answer
