"""The guest's page: public, read-only, at an address that nobody guesses. It says what is in the
drink and why, and nothing of cost, stock, notes or staff."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    GuestLink,
    Unit,
    guest_spec,
    list_guest_links,
    make_guest_link,
    read_bar_settings,
    read_spec,
    revoke_guest_link,
)
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked, spec_asked
from service.drink import DEFAULT_COUNTRY, STANDARD_DRINK_G, Level, State, standard_drinks
from service.web.deps import BarLooked, LookHere, UnitHere
from service.web.pages.house import FormHere, go_to, texts_of, whole
from service.web.pages.public_address import loopback_warning, public_address
from service.web.pages.rendering import page_answer
from service.web.pages.tell import sentences
from service.web.pages.telling import listed, number, range_words

router = APIRouter()
_QR_SCALE: Final = 8
_SAID_OTHERWISE: Final = ("allergen-", "alcohol", "caffeine", "coffee-filter", "local-law")


@dataclass(frozen=True, slots=True)
class GuestFacts:
    """What a guest may know of a drink."""

    sentence: tuple[str, ...]
    holds: str
    coffee: str
    allergens: str
    alcohol: str
    caffeine: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GuestPage:
    """One drink for a guest."""

    name: str
    bar: str
    facts: GuestFacts


@dataclass(frozen=True, slots=True)
class LinkLine:
    """One open address, and the picture of it."""

    id: int
    address: str
    path: str
    code: str
    since: str


@dataclass(frozen=True, slots=True)
class GuestLinksPage:
    """The open addresses of one drink, for the staff."""

    id: int
    name: str
    links: tuple[LinkLine, ...]
    warning: str


@router.get("/g/{token}", include_in_schema=False)
def for_guests(request: Request, bar: BarLooked, unit: LookHere, token: str) -> Response:
    """The page that the code on the menu leads to."""
    house = bar.house
    asked = spec_asked(unit, bar, guest_spec(unit, token).id)
    page = GuestPage(
        name=asked.spec.name,
        bar=", ".join(filter(None, (house.settings.name, house.settings.place))),
        facts=guest_facts(house, asked),
    )
    return page_answer(request, "guest.html", page, section="")


@router.get("/g/{token}/code.svg", include_in_schema=False)
def code(request: Request, unit: LookHere, token: str) -> Response:
    """The address as a square to be photographed (ISO/IEC 18004)."""
    import segno  # only here: no other page draws one

    guest_spec(unit, token)
    drawn = io.BytesIO()
    address = f"{public_address(request, read_bar_settings(unit))}/g/{token}"
    segno.make(address, error="m", micro=False).save(
        drawn, kind="svg", scale=_QR_SCALE, border=4, light="#ffffff", xmldecl=False
    )
    return Response(drawn.getvalue(), media_type="image/svg+xml")


@router.get("/list/{spec_id:int}/guests", include_in_schema=False)
def links(request: Request, unit: LookHere, spec_id: int) -> Response:
    """The drink's open addresses."""
    spec = read_spec(unit, spec_id)
    outside = public_address(request, read_bar_settings(unit))
    page = GuestLinksPage(
        id=spec.id,
        name=spec.name,
        links=tuple(_link(outside, link) for link in list_guest_links(unit, spec_id)),
        warning=loopback_warning(outside),
    )
    return page_answer(request, "guest_links.html", page, section="list")


@router.post("/list/{spec_id:int}/guests", include_in_schema=False)
def open_or_close(unit: UnitHere, form: FormHere, spec_id: int) -> Response:
    """A new address, or one that leads nowhere from now on."""
    given = texts_of(form)
    if "close" in given:
        revoke_guest_link(unit, whole(given["close"], "close"))
    else:
        make_guest_link(unit, spec_id)
    return go_to(f"/list/{spec_id}/guests")


def guest_facts(house: House, asked: SpecAsked) -> GuestFacts:
    """What a guest may know: names of what is in it, never how much of each."""
    reading, known = asked.measured().reading, asked.known
    ingredients = [known.catalogue.ingredients[p.ingredient] for p in asked.sheet.pours]
    allergens = sorted({a for i in ingredients for a in i.allergens})
    return GuestFacts(
        sentence=sentences(asked.explained().guest),
        holds=listed(i.name for i in ingredients),
        coffee="" if asked.kept is None else asked.kept.name,
        allergens=listed(allergens),
        alcohol=_alcohol(house, reading.after),
        caffeine="" if reading.after.caffeine_mg.high < 1.0
        else f"about {reading.after.caffeine_mg.mid:.0f} mg "
        f"({range_words(reading.after.caffeine_mg)})",
        cautions=tuple(
            c.message
            for c in reading.cautions
            if c.level is not Level.NOTE and not c.code.startswith(_SAID_OTHERWISE)
        ),
    )  # fmt: skip


def open_links(unit: Unit) -> dict[int, GuestLink]:
    """For each spec its oldest open address."""
    found: dict[int, GuestLink] = {}
    for link in list_guest_links(unit):
        found.setdefault(link.spec_id, link)
    return found


def _alcohol(house: House, after: State) -> str:
    country = house.settings.country
    country = country if country in STANDARD_DRINK_G else DEFAULT_COUNTRY
    drinks = standard_drinks(after.ethanol_g.mid, country)
    return (
        f"about {number(after.abv.mid * 100, 2)} % vol, {after.ethanol_g.mid:.0f} g: "
        f"{drinks:.1f} standard drinks ({country})"
    )


def _link(outside: str, link: GuestLink) -> LinkLine:
    return LinkLine(
        id=link.id,
        address=f"{outside}/g/{link.token}",
        path=f"/g/{link.token}",
        code=f"/g/{link.token}/code.svg",
        since=f"{link.made_at:%-d %B %Y}",
    )
