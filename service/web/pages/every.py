"""Every page in one router; importing this imports them all."""

from fastapi import APIRouter, Depends

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
    reach,
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
from service.web.security import form_checked

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
PAGES = (
    coffee,
    pairings,
    compose,
    drink,
    instead,
    reach,
    ingredients,
    dataset,
    sources,
    pictures,
    patterns,
    theme,
    login,
    *_RECORDS,
)


def pages_router() -> APIRouter:
    """All pages. No page takes a form that does not bring its token along."""
    router = APIRouter()
    for page in PAGES:
        router.include_router(page.router, dependencies=[Depends(form_checked)])
    return router
