"""The pages behind the API: they are imported when the first of them is asked for.

There are fifty modules of them, and a program that asks the API never needs one: so the first
answer does not wait for them.
"""

from __future__ import annotations

from typing import Final

from anyio import Lock
from fastapi import APIRouter, FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.routing import BaseRoute, Match
from starlette.types import Receive, Scope, Send

from service.web.pages import login, problems
from service.web.pages.assets import Assets

# What is never a page; an unknown address among these is told of without loading any.
_NOT_PAGES: Final = ("/api/", "/problems/", "/static/")


class LatePages(BaseRoute):
    """Stands for every page at the end of the routes."""

    def __init__(self) -> None:
        self._router: APIRouter | None = None
        self._loading = Lock()

    def matches(self, scope: Scope) -> tuple[Match, Scope]:
        if scope["type"] != "http" or scope["path"].startswith(_NOT_PAGES):
            return Match.NONE, {}
        return Match.FULL, {}

    async def handle(self, scope: Scope, receive: Receive, send: Send) -> None:
        router = self._router or await self._load()
        await router(scope, receive, send)

    async def _load(self) -> APIRouter:
        async with self._loading:
            # In a thread, so that others are answered meanwhile.
            router = self._router
            if router is None:
                router = self._router = await run_in_threadpool(_every_page)
        return router


def install_pages(app: FastAPI) -> None:
    """Pages, their files, and faults told as pages; after the API and its faults."""
    app.mount("/static/{version}", Assets(), name="static")
    app.router.routes.append(LatePages())
    problems.install(app)
    login.install(app)


def _every_page() -> APIRouter:
    from service.web.pages.every import pages_router

    return pages_router()
