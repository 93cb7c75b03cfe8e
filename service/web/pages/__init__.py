"""The pages: one file per page with its route and the frozen record its template shows."""

from fastapi import Depends, FastAPI

from service.web.pages import (
    batch,
    blind_tests,
    card,
    coffee,
    coffees,
    compose,
    dataset,
    drink,
    guest,
    ingredients,
    instead,
    learning,
    login,
    menu,
    own,
    pairings,
    patterns,
    pictures,
    problems,
    rescue,
    settings,
    shelf,
    shelf_bottle,
    shopping,
    sources,
    spec,
    spec_edit,
    spec_list,
    spec_pictures,
    spec_versions,
    tell,
    theme,
    trial,
)
from service.web.pages.assets import Assets
from service.web.security import form_checked

__all__ = ["install_pages"]

# Pages of the bar's records.
_RECORDS = (
    rescue,
    spec_list,
    spec_edit,
    spec,
    spec_versions,
    spec_pictures,
    tell,
    trial,
    learning,
    shelf,
    shelf_bottle,
    coffees,
    batch,
    card,
    guest,
    menu,
    shopping,
    settings,
    own,
    blind_tests,
)
_PAGES = (
    coffee,
    pairings,
    compose,
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
