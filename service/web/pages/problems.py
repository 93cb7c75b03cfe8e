"""Faults as pages: the same words as the API's problem details, and where to go from there."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from service.web.pages.rendering import page_answer

Handler = Callable[[Request, Exception], Awaitable[Response]]
_NOT_PAGES = ("/api/", "/static/", "/pictures/")


@dataclass(frozen=True, slots=True)
class ProblemPage:
    """What went wrong, why, and which fields it is about."""

    title: str
    detail: str
    reasons: tuple[str, ...]


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


def _as_page(handler: Any) -> Handler:
    async def answer(request: Request, error: Exception) -> Response:
        problem: Response = await handler(request, error)
        if not wants_page(request):
            return problem
        page = problem_page(json.loads(bytes(problem.body)))
        return page_answer(request, "problem.html", page, section="", status=problem.status_code)

    return answer
