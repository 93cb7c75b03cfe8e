"""The HTTP service: routes, errors and limits put together."""

from __future__ import annotations

from fastapi import FastAPI

from service.counter.known import Known, load_known
from service.settings import Settings, read_settings
from service.web import errors, problem_kinds
from service.web.api import document
from service.web.api.v1 import router as api_v1
from service.web.limits import BodyLimit
from service.web.pages import install_pages

DESCRIPTION = (
    "What goes with a coffee, and whether the drink is still in balance after it was poured "
    "through the grounds. Numbers are estimates with their sources; laws and licences come first."
)


def create_app(settings: Settings | None = None, known: Known | None = None) -> FastAPI:
    """The application. Everything it needs from the dataset is loaded here, once."""
    settings = settings or read_settings()
    app = FastAPI(
        title="Marc & Measure",
        version="1",
        description=DESCRIPTION,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/v1/openapi.json",
    )
    app.state.settings = settings
    app.state.known = known or load_known()
    errors.install(app)
    app.add_middleware(BodyLimit)
    app.include_router(api_v1, prefix="/api/v1")
    app.include_router(problem_kinds.router)
    document.install(app)
    install_pages(app)
    return app
