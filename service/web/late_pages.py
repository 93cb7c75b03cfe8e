"""The pages behind the API: they are imported when the first of them is asked for.

They are many modules, and a program that asks the API never needs one: so the first answer does
not wait for them.
"""

from __future__ import annotations

from typing import Final

from anyio import Lock
from fastapi import APIRouter, FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from service.web.pages import login, problems
from service.web.pages.assets import Assets

# What is never a page; an unknown address among these is told of without loading any.
_NOT_PAGES: Final = ("/api/", "/problems/", "/static/")


class LatePages:
    """Stands for every page; asked where no route of the application answers."""

    def __init__(self, otherwise: ASGIApp) -> None:
        self._otherwise = otherwise
        self._router: APIRouter | None = None
        self._loading = Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["path"].startswith(_NOT_PAGES):
            await self._otherwise(scope, receive, send)
            return
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
    app.router.default = LatePages(app.router.default)
    problems.install(app)
    login.install(app)


def _every_page() -> APIRouter:
    from service.web.pages.every import pages_router

    return pages_router()
