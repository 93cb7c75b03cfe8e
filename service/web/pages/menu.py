"""The menu insert: the list for guests, on paper."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import SpecStatus, list_specs
from service.counter.house_readings import spec_asked
from service.kit import ServiceError
from service.web.deps import BarLooked, LookHere
from service.web.pages.guest import GuestFacts, guest_facts, open_links
from service.web.pages.public_address import loopback_warning, public_address
from service.web.pages.rendering import page_answer

router = APIRouter()


@dataclass(frozen=True, slots=True)
class MenuLine:
    """One drink for guests; `code` is the picture of its address, where one is open."""

    name: str
    facts: GuestFacts
    code: str


@dataclass(frozen=True, slots=True)
class MenuPage:
    """All that is served."""

    bar: str
    lines: tuple[MenuLine, ...]
    left_out: tuple[str, ...]
    warning: str


@router.get("/menu", include_in_schema=False)
def menu(request: Request, bar: BarLooked, unit: LookHere) -> Response:
    """What is on the list, as it is poured tonight."""
    house, links = bar.house, open_links(unit)
    outside = public_address(request, house.settings)
    lines, left_out = [], []
    for spec in list_specs(unit, SpecStatus.LISTED):
        try:
            facts = guest_facts(house, spec_asked(unit, bar, spec.id))
        except ServiceError as error:
            left_out.append(f"{spec.name}: {error.message}")
            continue
        link = links.get(spec.id)
        lines.append(MenuLine(spec.name, facts, f"/g/{link.token}/code.svg" if link else ""))
    page = MenuPage(
        bar=", ".join(filter(None, (house.settings.name, house.settings.place))),
        lines=tuple(lines),
        left_out=tuple(left_out),
        warning=loopback_warning(outside) if links else "",
    )
    return page_answer(request, "menu.html", page, section="list")
