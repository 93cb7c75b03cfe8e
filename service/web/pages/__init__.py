"""The pages: one file per page with its route and the frozen record its template shows."""

from fastapi import FastAPI

from service.web.pages import (
    coffee,
    dataset,
    drink,
    ingredients,
    pairings,
    patterns,
    pictures,
    problems,
    sources,
    theme,
)
from service.web.pages.assets import Assets

__all__ = ["install_pages"]

_PAGES = (coffee, pairings, drink, ingredients, dataset, sources, pictures, patterns, theme)


def install_pages(app: FastAPI) -> None:
    """Pages, their files, and faults told as pages; after the API and its faults."""
    for page in _PAGES:
        app.include_router(page.router)
    app.mount("/static/{version}", Assets(), name="static")
    problems.install(app)
