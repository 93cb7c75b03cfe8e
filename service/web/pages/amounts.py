"""Amounts as a bar measures them: jiggers in its steps and its unit, bitters in dashes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from service.bar import OWN_SOURCE, BarSettings, Units
from service.drink import Remedy
from service.drink.lattice import by_the_dash, by_the_drop
from service.drink.remedies import HELPS_ONLY, exactly
from service.ingredients.records import Ingredient, Role
from service.kit import Interval
from service.kit.units import DASH_ML, DROP_ML, ml_per
from service.web.pages.house import SAID_ALIKE, amount_words, volume_words
from service.web.pages.pieces import Figure
from service.web.pages.telling import figure, number, range_words

DEFAULT_STEP_ML: Final = 5.0
UNIT_WORDS: Final = {Units.ML: "mL", Units.CL: "cL", Units.OZ: "oz"}
# Sweeteners go by half the step of a jigger; a whole one would turn the drink.
_SWEETENER_SHARE: Final = 0.5
_HARDLY: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Jigger:
    """How a bar measures: the smallest step of its jiggers, and the unit it writes."""

    step_ml: float = DEFAULT_STEP_ML
    units: Units = Units.ML

    @classmethod
    def of(cls, settings: BarSettings) -> Jigger:
        return cls(settings.lattice.step_ml, settings.units)


USUAL: Final = Jigger()


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


def amount_of(ingredient: Ingredient, volume_ml: float, jigger: Jigger = USUAL) -> Amount:
    """A volume in the unit its bottle is measured in, and its neighbours on the lattice."""
    step = lattice_step_ml(ingredient, jigger.step_ml)
    steps = volume_ml / step
    near = _HARDLY
    if jigger.units is Units.OZ and not by_the_dash(ingredient):
        near = max(near, SAID_ALIKE * steps)
    if abs(steps - round(steps)) <= near:
        # What is said as a step is one, so that a tap always changes what is said.
        steps = round(steps)
    more, less = floor(steps) + 1, ceil(steps) - 1
    value, _, unit = amount_words(ingredient, volume_ml, jigger.units).rpartition(" ")
    return Amount(value, unit, more * step, max(less, 0) * step)


def lattice_step_ml(ingredient: Ingredient, step_ml: float = DEFAULT_STEP_ML) -> float:
    """The step of one bottle [mL]: whole dashes or drops, half steps of sweetener, else the
    jigger's."""
    if by_the_dash(ingredient):
        return DROP_ML if by_the_drop(ingredient) else DASH_ML
    return step_ml * _SWEETENER_SHARE if ingredient.role is Role.SWEETENER else step_ml


def nearest_ml(ingredient: Ingredient, volume_ml: float, step_ml: float) -> float:
    """The amount of the lattice that is nearest, and not nothing [mL]."""
    step = lattice_step_ml(ingredient, step_ml)
    return max(round(volume_ml / step), 1) * step


def build_words(pours: tuple[tuple[Ingredient, float], ...], units: Units = Units.ML) -> str:
    """`50 mL bourbon, 20 mL sweet red vermouth, 2 dashes aromatic bitters`."""
    return ", ".join(f"{amount_words(i, v, units)} {i.name}" for i, v in pours)


def remedy_words(remedy: Remedy, ingredients: Mapping[str, Ingredient], units: Units) -> str:
    """What a remedy says, its volumes in the bar's unit."""
    found = ingredients.get(remedy.ingredient_id)
    if units is Units.ML or found is None or by_the_dash(found):
        words = remedy.words
    else:
        words = _remedy_told(remedy, found, units)
    return f"{words[:1].upper()}{words[1:]}"


def _remedy_told(remedy: Remedy, found: Ingredient, units: Units) -> str:
    then, now = (volume_words(each, units) for each in (remedy.then, remedy.now))
    between = remedy.between
    exact = "" if between is None else exactly(found, volume_words(between, units))
    if then == now:
        return exact or remedy.words
    change = f"{then} of {found.name} instead of {now}" if remedy.now else f"{then} {found.name}"
    words = change if remedy.then else f"leave out the {found.name}"
    if remedy.reaches:
        return words
    return f"{words}; {HELPS_ONLY}{f' ({exact})' if exact else ''}"


def ingredient_address(ingredient: Ingredient) -> str:
    """Where all that is known of an ingredient stands; a bar's own has its own page."""
    own = OWN_SOURCE.id in ingredient.sources
    return f"/own/{ingredient.id}" if own else f"/ingredients/{ingredient.id}"


def volume_figure(label: str, volume_ml: Interval, units: Units) -> Figure:
    """A volume as a large number in the bar's unit, with its range."""
    return figure(label, in_unit(volume_ml, units), UNIT_WORDS[units])


def volume_told(volume_ml: Interval, units: Units) -> str:
    """`97 mL (84 to 105)` in the bar's unit."""
    shown = in_unit(volume_ml, units)
    between = range_words(shown)
    said = f"{number(shown.mid, 2)} {UNIT_WORDS[units]}"
    return f"{said} ({between})" if between else said


def in_unit(volume_ml: Interval, units: Units) -> Interval:
    """A volume in the bar's unit."""
    return volume_ml.scaled(1.0 / ml_per(str(units)))
