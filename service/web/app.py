"""The HTTP service: records, routes, errors and the door put together."""

from __future__ import annotations

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing

from anyio import CapacityLimiter
from fastapi import FastAPI
from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp

from service.bar import load_demo, open_bar
from service.counter.known import Known, load_known
from service.counter.this_bar import BarMemory
from service.settings import Settings, check_reach, read_settings
from service.web import errors, problem_kinds
from service.web.api import document
from service.web.api.v1 import router as api_v1
from service.web.deps import UNITS_AT_ONCE
from service.web.late_pages import install_pages
from service.web.limits import BodyLimit
from service.web.remembered import Remembered
from service.web.security import Door, EndedVisits, Keys, KnownHosts, SecurityHeaders

DESCRIPTION = (
    "What goes with a coffee, and whether the drink is still in balance after it was poured "
    "through the grounds. Numbers are estimates with their sources; laws and licences come first."
)


class Service(FastAPI):
    """Every answer leaves with the security headers, also that of a fault."""

    def build_middleware_stack(self) -> ASGIApp:
        return SecurityHeaders(super().build_middleware_stack())


def create_app(settings: Settings | None = None, known: Known | None = None) -> FastAPI:
    """The application. Everything it needs from the dataset is loaded here, once; the records are
    opened when it starts. BadData where it could be reached by others without a passphrase."""
    settings = settings or read_settings()
    check_reach(settings)
    app = Service(
        title="Marc & Measure",
        version="1",
        description=DESCRIPTION,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/v1/openapi.json",
        lifespan=_lifespan,
    )
    app.state.settings = settings
    app.state.keys = Keys.of(settings)
    app.state.known = known or load_known()
    app.state.remembered = Remembered()
    app.state.memory = BarMemory()
    app.state.ended = EndedVisits()
    errors.install(app)
    app.add_middleware(BodyLimit)
    app.add_middleware(Door)
    app.add_middleware(KnownHosts, settings=settings)
    app.include_router(api_v1, prefix="/api/v1")
    app.include_router(problem_kinds.router)
    document.install(app)
    install_pages(app)
    return app


@asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    """Open the records, bring them up to date, fill them with the demo where asked and empty."""
    settings: Settings = app.state.settings
    with closing(await run_in_threadpool(open_bar, settings.database_url)) as bar:
        if settings.demo:
            await run_in_threadpool(load_demo, bar, app.state.known.catalogue)
        app.state.bar = bar
        app.state.places = CapacityLimiter(UNITS_AT_ONCE)
        # What was loaded stays for good; the collector need not go through it again and again.
        gc.freeze()
        yield
