"""The amounts a bar can pour: jigger steps, half steps for small pours, whole dashes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.ingredients.records import Ingredient, Role
from service.kit import OutOfRange, plain_number
from service.kit.jigger import JiggerStep
from service.kit.units import DASH_ML, DROP_ML

Vector = NDArray[np.float64]
HARDLY: Final = 1e-9
# Sensible limits of one line of a drink, in mL; beyond them it is another drink. Estimates.
LIMITS_ML: Final = {
    Role.BASE: (5.0, 75.0),
    Role.MODIFIER: (2.5, 60.0),
    Role.SWEETENER: (2.5, 30.0),
}
MOST_DASHES, MOST_DROPS = 5, 20
MOST_SETTINGS: Final = 128
# Salt solutions from this strength on go in by the drop, weaker ones by the dash (estimate).
STRONG_SALT_G_PER_L: Final = 100.0
WATER: Final = "water"
_SMALLEST_STEP_ML: Final = 0.5
_LARGEST_STEP_ML: Final = 30.0
_PLURALS: Final = {"dash": "dashes", "drop": "drops"}
_QUARTER_ML: Final = JiggerStep.QUARTER_OUNCE.ml


@dataclass(frozen=True, slots=True)
class Lattice:
    """What a bar can measure: `step_ml` from `fine_below_ml` on, `fine_ml` below it."""

    step_ml: float = 5.0
    fine_ml: float = 2.5
    fine_below_ml: float = 10.0
    dash_ml: float = DASH_ML

    def __post_init__(self) -> None:
        for name in ("step_ml", "fine_ml"):
            value = getattr(self, name)
            if not _SMALLEST_STEP_ML <= value <= _LARGEST_STEP_ML:
                raise OutOfRange.of(name, value, _SMALLEST_STEP_ML, _LARGEST_STEP_ML, "ml")

    def between(self, ingredient: Ingredient, low_ml: float, high_ml: float) -> Vector:
        """All amounts of the lattice in a range and within the limits of the role, rising."""
        if by_the_dash(ingredient):
            drops = by_the_drop(ingredient)
            one, most = (DROP_ML, MOST_DROPS) if drops else (self.dash_ml, MOST_DASHES)
            counted = np.arange(1, most + 1) * one
            return np.asarray(counted[(counted >= low_ml - HARDLY) & (counted <= high_ml + HARDLY)])
        least, most_ml = LIMITS_ML.get(ingredient.role, LIMITS_ML[Role.SWEETENER])
        low, high = max(low_ml, least), min(high_ml, most_ml)
        fine = np.arange(1, int(self.fine_below_ml / self.fine_ml + HARDLY) + 1) * self.fine_ml
        coarse = np.arange(1, int(most_ml / self.step_ml + HARDLY) + 1) * self.step_ml
        every = np.unique(np.round(np.concatenate([fine, coarse[coarse > fine[-1]]]), 6))
        return np.asarray(every[(every >= low - HARDLY) & (every <= high + HARDLY)])

    def settings(self, ingredient: Ingredient, low_ml: float, high_ml: float) -> Vector:
        """What a line may be set to in a range [mL], rising, nothing at all included.

        Whoever pours by the litre measures more coarsely: never more than `MOST_SETTINGS`.
        """
        if by_the_dash(ingredient):
            one = DROP_ML if by_the_drop(ingredient) else self.dash_ml
            return _whole(one, low_ml, high_ml)
        fine = _whole(self.fine_ml, low_ml, min(high_ml, self.fine_below_ml))
        above = np.nextafter(self.fine_below_ml + HARDLY, np.inf)
        return np.concatenate([fine, _whole(self.step_ml, max(low_ml, above), high_ml)])

    def step_of(self, ingredient: Ingredient, volume_ml: float) -> float:
        """The step that an amount of it is changed by."""
        if by_the_dash(ingredient):
            return DROP_ML if by_the_drop(ingredient) else self.dash_ml
        return self.fine_ml if volume_ml <= self.fine_below_ml else self.step_ml


FIVE_ML: Final = Lattice()
# Where nobody has said what the jiggers measure: half of the smallest usual step, which can be
# poured with any of them.
ANY_JIGGER: Final = Lattice(step_ml=2.5, fine_ml=2.5, fine_below_ml=2.5)
QUARTER_OUNCES: Final = Lattice(_QUARTER_ML, _QUARTER_ML / 2, _QUARTER_ML)
SEVEN_AND_A_HALF_ML: Final = Lattice(7.5, 2.5, 7.5)
LATTICES: Final[Mapping[JiggerStep, Lattice]] = {
    JiggerStep.FIVE_ML: FIVE_ML,
    JiggerStep.SEVEN_AND_A_HALF_ML: SEVEN_AND_A_HALF_ML,
    JiggerStep.QUARTER_OUNCE: QUARTER_OUNCES,
}


def counted(ingredient: Ingredient, volume_ml: float) -> str:
    """`2 dashes`, `1 drop`: what comes out of a dasher, counted as whole ones where it is."""
    word, one = ("drop", DROP_ML) if by_the_drop(ingredient) else ("dash", DASH_ML)
    many = round(volume_ml / one, 1)
    return f"{plain_number(many, 6)} {word if many == 1.0 else _PLURALS[word]}"


def by_the_dash(ingredient: Ingredient) -> bool:
    """Whether it comes out of a dasher: bitters and seasonings, but not water."""
    if ingredient.role is Role.SEASONING:
        return ingredient.style != WATER
    return ingredient.role is Role.BITTERS


def by_the_drop(ingredient: Ingredient) -> bool:
    """Whether a dash of it would be too much."""
    return ingredient.composition.salt_g_per_l.mid >= STRONG_SALT_G_PER_L


def _whole(one: float, low: float, high: float) -> Vector:
    """Whole numbers of a step in a range; of more steps at a time where there are too many."""
    many = (high - low) / one
    at_once = 1
    while many / at_once > MOST_SETTINGS - 1:
        at_once *= 2
    step = one * at_once
    first, last = np.ceil(low / step - HARDLY), np.floor(high / step + HARDLY)
    return np.asarray(np.arange(first, last + 1) * step)
