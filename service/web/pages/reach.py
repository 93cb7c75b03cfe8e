"""Backwards: a strength or a volume that the glass shall have, and three ways to it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Units
from service.counter.known import Known
from service.counter.reach import Backwards, Found, Made, ReachQuestion, backwards
from service.counter.reach_json import (
    BAR_DIGITS,
    Volumes,
    exact_words,
    target_words,
    way_words,
)
from service.drink import LEAST_ABV, MOST_ABV, Level, Missed, State, Target, Way
from service.ingredients.records import Ingredient
from service.kit import BadData, ServiceError
from service.kit.units import ml_per, parse_volume_ml
from service.web.deps import ThisBarHere
from service.web.pages.amounts import UNIT_WORDS, in_unit
from service.web.pages.coffee_terms import profile_words
from service.web.pages.drink_form import MOST_SECONDS, DrinkAsked, drink_asked
from service.web.pages.house import amount_words, volume_words
from service.web.pages.pictures import STIR_SHOWN_SECONDS, stirring_view
from service.web.pages.pieces import CautionLine, Figure, PictureView
from service.web.pages.rendering import page_answer
from service.web.pages.telling import caution_lines, figure, listed, number, percent_figure
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
_NAMES: Final = {
    Way.STIRRING: "By stirring",
    Way.WATER: "By water, made ahead",
    Way.AMOUNTS: "By the amounts",
}

_UNITS: Final = {str(unit): unit for unit in Units}
# A glass as each kind of bar would ask for it.
_SUCH_AS_ML: Final = {Units.ML: 110.0, Units.CL: 110.0, Units.OZ: 4 * ml_per("oz")}


@dataclass(frozen=True, slots=True)
class ReachWayCard:
    """One way: what to do, what the glass then is, and where that drink stands."""

    id: str
    name: str
    reaches: bool
    words: str
    figures: tuple[Figure, ...]
    exactly: str
    address: str


@dataclass(frozen=True, slots=True)
class ReachPage:
    """What the glass shall be, as it was typed, and every way to it."""

    drink: str
    through: str
    drink_address: str
    fields: tuple[tuple[str, str], ...]
    strength: str
    strength_error: str
    glass: str
    glass_unit: str
    glass_hint: str
    glass_error: str
    now: tuple[Figure, ...]
    wanted: str
    none_reaches: bool
    ways: tuple[ReachWayCard, ...]
    picture: PictureView | None
    cautions: tuple[CautionLine, ...]


@router.get("/reach", include_in_schema=False)
async def reach(request: Request, this_bar: ThisBarHere) -> Response:
    """The question of the address; what cannot be read keeps its place and says why."""
    query = request.query_params
    bar = await run_in_threadpool(this_bar)
    asked = drink_asked(bar.known, query, bar.house.settings)
    known = bar.known_of(asked.brewed)
    if asked.coffee.errors:
        name, reason = next(iter(asked.coffee.errors.items()))
        raise BadData(reason, field=name)
    strength, glass = query.get("strength", "").strip(), query.get("glass", "").strip()
    units = bar.house.settings.units
    glass_unit = _UNITS.get(query.get("glass_unit", ""), units)
    page = _unanswered(known, asked, strength, glass, glass_unit)
    status = HTTPStatus.OK
    if "strength" in query or "glass" in query:
        target, errors = _target(strength, glass, glass_unit)
        if target is None:
            status = HTTPStatus.UNPROCESSABLE_ENTITY
            wrong_strength, wrong_glass = (errors.get(n, "") for n in ("strength", "glass"))
            page = replace(page, strength_error=wrong_strength, glass_error=wrong_glass)
        else:
            question = ReachQuestion(asked.measure, target, bar.house.lattice)
            answer = await run_in_threadpool(backwards, known, question)
            page = reach_page(known, page, asked, answer, units)
    return page_answer(request, "reach.html", page, section="coffee", status=status)


def reach_page(
    known: Known, page: ReachPage, asked: DrinkAsked, answer: Backwards, units: Units
) -> ReachPage:
    """The page with its answer."""
    cards = tuple(_card(asked, answer, way, units) for way in answer.ways)
    loud = [c for c in answer.cautions if c.level is not Level.NOTE or c.code == "alcohol"]
    return replace(
        page,
        now=_figures(answer.now.after, units),
        wanted=target_words(answer.question.target, _said_in(units)),
        none_reaches=not any(card.reaches for card in cards),
        ways=cards,
        picture=_picture(known, asked, answer),
        cautions=caution_lines(known.catalogue, loud),
    )


def _unanswered(
    known: Known, asked: DrinkAsked, strength: str, glass: str, glass_unit: Units
) -> ReachPage:
    names = known.catalogue.ingredients
    return ReachPage(
        drink=listed(names[name].name for name, _ in asked.pours),
        through=profile_words(asked.coffee.coffee) if asked.with_coffee else "",
        drink_address=asked.address,
        fields=tuple(asked.fields),
        strength=strength,
        strength_error="",
        glass=glass,
        glass_unit=str(glass_unit),
        glass_hint=f"Such as {volume_words(_SUCH_AS_ML[glass_unit], glass_unit)}",
        glass_error="",
        now=(),
        wanted="",
        none_reaches=False,
        ways=(),
        picture=None,
        cautions=(),
    )


def _target(strength: str, glass: str, glass_unit: Units) -> tuple[Target | None, dict[str, str]]:
    """What was typed; or None, and what is wrong with it by field. A bare number is in the unit
    that the form had, so that an address says the same whatever the bar writes later."""
    errors: dict[str, str] = {}
    abv = volume_ml = None
    try:
        abv = _strength(strength)
    except ServiceError as error:
        errors["strength"] = error.message
    try:
        bare = not any(letter.isalpha() for letter in glass)
        volume_ml = parse_volume_ml(f"{glass} {glass_unit}" if bare else glass) if glass else None
        if volume_ml is not None:
            Target(volume_ml=volume_ml)
    except ServiceError as error:
        errors["glass"] = error.message
    if not (errors or strength or glass):
        errors["strength"] = "write a strength, a volume in the glass, or both"
    return (None if errors else Target(abv, volume_ml)), errors


def _strength(text: str) -> float | None:
    """`28`, `28 %` or `28,5 % vol` as a fraction."""
    said = text.removesuffix("vol").rstrip().removesuffix("%")
    percent = number_or_none(said, "strength", 100 * LEAST_ABV, 100 * MOST_ABV, "% vol", 28)
    return None if percent is None else percent / 100


def _card(asked: DrinkAsked, answer: Backwards, way: Found | Missed, units: Units) -> ReachWayCard:
    said = _said_in(units)
    words = way_words(answer, way, said)
    found = None if isinstance(way, Missed) else way
    return ReachWayCard(
        id=str(way.way),
        name=_NAMES[way.way],
        reaches=found is not None,
        words=f"{words[:1].upper()}{words[1:]}.",
        figures=() if found is None else _figures(found.measured.reading.after, units),
        exactly="" if found is None else exact_words(found.exact, said),
        address="" if found is None else _drink_address(asked, found.measured),
    )


def _figures(state: State, units: Units) -> tuple[Figure, ...]:
    return (
        percent_figure("strength", state.abv, "% vol"),
        figure("in the glass", in_unit(state.volume_ml, units), UNIT_WORDS[units], digits=3),
    )


def _said_in(units: Units) -> Volumes:
    """Volumes in the bar's unit; with more digits than a jigger has, plainly."""

    def said(ingredient: Ingredient | None, volume_ml: float, digits: int) -> str:
        if digits <= BAR_DIGITS:
            return amount_words(ingredient, volume_ml, units)
        return f"{number(volume_ml / ml_per(str(units)), digits)} {UNIT_WORDS[units]}"

    return said


def _drink_address(asked: DrinkAsked, made: Made) -> str:
    """The drink's own page, where it is stirred and for no longer than that page takes."""
    if made.seconds is None or made.seconds > MOST_SECONDS:
        return ""
    return _stirred(asked, made).address


def _stirred(asked: DrinkAsked, made: Made) -> DrinkAsked:
    pours = tuple((p.ingredient.id, round(p.volume_ml, 3)) for p in made.drink.pours)
    return replace(asked, pours=pours, seconds=made.seconds or 0.0)


def _picture(known: Known, asked: DrinkAsked, answer: Backwards) -> PictureView | None:
    """How the stir gets there; none where it does not, or not within the time that is drawn."""
    stirs = (w.measured for w in answer.ways if isinstance(w, Found) and w.way is Way.STIRRING)
    made = next(stirs, None)
    if made is None or not 0 < (made.seconds or 0.0) <= STIR_SHOWN_SECONDS:
        return None
    return stirring_view(known, _stirred(asked, made))
