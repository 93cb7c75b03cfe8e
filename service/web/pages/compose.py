"""Brainstorm, whole: the best drinks of this shelf for a coffee, with amounts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Units
from service.counter.compose import (
    ComposeAnswer,
    ComposedDrink,
    ComposeQuestion,
)
from service.counter.this_bar import ThisBar, composed
from service.ingredients.records import Role
from service.kit import ServiceError
from service.kit.jigger import JiggerStep
from service.recommend.compose import Measures
from service.web.deps import BarLooked, MemoryHere
from service.web.pages.amounts import UNIT_WORDS, in_unit
from service.web.pages.bar_words import EVERYTHING, FROM, BarLine, bar_lines, wants_shelf
from service.web.pages.coffee import coffee_page
from service.web.pages.coffee_form import (
    CoffeeAsked,
    CoffeeForm,
    address,
    coffee_asked,
    coffee_fields,
)
from service.web.pages.house import amount_words
from service.web.pages.pieces import VerdictMark
from service.web.pages.rendering import page_answer
from service.web.pages.telling import number, verdict_mark

router = APIRouter()
DRINKS: Final = 8
NARROW_SPACE: Final = "\u202f"


@dataclass(frozen=True, slots=True)
class DrinkCard:
    """One drink: what is poured, whether it balances, and where to go on with it."""

    title: str
    lines: tuple[str, ...]
    verdict: VerdictMark
    glass: str
    address: str


@dataclass(frozen=True, slots=True)
class ComposePage:
    """The drinks of a coffee and a shelf, and how it is known that none is better."""

    coffee: CoffeeForm
    profile: str
    fields: tuple[tuple[str, str], ...]
    drinks: tuple[DrinkCard, ...]
    shelf: str
    proof: str
    other_shelf: str
    other_address: str
    error: str
    pairings_address: str
    kept: tuple[tuple[str, str], ...]
    learnt: tuple[BarLine, ...]


@router.get("/compose", include_in_schema=False)
def whole_drinks(request: Request, bar: BarLooked, memory: MemoryHere) -> Response:
    """The best drinks from what stands on the shelf, or from every bottle known."""
    asked = coffee_asked(request.query_params)
    if asked.errors:
        return coffee_page(request, asked)
    house = bar.house
    everything = not wants_shelf(bar, request.query_params)
    question = ComposeQuestion(
        coffee=asked.coffee,
        limit=DRINKS,
        measures=Measures(step=JiggerStep(house.settings.lattice)),
        country=house.settings.country,
    )
    try:
        wanted = composed(question, bar, on_shelf=not everything)
        answer: ComposeAnswer | None = memory.compose(bar.known_of(asked.coffee), wanted)
        error = ""
    except ServiceError as refused:
        answer, error = None, refused.message
    page = _page(asked, bar, answer, everything=everything, error=error)
    return page_answer(request, "compose.html", page, section="coffee")


def _page(
    asked: CoffeeAsked,
    bar: ThisBar,
    answer: ComposeAnswer | None,
    *,
    everything: bool,
    error: str,
) -> ComposePage:
    fields = coffee_fields(asked.coffee)
    shelf = [] if everything else [(FROM, EVERYTHING)]
    kept = [(FROM, EVERYTHING)] if everything and bar.standing else []
    drinks = () if answer is None else answer.drinks
    house = bar.house
    return ComposePage(
        coffee=asked.form,
        profile=asked.coffee.profile.name,
        fields=tuple(fields),
        drinks=tuple(_card(drink, fields, house.settings.units) for drink in drinks),
        shelf="every bottle of the dataset" if everything else "what stands on your shelf",
        proof="" if answer is None else _proof(answer),
        other_shelf="What stands on my shelf" if everything else "Every bottle there is",
        other_address=address("/compose", [*fields, *shelf]) if house.standing else "",
        error=error,
        pairings_address=address("/pairings", [*fields, *kept]),
        kept=tuple(kept),
        learnt=bar_lines(bar, asked.coffee, ranked=True),
    )


def _card(drink: ComposedDrink, fields: list[tuple[str, str]], units: Units) -> DrinkCard:
    pours = drink.composed.drink.pours
    after = drink.measured.reading.after
    poured = [("pour", f"{p.ingredient.id}={p.volume_ml:.6g}ml") for p in pours]
    bottles = [p.ingredient.name for p in pours if p.ingredient.role in (Role.BASE, Role.MODIFIER)]
    return DrinkCard(
        title=" with ".join([bottles[0], " and ".join(bottles[1:])]),
        lines=tuple(
            f"{amount_words(p.ingredient, p.volume_ml, units)} {p.ingredient.name}" for p in pours
        ),
        verdict=verdict_mark(drink.measured.reading.balance_after),
        glass=(
            f"{number(in_unit(after.volume_ml, units).mid, 2)} {UNIT_WORDS[units]} in the glass, "
            f"{number(after.abv.mid * 100, 2)} % vol, "
            f"about {number(after.caffeine_mg.mid, 2)} mg of caffeine"
        ),
        address=address("/drink", [*poured, *fields]),
    )


def _proof(answer: ComposeAnswer) -> str:
    proof = answer.composition.certificate
    possible = f"{proof.candidates:,}".replace(",", NARROW_SPACE)
    best = "these are proved to be" if proof.proved else "when time was up, these were"
    return (
        f"{possible} drinks were possible; {best} the best of them, "
        "no two with the same base and modifier."
    )
