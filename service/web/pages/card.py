"""Paper for the staff: the card of a drink as it is poured tonight."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Units
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked, spec_asked
from service.kit import Interval
from service.web.deps import BarLooked, LookHere
from service.web.pages.amounts import volume_told
from service.web.pages.guest import GuestFacts, guest_facts
from service.web.pages.house import poured_words
from service.web.pages.rendering import page_answer
from service.web.pages.spec import PourLine
from service.web.pages.telling import number, range_words

router = APIRouter()


@dataclass(frozen=True, slots=True)
class CardPage:
    """Everything that whoever makes the drink has to know."""

    id: int
    name: str
    bar: str
    version: str
    night: str
    tonight: str
    pours: tuple[PourLine, ...]
    steps: tuple[str, ...]
    glass: str
    garnish: str
    method: str
    facts: GuestFacts
    marks: tuple[tuple[str, str], ...]


@router.get("/list/{spec_id:int}/card", include_in_schema=False)
def card(request: Request, bar: BarLooked, unit: LookHere, spec_id: int) -> Response:
    """The card, as it is made tonight."""
    page = card_page(bar.house, spec_asked(unit, bar, spec_id))
    return page_answer(request, "card.html", page, section="list")


def card_page(house: House, asked: SpecAsked) -> CardPage:
    """Everything that the card says."""
    spec, tonight = asked.spec, asked.sheet.substitution
    return CardPage(
        id=spec.id,
        name=spec.name,
        bar=", ".join(filter(None, (house.settings.name, house.settings.place))),
        version=f"version {spec.revision} of {spec.written_at:%-d %B %Y}",
        night=house.night.strftime("%A, %-d %B %Y"),
        tonight="" if tonight is None else house.name_of(tonight.ingredient_out),
        pours=tuple(
            PourLine(poured_words(house, pour), house.name_of(pour.ingredient), "")
            for pour in asked.sheet.pours
        ),
        steps=tuple(_steps(asked)),
        glass=spec.glass,
        garnish=spec.garnish,
        method=spec.method,
        facts=guest_facts(house, asked),
        marks=tuple(_marks(asked, house.settings.units)),
    )


def _steps(asked: SpecAsked) -> list[str]:
    spec, coffee = asked.spec, asked.coffee
    seconds = spec.preparation.get("seconds", 30)
    steps = [f"Stir over wet cubes for {seconds:g} s and strain."]
    if coffee is not None:
        name = "the coffee" if asked.kept is None else asked.kept.name
        grind = str(coffee.grind).replace("-", " ")
        steps += [
            f"Rinse a paper filter. Put in {coffee.dose_g:g} g of {name}, {grind}.",
            "Pour slowly, from the middle outwards. Throw the bed away after one use.",
        ]
    return steps


def _marks(asked: SpecAsked, units: Units) -> list[tuple[str, str]]:
    """What it should come to, so that a slip is seen."""
    reading = asked.measured().reading
    found = [("in the glass", volume_told(reading.after.volume_ml, units))]
    if asked.coffee is not None:
        found.append(("drains in", _told(reading.drain_seconds, "s")))
    return found


def _told(interval: Interval, unit: str) -> str:
    return f"{number(interval.mid, 2)} {unit} ({range_words(interval)})"
