"""Amounts as a bar measures them: jiggers in steps, bitters in dashes."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from service.ingredients.records import Ingredient, Role
from service.kit.units import DASH_ML
from service.web.pages.telling import number

DEFAULT_STEP_ML: Final = 5.0
# Sweeteners go by half the step of a jigger; a whole one would turn the drink.
_SWEETENER_SHARE: Final = 0.5
_DASHED: Final = (Role.BITTERS, Role.SEASONING)
_HARDLY: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Amount:
    """How much, as it is said, and what one step more or less is [mL]."""

    value: str
    unit: str
    more_ml: float
    less_ml: float

    @property
    def words(self) -> str:
        return f"{self.value} {self.unit}"


def amount_of(ingredient: Ingredient, volume_ml: float, step_ml: float = DEFAULT_STEP_ML) -> Amount:
    """A volume in the unit its bottle is measured in, and its neighbours on the lattice."""
    step = lattice_step_ml(ingredient, step_ml)
    steps = volume_ml / step
    more, less = floor(steps + _HARDLY) + 1, ceil(steps - _HARDLY) - 1
    dashed = ingredient.role in _DASHED
    value = number(volume_ml / DASH_ML if dashed else volume_ml)
    unit = ("dash" if value == "1" else "dashes") if dashed else "mL"
    return Amount(value, unit, more * step, max(less, 0) * step)


def lattice_step_ml(ingredient: Ingredient, step_ml: float = DEFAULT_STEP_ML) -> float:
    """The step of one bottle [mL]: whole dashes, half steps of sweetener, else the jigger's."""
    if ingredient.role in _DASHED:
        return DASH_ML
    return step_ml * _SWEETENER_SHARE if ingredient.role is Role.SWEETENER else step_ml


def build_words(pours: tuple[tuple[Ingredient, float], ...]) -> str:
    """`50 mL bourbon, 20 mL sweet red vermouth, 2 dashes aromatic bitters`."""
    return ", ".join(f"{amount_of(i, v).words} {i.name}" for i, v in pours)
