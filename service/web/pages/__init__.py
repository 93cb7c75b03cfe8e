"""The pages: one file per page with its route and the frozen record its template shows."""

from fastapi import Depends, FastAPI

from service.web.pages import (
    coffee,
    dataset,
    drink,
    ingredients,
    instead,
    login,
    pairings,
    patterns,
    pictures,
    problems,
    rescue,
    sources,
    spec,
    spec_list,
    spec_pictures,
    tell,
    theme,
)
from service.web.pages.assets import Assets
from service.web.security import form_checked

__all__ = ["install_pages"]

# Pages of the bar's records.
_RECORDS = (rescue, spec_list, spec, spec_pictures, tell)
_PAGES = (
    coffee,
    pairings,
    drink,
    instead,
    ingredients,
    dataset,
    sources,
    pictures,
    patterns,
    theme,
    login,
    *_RECORDS,
)


def install_pages(app: FastAPI) -> None:
    """Pages, their files, and faults told as pages; after the API and its faults.

    No page takes a form that does not bring its token along.
    """
    for page in _PAGES:
        app.include_router(page.router, dependencies=[Depends(form_checked)])
    app.mount("/static/{version}", Assets(), name="static")
    problems.install(app)
    login.install(app)
