"""What a bartender can change about a drink, how far it is sensible, and in what steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from service.bed import GRIND_UM
from service.drink.parts import Drink, Pour, main_modifier, with_volume
from service.drink.passage import diluted, dilution_setting
from service.ingredients.records import Grind, Ingredient, Role
from service.kit.units import BARSPOON_ML, DASH_ML


class Lever(StrEnum):
    """One thing to change."""

    SPIRIT = "spirit"
    MODIFIER = "modifier"
    BITTERS = "bitters"
    SWEETENER = "sweetener"
    SALT = "salt"
    COFFEE = "coffee"
    GRIND = "grind"
    WATER = "water"
    DILUTION = "dilution"


@dataclass(frozen=True, slots=True)
class Larder:
    """What a remedy may add that the drink does not hold yet; None: it must do without."""

    syrup: Ingredient | None = None
    saline: Ingredient | None = None
    water: Ingredient | None = None


def larder_of(ingredients: Mapping[str, Ingredient]) -> Larder:
    """Plain syrup, saline and water from a catalogue's ingredients, where it has them."""
    return Larder(*(ingredients.get(i) for i in ("simple-syrup", "saline", "water")))


@dataclass(frozen=True, slots=True)
class Knob:
    """A lever of one drink (`row` among those looked at): where it stands, how far it goes."""

    row: int
    lever: Lever
    now: float
    low: float
    high: float
    step: float
    unit: str
    ingredient: Ingredient | None = None


# Sensible limits: estimates. Beyond them it is another drink.
_FINE_ML: Final = 0.5
_MOST_MODIFIER_ML: Final = 60.0
_MOST_SYRUP_ML: Final = 15.0
_MOST_WATER_ML: Final = 30.0
_LEAST_DOSE_G, _MOST_DOSE_G = 8.0, 25.0
_DILUTION_LIMITS: Final = {
    "seconds": (10.0, 90.0, 5.0, "s"),
    "dilution": (0.1, 0.8, 0.01, "mL water per mL"),
}
_MORE_DASHES_ML: Final = 4 * DASH_ML
# Salt is recognised from 0.9 g/L (compilations, from memory): a remedy must stay below. A drink
# after stirring is about 1.4 times what was poured.
SALT_NOTICED_G_PER_L: Final = 0.9
_STIRRED_PER_POURED: Final = 1.4
GRINDS: Final = tuple(Grind)


def knobs_of(drink: Drink, row: int, larder: Larder) -> list[Knob]:
    """Every lever this drink has."""
    found = [
        *_pour_knobs(drink, row),
        *_larder_knobs(drink, row, larder),
        *_coffee_knobs(drink, row),
    ]
    if name := dilution_setting(drink.preparation):
        low, high, step, unit = _DILUTION_LIMITS[name]
        now = float(getattr(drink.preparation, name))
        found.append(Knob(row, Lever.DILUTION, now, min(low, now), max(high, now), step, unit))
    return [_never_emptied(drink, knob) for knob in found]


def turned(drink: Drink, knob: Knob, value: float) -> Drink:
    """The drink with one knob set to a value."""
    if knob.ingredient is not None:
        return with_volume(drink, knob.ingredient, value)
    if knob.lever is Lever.DILUTION:
        return replace(drink, preparation=diluted(drink.preparation, value))
    if drink.bed is None:
        return drink
    if knob.lever is Lever.COFFEE:
        return replace(drink, bed=replace(drink.bed, dose_g=value))
    return replace(drink, bed=replace(drink.bed, grind=grind_at(value), particle_um=None))


def grind_at(micrometres: float) -> Grind:
    """The trade word whose usual size is nearest."""
    return min(GRINDS, key=lambda word: abs(GRIND_UM[word].mid - micrometres))


def _never_emptied(drink: Drink, knob: Knob) -> Knob:
    """The only pour of a drink may be made smaller, but not left out."""
    only = len(drink.pours) == 1 and knob.ingredient == drink.pours[0].ingredient
    return replace(knob, low=max(knob.low, 0.25 * knob.now)) if only else knob


def _pour_knobs(drink: Drink, row: int) -> list[Knob]:
    found = []
    if spirit := _largest(drink, Role.BASE):
        found.append(_pour_knob(row, Lever.SPIRIT, spirit, 0.6, 1.5))
    if modifier := main_modifier(drink):
        knob = _pour_knob(row, Lever.MODIFIER, modifier, 0.25, 3.0)
        found.append(replace(knob, high=max(min(knob.high, _MOST_MODIFIER_ML), knob.now)))
    if bitters := _largest(drink, Role.BITTERS):
        most = bitters.volume_ml + _MORE_DASHES_ML
        knob = _pour_knob(row, Lever.BITTERS, bitters, 0.0, 1.0)
        found.append(replace(knob, high=most, step=0.5 * DASH_ML))
    return found


def _pour_knob(row: int, lever: Lever, pour: Pour, low: float, high: float) -> Knob:
    volume = pour.volume_ml
    return Knob(row, lever, volume, low * volume, high * volume, _FINE_ML, "mL", pour.ingredient)


def _larder_knobs(drink: Drink, row: int, larder: Larder) -> list[Knob]:
    found = []
    present = _largest(drink, Role.SWEETENER)
    if sweetener := present.ingredient if present else larder.syrup:
        now = present.volume_ml if present else 0.0
        most = max(3.0 * now, _MOST_SYRUP_ML)
        step = 0.1 * BARSPOON_ML
        found.append(Knob(row, Lever.SWEETENER, now, 0.0, most, step, "mL", sweetener))
    if larder.saline is not None:
        found.append(_salt_knob(drink, row, larder.saline))
    if larder.water is not None:
        now = drink.volume_of(larder.water.id)
        most = now + _MOST_WATER_ML
        found.append(Knob(row, Lever.WATER, now, 0.0, most, 1.0, "mL", larder.water))
    return found


def _salt_knob(drink: Drink, row: int, saline: Ingredient) -> Knob:
    now = drink.volume_of(saline.id)
    per_ml = saline.composition.salt_g_per_l.mid / 1000.0
    finished_litres = _STIRRED_PER_POURED * drink.poured_ml / 1000.0
    most = SALT_NOTICED_G_PER_L * finished_litres / per_ml if per_ml > 0 else now
    return Knob(row, Lever.SALT, now, 0.0, max(most, now), 0.05, "mL", saline)


def _coffee_knobs(drink: Drink, row: int) -> list[Knob]:
    if drink.bed is None:
        return []
    dose = drink.bed.dose_g
    found = []
    if _LEAST_DOSE_G <= dose <= _MOST_DOSE_G:
        found.append(Knob(row, Lever.COFFEE, dose, _LEAST_DOSE_G, _MOST_DOSE_G, 1.0, "g"))
    sizes = [GRIND_UM[word].mid for word in GRINDS]
    found.append(Knob(row, Lever.GRIND, drink.bed.micrometres, min(sizes), max(sizes), 1.0, "µm"))
    return found


def _largest(drink: Drink, role: Role) -> Pour | None:
    pours = [pour for pour in drink.pours if pour.ingredient.role is role]
    return max(pours, key=lambda pour: pour.volume_ml, default=None)
