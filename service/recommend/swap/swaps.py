"""The records of a rescue: one way out, and the whole answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.drink import Drink, Reading
from service.drink.lattice import Lattice
from service.recommend.swap.flags import Flag
from service.recommend.swap.likeness import LikenessPart, SwapWeights
from service.recommend.swap.noticed import Noticed
from service.recommend.swap.standins import StandIn
from service.recommend.swap.tolerance import Held


@dataclass(frozen=True, slots=True)
class Change:
    """One line of the drink that moves [mL]; 0 is not poured."""

    ingredient: str
    was_ml: float
    now_ml: float


@dataclass(frozen=True, slots=True)
class Swap:
    """One way out. `flags` are read first.

    ingredients : what is poured instead, one bottle or two
    likeness : how well that stands in; its `parts` sum to it
    score : likeness, less what stays out of tolerance and what else must move
    kept_share : of the missing bottle's notes, how much is still there
    """

    flags: tuple[Flag, ...]
    ingredients: tuple[str, ...]
    score: float
    likeness: float
    parts: Mapping[LikenessPart, float]
    kept_share: float
    drink: Drink
    changes: tuple[Change, ...]
    held: tuple[Held, ...]
    noticed: Noticed
    reading: Reading
    confidence: float

    @property
    def in_tolerance(self) -> bool:
        return all(one.within for one in self.held)


@dataclass(frozen=True, slots=True)
class Rescue:
    """The answer for one drink: swaps best first, two-bottle ones apart, and what to buy."""

    drink: Drink
    missing: str
    reading: Reading
    swaps: tuple[Swap, ...]
    twos: tuple[Swap, ...]
    to_buy: tuple[StandIn, ...]
    weights: SwapWeights
    lattice: Lattice

    @property
    def nothing_does_it(self) -> bool:
        return not self.swaps and not self.twos
