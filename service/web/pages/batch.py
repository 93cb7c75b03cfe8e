"""The batch sheet: a drink for many, the bed's loss made up, water for ice, bottles and cost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Units
from service.counter.batch import BatchLine, pour_cost, price_for, serves_of_bottles
from service.counter.house_batch import SpecBatch, batch_of
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked, spec_asked
from service.drink import DEFAULT_COUNTRY, STANDARD_DRINK_G, standard_drinks
from service.kit import ServiceError
from service.kit.units import ml_per
from service.web.deps import BarLooked, LookHere
from service.web.pages.amounts import UNIT_WORDS
from service.web.pages.batch_words import batch_steps, keeping_words, made_up_words
from service.web.pages.coffee_form import address
from service.web.pages.house import volume_words
from service.web.pages.pieces import Figure
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed, number
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
USUAL_SERVES: Final = 20
USUAL_TARGET: Final = 20.0
_LONGEST: Final = 20


@dataclass(frozen=True, slots=True)
class BatchRow:
    """One line of the sheet."""

    name: str
    volume: str
    bottles: str
    left: str
    short: str
    cost: str


@dataclass(frozen=True, slots=True)
class WholeBottles:
    """So many whole bottles make so many serves."""

    words: str
    address: str


@dataclass(frozen=True, slots=True)
class BatchPage:
    """The sheet, and the form that it answers."""

    id: int
    name: str
    serves: str
    wanted: str
    wanted_label: str
    price: str
    target: str
    problem: str
    head: str
    rows: tuple[BatchRow, ...]
    figures: tuple[Figure, ...]
    made_up: str
    steps: tuple[str, ...]
    whole: tuple[WholeBottles, ...]
    money: tuple[Figure, ...]
    money_words: str
    keeping: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BatchAsked:
    """What was asked for, as far as it can be read."""

    serves: int
    wanted_ml: float | None
    price: float | None
    target: float


@router.get("/list/{spec_id:int}/batch", include_in_schema=False)
def sheet(
    request: Request,
    bar: BarLooked,
    unit: LookHere,
    spec_id: int,
    serves: Annotated[str, Query(max_length=_LONGEST)] = "",
    wanted: Annotated[str, Query(max_length=_LONGEST)] = "",
    price: Annotated[str, Query(max_length=_LONGEST)] = "",
    target: Annotated[str, Query(max_length=_LONGEST)] = "",
) -> Response:
    """The sheet for so many serves."""
    house = bar.house
    spec = spec_asked(unit, bar, spec_id)
    problem, status = "", 200
    asked = BatchAsked(USUAL_SERVES, None, None, USUAL_TARGET)
    try:
        asked = _asked(serves, wanted, price, target, house.settings.units)
        made = batch_of(house, spec, asked.serves, asked.wanted_ml)
    except ServiceError as error:
        problem, status = error.message, 422
        asked = BatchAsked(USUAL_SERVES, None, None, USUAL_TARGET)
        made = batch_of(house, spec, asked.serves, None)
    given = (serves or str(asked.serves), wanted, price, target or f"{USUAL_TARGET:g}")
    page = _page(house, spec, made, asked, given, problem)
    return page_answer(request, "batch.html", page, section="list", status=status)


def _asked(serves: str, wanted: str, price: str, target: str, units: Units) -> BatchAsked:
    one = ml_per(str(units))
    most, unit = 1_000.0 / one, UNIT_WORDS[units]
    given = number_or_none(wanted, "wanted", 10.0 / one, most, unit, round(100.0 / one))
    return BatchAsked(
        serves=round(
            number_or_none(serves, "serves", 1, 1_000, "serves", USUAL_SERVES) or USUAL_SERVES
        ),
        wanted_ml=None if given is None else given * one,
        price=number_or_none(price, "price", 0.01, 1e6, "", 12.0),
        target=number_or_none(target, "target", 1, 100, "%", USUAL_TARGET) or USUAL_TARGET,
    )


def _page(
    house: House,
    spec: SpecAsked,
    made: SpecBatch,
    asked: BatchAsked,
    given: tuple[str, str, str, str],
    problem: str,
) -> BatchPage:
    units, batch = house.settings.units, made.batch
    serves, wanted, price, target = given
    return BatchPage(
        id=spec.spec.id,
        name=spec.spec.name,
        serves=serves,
        wanted=wanted,
        wanted_label=f"In each glass, {UNIT_WORDS[units]}",
        price=price,
        target=target,
        problem=problem,
        head=f"{batch.serves} serves of {volume_words(round(made.wanted_ml), units)}",
        rows=tuple(_row(house, line) for line in batch.lines),
        figures=(
            _volume("water in place of ice", batch.water_ml, units),
            *([Figure("ground coffee", number(batch.coffee_g), "g")] if batch.coffee_g else []),
            _volume("poured on in all", batch.poured_ml, units),
            _volume("in each glass", round(made.wanted_ml), units),
            Figure("alcohol in each glass", number(made.ethanol_g, 2), "g", note=_standard(
                house, made.ethanol_g)),
        ),
        made_up=made_up_words(made, units),
        steps=tuple(batch_steps(spec, made)),
        whole=tuple(_whole(house, spec, made)),
        money=tuple(_money(house, made, asked)),
        money_words=_money_words(house, made),
        keeping=tuple(keeping_words(house, made)),
    )  # fmt: skip


def _volume(label: str, volume_ml: float, units: Units) -> Figure:
    return Figure(label, number(volume_ml / ml_per(str(units))), UNIT_WORDS[units])


def _standard(house: House, ethanol_g: float) -> str:
    country = house.settings.country
    country = country if country in STANDARD_DRINK_G else DEFAULT_COUNTRY
    return f"{standard_drinks(ethanol_g, country):.1f} standard drinks ({country})"


def _row(house: House, line: BatchLine) -> BatchRow:
    units, currency = house.settings.units, house.settings.currency
    return BatchRow(
        name=house.name_of(line.part.ingredient),
        volume=volume_words(round(line.volume_ml, 1), units),
        bottles="size not known" if line.bottles is None else str(line.bottles),
        left="" if line.bottles is None else volume_words(round(line.left_ml), units),
        short=volume_words(round(line.short_ml), units) if line.short_ml > 1.0 else "",
        cost="" if line.cost is None else f"{line.cost:.2f} {currency}",
    )


def _whole(house: House, spec: SpecAsked, made: SpecBatch) -> list[WholeBottles]:
    """The first bottle sets the pace: how far whole ones of it reach."""
    first = max(made.batch.lines, key=lambda line: line.volume_ml)
    found = []
    near = first.bottles or 1
    for bottles in sorted({max(near - 1, 1), near}):
        serves = serves_of_bottles(first.part, bottles, made.batch.factor)
        if serves and serves != made.batch.serves:
            many = "One whole bottle" if bottles == 1 else f"{bottles} whole bottles"
            verb = "makes" if bottles == 1 else "make"
            words = f"{many} of {house.name_of(first.part.ingredient)} {verb} {serves} serves"
            where = address(f"/list/{spec.spec.id}/batch", [("serves", str(serves))])
            found.append(WholeBottles(words, where))
    return found


def _money(house: House, made: SpecBatch, asked: BatchAsked) -> list[Figure]:
    currency, each = house.settings.currency, made.batch.cost_per_serve
    found = [
        Figure("all of it costs", f"{made.batch.cost:.2f}", currency),
        Figure("a serve costs", f"{each:.2f}", currency),
        Figure(
            f"price for {asked.target:g} % pour cost",
            f"{price_for(each, asked.target / 100.0):.2f}",
            currency,
            note="before tax",
        ),
    ]
    if asked.price is not None:
        share = f"{100.0 * pour_cost(each, asked.price):.1f}"
        at = f"pour cost at {asked.price:.2f}"
        found.append(Figure(at, share, "%", note="before tax"))
    return found


def _money_words(house: House, made: SpecBatch) -> str:
    missing = listed(house.name_of(name) for name in made.batch.unpriced)
    also = f"; no price is known of {missing}" if missing else ""
    return f"Only the liquid is counted, without coffee, garnish, ice and work{also}."
