"""A batch for many serves: amounts, water in place of ice, bottles to pull, cost and price.

Plain arithmetic on plain numbers, so that it can be done again on paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from service.kit import BadData, OutOfRange

MOST_SERVES: Final = 1_000
# A bottle is not opened for less than this [mL]: it is what clings to the jigger.
_HARDLY_ML: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Part:
    """One line of a spec, and the bottle it comes from.

    per_serve_ml : as the spec pours it
    size_ml, price : of one bottle; None where nobody wrote it down
    stock_ml : what stands on the shelf
    """

    ingredient: str
    per_serve_ml: float
    size_ml: float | None = None
    price: float | None = None
    stock_ml: float = 0.0


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One line of the batch.

    bottles : whole bottles to pull; None where the size is not known
    left_ml : what stays in the last of them
    short_ml : what the shelf lacks
    cost : of what is poured; None without a price
    """

    part: Part
    volume_ml: float
    bottles: int | None
    left_ml: float
    short_ml: float
    cost: float | None


@dataclass(frozen=True, slots=True)
class Batch:
    """All of it. `cost_per_serve` counts what has a price; `unpriced` names the rest.

    factor : on every amount of the spec, so that the glass gets what is wanted
    """

    serves: int
    factor: float
    lines: tuple[BatchLine, ...]
    water_ml: float
    coffee_g: float
    poured_ml: float
    cost: float
    cost_per_serve: float
    unpriced: tuple[str, ...]


def batch(
    parts: Sequence[Part],
    *,
    serves: int,
    factor: float = 1.0,
    water_ml: float = 0.0,
    coffee_g: float = 0.0,
) -> Batch:
    """A spec for many serves. `water_ml` and `coffee_g` are those of one serve of the spec.

    >>> two = batch([Part("rye-whiskey", 50.0, 700.0, 28.0)], serves=20, factor=1.2, water_ml=25.0)
    >>> line = two.lines[0]
    >>> line.volume_ml, line.bottles, line.left_ml, round(two.cost_per_serve, 2), two.water_ml
    (1200.0, 2, 200.0, 2.4, 600.0)
    """
    if not 1 <= serves <= MOST_SERVES:
        raise OutOfRange.of("serves", serves, 1, MOST_SERVES, "serves")
    times = serves * factor
    lines = tuple(_line(part, part.per_serve_ml * times) for part in parts)
    cost = sum(line.cost for line in lines if line.cost is not None)
    water = water_ml * times
    return Batch(
        serves=serves,
        factor=factor,
        lines=lines,
        water_ml=water,
        coffee_g=coffee_g * times,
        poured_ml=sum(line.volume_ml for line in lines) + water,
        cost=cost,
        cost_per_serve=cost / serves,
        unpriced=tuple(line.part.ingredient for line in lines if line.cost is None),
    )


def pour_cost(cost_per_serve: float, price: float) -> float:
    """Share of the price that the liquid costs [0..1]; both before tax.

    >>> pour_cost(3.0, 12.0)
    0.25
    """
    if price <= 0:
        raise BadData("a price is more than nothing", field="price")
    return cost_per_serve / price


def price_for(cost_per_serve: float, target: float) -> float:
    """The price, before tax, at which the liquid costs the target's share [same currency].

    >>> price_for(3.0, 0.25)
    12.0
    """
    if not 0 < target <= 1:
        raise OutOfRange(
            "a target is a share of the price, more than 0 and at most 1", field="target"
        )
    return cost_per_serve / target


def serves_of_bottles(part: Part, bottles: int, factor: float = 1.0) -> int:
    """How many whole serves so many whole bottles make; 0 where the size is not known.

    >>> serves_of_bottles(Part("rye-whiskey", 50.0, 700.0), 3)
    42
    """
    if part.size_ml is None or part.per_serve_ml <= 0 or factor <= 0:
        return 0
    return floor(bottles * part.size_ml / (part.per_serve_ml * factor) + _HARDLY_ML)


@dataclass(frozen=True, slots=True)
class Need:
    """What is wanted of an ingredient in all, what is there, and how many bottles to buy."""

    ingredient: str
    wanted_ml: float
    stock_ml: float
    size_ml: float | None
    price: float | None
    bottles: int | None
    cost: float | None


def need(part: Part, wanted_ml: float, *, out: bool = False) -> Need:
    """What to buy so that so much can be poured. A bottle that is out counts as empty.

    >>> need(Part("cognac", 0.0, 700.0, 33.0, stock_ml=500.0), 1_600.0).bottles
    2
    """
    stock_ml = 0.0 if out else part.stock_ml
    missing = max(wanted_ml - stock_ml, 0.0)
    bottles = None if part.size_ml is None else _bottles(missing, part.size_ml)
    cost = None if bottles is None or part.price is None else bottles * part.price
    return Need(part.ingredient, wanted_ml, stock_ml, part.size_ml, part.price, bottles, cost)


def _line(part: Part, volume_ml: float) -> BatchLine:
    bottles = None if part.size_ml is None else _bottles(volume_ml, part.size_ml)
    whole = 0.0 if bottles is None or part.size_ml is None else bottles * part.size_ml
    per_ml = None if part.price is None or not part.size_ml else part.price / part.size_ml
    return BatchLine(
        part=part,
        volume_ml=volume_ml,
        bottles=bottles,
        left_ml=max(whole - volume_ml, 0.0),
        short_ml=max(volume_ml - part.stock_ml, 0.0),
        cost=None if per_ml is None else per_ml * volume_ml,
    )


def _bottles(volume_ml: float, size_ml: float) -> int:
    return ceil(volume_ml / size_ml - _HARDLY_ML)
