"""Brainstorm: what suits this coffee, in three columns that become a drink by tapping."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import OWN_SOURCE, Units
from service.counter.known import Known
from service.counter.standard import StandardReading
from service.counter.suggest import Pairings, Question, Suggestion, pairings
from service.counter.this_bar import ThisBar, suggested
from service.drink import Level
from service.ingredients.records import Ingredient, Role
from service.kit import ServiceError
from service.taste import AXES, Verdict
from service.web.deps import BarLooked
from service.web.pages.amounts import build_words, ingredient_address, remedy_words
from service.web.pages.bar_words import (
    EVERYTHING,
    FROM,
    BarLine,
    ShelfSwitch,
    bar_lines,
    shelf_switch,
    wants_shelf,
)
from service.web.pages.coffee import coffee_page
from service.web.pages.coffee_form import (
    CoffeeAsked,
    CoffeeForm,
    address,
    coffee_asked,
    coffee_fields,
    read_number,
)
from service.web.pages.pieces import ConfidenceMark, GradeMark, ReasonLine, TasteCheck, VerdictMark
from service.web.pages.read_back import ReadBack, read_back
from service.web.pages.rendering import page_answer
from service.web.pages.telling import (
    confidence_mark,
    grade_mark,
    listed,
    middle_words,
    number,
    taste_check,
    verdict_mark,
)
from service.web.pages.why import reason_lines, why

router = APIRouter()
FEW, MANY = 5, 12
TRIED, BETWEEN, NEW = 0.0, 0.5, 1.0
# A liking that more answers may well turn round.
_WORTH_SAYING: Final = 0.05
_TITLES: Final = {Role.BASE: "Bases", Role.MODIFIER: "Modifiers", Role.BITTERS: "Bitters"}


@dataclass(frozen=True, slots=True)
class SuggestionCard:
    """One suggestion: what, whether it balances, why, how well that is known.

    own : how well the bar's own ingredient is known; None for one of the dataset
    lacking : that it cannot be poured here tonight; liked : what the house said of it
    """

    id: str
    name: str
    picked: bool
    verdict: VerdictMark
    sweetness: TasteCheck
    bitterness: TasteCheck
    why: str
    remedy: str
    mind: str
    confidence: ConfidenceMark
    score: str
    reasons: tuple[ReasonLine, ...]
    build: str
    strength: str
    address: str
    own: GradeMark | None = None
    lacking: str = ""
    liked: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """The suggestions of one role. Of bitters several may be picked.

    ticked : why another than the first is ticked, or one that is out of balance
    empty : why there are no suggestions
    """

    role: str
    title: str
    several: bool
    cards: tuple[SuggestionCard, ...]
    more_address: str
    ticked: str
    empty: str


@dataclass(frozen=True, slots=True)
class PairingsPage:
    """The coffee as it was understood, and what suits it."""

    coffee: CoffeeForm
    read_back: ReadBack
    fields: tuple[tuple[str, str], ...]
    novelty: str
    columns: tuple[Column, ...]
    weights: str
    middle: str
    coffee_address: str
    compose_address: str
    switch: ShelfSwitch | None
    kept: tuple[tuple[str, str], ...]
    learnt: tuple[BarLine, ...]


@router.get("/pairings", include_in_schema=False)
def what_suits(request: Request, bar: BarLooked) -> Response:
    """The ranked columns; where the coffee cannot be read, its form with what was wrong."""
    asked = coffee_asked(request.query_params)
    if asked.errors:
        return coffee_page(request, asked)
    given = request.query_params.get("novelty", "")
    shown = request.query_params.get("show", "")
    try:
        novelty = read_number(given, "novelty", BETWEEN, TRIED, NEW, "")
        question = Question(asked.coffee, limit=MANY if shown else FEW, novelty=novelty)
        on_shelf = wants_shelf(bar, request.query_params)
        known = bar.known_of(asked.coffee)
        answer = pairings(known, suggested(question, bar, on_shelf=on_shelf))
    except ServiceError as error:
        return coffee_page(request, asked.with_error(error))
    page = pairings_page(bar, known, asked, answer, novelty, shown, on_shelf=on_shelf)
    return page_answer(request, "pairings.html", page, section="coffee")


def pairings_page(
    bar: ThisBar,
    known: Known,
    asked: CoffeeAsked,
    answer: Pairings,
    novelty: float,
    shown: str,
    *,
    on_shelf: bool,
) -> PairingsPage:
    """Everything that the page says; of one role, `shown`, more than of the others."""
    fields = coffee_fields(asked.coffee)
    others = [("novelty", f"{novelty:g}")] if novelty != BETWEEN else []
    weights = answer.weights
    switch = shelf_switch(bar, "/pairings", [*fields, *others], on_shelf=on_shelf)
    kept = [] if on_shelf or switch is None else [(FROM, EVERYTHING)]
    others = [*others, *kept]
    return PairingsPage(
        coffee=asked.form,
        read_back=read_back(known, answer.coffee, "/pairings", others),
        fields=tuple(fields),
        novelty=f"{novelty:g}",
        columns=tuple(
            _column(bar, known, role, found, [*fields, *others], long=shown == str(role))
            for role, found in answer.suggestions.items()
        ),
        weights=(
            f"echo {number(weights.echo, 2)}, bridge {number(weights.bridge, 2)}, contrast "
            f"{number(weights.contrast, 2)}, custom {number(weights.custom_in_force, 2)}; "
            f"dataset {known.catalogue.version}"
        ),
        middle=middle_words(known.band),
        coffee_address=address("/", fields),
        compose_address=address("/compose", fields),
        switch=switch,
        kept=tuple(kept),
        learnt=bar_lines(bar, asked.coffee, ranked=True),
    )


def _column(
    bar: ThisBar,
    known: Known,
    role: Role,
    found: Sequence[Suggestion],
    fields: list[tuple[str, str]],
    *,
    long: bool,
) -> Column:
    cards = found if long else found[:FEW]
    ticked = ticked_of(cards)
    more = address("/pairings", [*fields, ("show", str(role))])
    return Column(
        role=str(role),
        title=_TITLES[role],
        several=role is Role.BITTERS,
        cards=tuple(_card(bar, known, s, ticked=n == ticked) for n, s in enumerate(cards)),
        more_address="" if long or not found else f"{more}#{role}",
        ticked=ticked_words(cards, ticked),
        empty="" if found else f"No {_TITLES[role].lower()} stand on the shelf.",
    )


def ticked_of(cards: Sequence[Suggestion]) -> int:
    """Which one is ticked: the highest that is in balance, else on the edge, else the first."""
    verdicts = [card.standard.reading.verdict for card in cards]
    wanted = (v for v in (Verdict.INSIDE, Verdict.EDGE) if v in verdicts)
    return next((verdicts.index(verdict) for verdict in wanted), 0)


def ticked_words(cards: Sequence[Suggestion], ticked: int) -> str:
    if not cards:
        return ""
    name, verdict = cards[ticked].ingredient.name, cards[ticked].standard.reading.verdict
    if verdict is Verdict.INSIDE:
        return f"Ticked: {name}, the first of these in balance as it is." if ticked else ""
    if verdict is Verdict.EDGE:
        return f"None of these is in balance as it is. Ticked: {name}, on the edge of it."
    return f"None of these is in balance as it is. Ticked: {name}, which suits the coffee best."


def _card(bar: ThisBar, known: Known, suggestion: Suggestion, *, ticked: bool) -> SuggestionCard:
    ingredient, standard = suggestion.ingredient, suggestion.standard
    catalogue, reading = known.catalogue, standard.reading
    own = OWN_SOURCE.id in ingredient.sources
    sweet, bitter = (float(known.band.spread[AXES.index(t)]) for t in ("sweet", "bitter"))
    return SuggestionCard(
        id=ingredient.id,
        name=ingredient.name,
        picked=ticked,
        verdict=verdict_mark(reading.balance_after),
        sweetness=taste_check(standard.sweetness, sweet),
        bitterness=taste_check(standard.bitterness, bitter),
        why=why(known, suggestion.affinity),
        remedy=_remedy(known, standard, bar.house.settings.units),
        mind=_mind(ingredient, standard),
        confidence=confidence_mark(suggestion.affinity.confidence),
        score=number(suggestion.affinity.score, 3),
        reasons=reason_lines(catalogue, suggestion.affinity),
        build=build_words(
            tuple((p.ingredient, p.volume_ml) for p in standard.drink.pours),
            bar.house.settings.units,
        ),
        strength=_strength(standard),
        address=ingredient_address(ingredient),
        own=grade_mark(str(ingredient.grade)) if own else None,
        lacking=_lacking(bar, ingredient),
        liked=_liked(suggestion),
    )


def _lacking(bar: ThisBar, ingredient: Ingredient) -> str:
    if not bar.standing or ingredient.id in bar.standing:
        return ""
    return "Out tonight." if ingredient.id in bar.house.lacking else "Not on the shelf."


def _liked(suggestion: Suggestion) -> str:
    liking = suggestion.liking or 0.0
    if abs(liking) < _WORTH_SAYING:
        return ""
    return f"This house has {'liked' if liking > 0 else 'not liked'} drinks with it."


def _remedy(known: Known, standard: StandardReading, units: Units) -> str:
    remedies = standard.reading.remedies
    return remedy_words(remedies[0], known.catalogue.ingredients, units) if remedies else ""


def _mind(ingredient: Ingredient, standard: StandardReading) -> str:
    """The bottle's own allergens, and whatever forbids the build."""
    allergens = sorted(ingredient.allergens)
    stops = [c.message for c in standard.reading.cautions if c.level is Level.STOP]
    may = f"May contain {listed(allergens)}." if allergens else ""
    return " ".join(filter(None, [may, *stops]))


def _strength(standard: StandardReading) -> str:
    before, after = standard.reading.before.abv, standard.reading.after.abv
    return f"{before.mid:.1%} vol before the coffee, {after.mid:.1%} after".replace("%", " %")
