"""The shopping list: what the list will need, less what stands on the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from service.bar import SpecStatus, list_specs
from service.counter.batch import Need
from service.counter.house_batch import needs_of
from service.counter.house_known import House
from service.kit import ServiceError
from service.web.deps import BarLooked, LookHere
from service.web.pages.bottle_words import size_words
from service.web.pages.house import volume_words
from service.web.pages.rendering import page_answer
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
USUAL_SERVES: Final = 30


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One bottle to buy."""

    name: str
    buy: str
    wanted: str
    stock: str
    cost: str


@dataclass(frozen=True, slots=True)
class ShoppingPage:
    """What to buy so that each drink of the list can be served so often."""

    serves: str
    problem: str
    rows: tuple[NeedRow, ...]
    total: str
    drinks: str


@router.get("/shopping", include_in_schema=False)
def shopping(
    request: Request,
    bar: BarLooked,
    unit: LookHere,
    serves: Annotated[str, Query(max_length=20)] = "",
) -> Response:
    """The list."""
    house, specs = bar.house, list_specs(unit, SpecStatus.LISTED)
    problem, many = "", USUAL_SERVES
    try:
        many = round(number_or_none(serves, "serves", 1, 1_000, "serves", 30.0) or USUAL_SERVES)
    except ServiceError as error:
        problem = error.message
    found = needs_of(house, specs, many)
    total = sum(each.cost for each in found if each.cost is not None)
    page = ShoppingPage(
        serves=serves or str(many),
        problem=problem,
        rows=tuple(_row(house, each) for each in found),
        total=f"{total:.2f} {house.settings.currency}" if total else "",
        drinks=f"{many} of each of {len(specs)} drinks on the list" if specs else "",
    )
    status = 422 if problem else 200
    return page_answer(request, "shopping.html", page, section="shelf", status=status)


def _row(house: House, each: Need) -> NeedRow:
    units = house.settings.units
    bottles = max(each.bottles or 0, 1)
    size = "" if each.size_ml is None else f" of {size_words(each.size_ml, units)}"
    return NeedRow(
        name=house.name_of(each.ingredient),
        buy=f"{bottles}{size}",
        wanted=volume_words(round(each.wanted_ml), units) if each.wanted_ml else "nothing listed",
        stock=volume_words(round(each.stock_ml), units) if each.stock_ml else "none",
        cost="" if each.price is None else f"{each.price * bottles:.2f}",
    )
