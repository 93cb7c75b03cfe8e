"""Instead of a bottle that is out: what to pour in one drink, with the amounts that move."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Units
from service.counter.known import Known
from service.counter.swap import SwapQuestion, swap
from service.counter.swap_json import answer_words
from service.counter.this_bar import ThisBar, swapped
from service.ingredients.records import Role
from service.kit import ServiceError
from service.recommend.swap import Change, Rescue, StandIn, StandIns, Swap, note_clauses
from service.web.deps import BarLooked
from service.web.pages.amounts import ingredient_address
from service.web.pages.bar_words import (
    EVERYTHING,
    FROM,
    BarLine,
    ShelfSwitch,
    bar_lines,
    shelf_switch,
    wants_shelf,
)
from service.web.pages.coffee_form import address
from service.web.pages.drink_form import DrinkAsked, drink_asked
from service.web.pages.house import amount_words
from service.web.pages.pieces import ConfidenceMark, VerdictMark
from service.web.pages.rendering import page_answer
from service.web.pages.telling import confidence_mark, listed, verdict_mark

router = APIRouter()
LIMIT: Final = 6
_POURED: Final = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.SEASONING)


@dataclass(frozen=True, slots=True)
class Move:
    """One amount that is another now."""

    name: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way out: what to mind first, then amounts, what a guest notices, and how sure it is."""

    id: str
    name: str
    flags: tuple[str, ...]
    moves: tuple[Move, ...]
    noticed: tuple[str, ...]
    tolerance: str
    verdict: VerdictMark | None
    confidence: ConfidenceMark
    action: str
    address: str


@dataclass(frozen=True, slots=True)
class InsteadPage:
    """What was asked, and the ways out, the best first."""

    out: str
    error: str
    bottles: tuple[str, ...]
    fields: tuple[tuple[str, str], ...]
    in_drink: str
    missing: str
    answer: str
    ways: tuple[WayOut, ...]
    nothing_does_it: bool
    drink_address: str
    switch: ShelfSwitch | None
    kept: tuple[tuple[str, str], ...]
    learnt: tuple[BarLine, ...]


@router.get("/instead", include_in_schema=False)
def instead(request: Request, bar: BarLooked) -> Response:
    """What to pour instead; a bottle that is not known keeps what was typed."""
    query = request.query_params
    out = query.get("out", "").strip()
    asked = drink_asked(bar.known, query, bar.house.settings) if "pour" in query else None
    on_shelf = wants_shelf(bar, query)
    page = _unanswered(bar, out, asked, on_shelf=on_shelf)
    status = HTTPStatus.OK
    if out:
        try:
            page = instead_page(bar, page, asked, on_shelf=on_shelf)
        except ServiceError as error:
            page = replace(page, error=error.message)
            status = HTTPStatus.UNPROCESSABLE_ENTITY
    return page_answer(request, "instead.html", page, section="coffee", status=status)


def instead_page(
    bar: ThisBar, page: InsteadPage, asked: DrinkAsked | None, *, on_shelf: bool
) -> InsteadPage:
    """The page with its answer."""
    known = bar.known if asked is None else bar.known_of(asked.brewed)
    question = SwapQuestion(page.out, limit=LIMIT)
    if asked is not None:
        measure = asked.measure
        question = replace(
            question, pours=asked.pours, bed=measure.bed, preparation=measure.preparation
        )
    answer = swap(known, swapped(question, bar, on_shelf=on_shelf))
    words = answer_words(known, answer)
    return replace(
        page,
        missing=known.catalogue.ingredients[answer.missing].name,
        answer=f"{words[:1].upper()}{words[1:]}.",
        ways=tuple(_ways(known, answer, asked, bar.house.settings.units)),
        nothing_does_it=answer.nothing_does_it,
    )


def _unanswered(bar: ThisBar, out: str, asked: DrinkAsked | None, *, on_shelf: bool) -> InsteadPage:
    known = bar.known
    names = known.catalogue.ingredients
    fields = [*([("out", out)] if out else []), *(asked.fields if asked else [])]
    switch = shelf_switch(bar, "/instead", fields, on_shelf=on_shelf)
    return InsteadPage(
        out=out,
        error="",
        bottles=tuple(i.name for role in _POURED for i in known.catalogue.of_role(role)),
        fields=tuple(asked.fields) if asked else (),
        in_drink=listed(names[name].name for name, _ in asked.pours) if asked else "",
        missing="",
        answer="",
        ways=(),
        nothing_does_it=False,
        drink_address=asked.address if asked else "",
        switch=switch,
        kept=() if on_shelf or switch is None else ((FROM, EVERYTHING),),
        learnt=bar_lines(bar, asked.brewed) if asked else (),
    )


def _ways(
    known: Known, answer: StandIns | Rescue, asked: DrinkAsked | None, units: Units
) -> Iterable[WayOut]:
    if isinstance(answer, StandIns):
        for one in answer.options:
            yield _stand_in(known, one)
    elif asked is not None:
        every = sorted((*answer.swaps, *answer.twos), key=lambda one: -one.score)
        for way in every[:LIMIT]:
            yield _swap(known, way, asked, units)


def _stand_in(known: Known, one: StandIn) -> WayOut:
    same = f"does the same job: {one.jobs[0]}" if one.jobs else ""
    told = [same, *note_clauses(kept=one.notes.kept, lost=one.notes.lost, gained=one.notes.gained)]
    return WayOut(
        id=one.ingredient,
        name=known.catalogue.ingredients[one.ingredient].name,
        flags=tuple(flag.words for flag in one.flags),
        moves=(),
        noticed=tuple(filter(None, told)),
        tolerance="",
        verdict=None,
        confidence=confidence_mark(one.confidence),
        action="All that is known of it",
        address=ingredient_address(known.catalogue.ingredients[one.ingredient]),
    )


def _swap(known: Known, way: Swap, asked: DrinkAsked, units: Units) -> WayOut:
    names = known.catalogue.ingredients
    off = [str(held.measure) for held in way.held if not held.within]
    noticed = note_clauses(lost=way.noticed.lost, gained=way.noticed.gained)
    if way.noticed.taste.words:
        noticed.append(listed(way.noticed.taste.words))
    pours = tuple((p.ingredient.id, round(p.volume_ml, 3)) for p in way.drink.pours)
    return WayOut(
        id="-".join(way.ingredients),
        name=" and ".join(names[name].name for name in way.ingredients),
        flags=tuple(flag.words for flag in way.flags),
        moves=tuple(_move(known, change, units) for change in way.changes),
        noticed=tuple(noticed) or ("a guest will hardly notice",),
        tolerance=f"{listed(off)} cannot be kept"
        if off
        else "sweetness, bitterness, acid and strength stay as they were",
        verdict=verdict_mark(way.reading.balance_after),
        confidence=confidence_mark(way.confidence),
        action="Pour it so",
        address=address("/drink", replace(asked, pours=pours).fields),
    )


def _move(known: Known, change: Change, units: Units) -> Move:
    ingredient = known.catalogue.ingredients[change.ingredient]
    was, now = (
        amount_words(ingredient, volume_ml, units) if volume_ml > 0 else "none"
        for volume_ml in (change.was_ml, change.now_ml)
    )
    return Move(ingredient.name, was, now)
