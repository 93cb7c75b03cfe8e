"""What a bartender can change about a drink, how far it is sensible, and in what steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from service.bed import GRIND_UM
from service.drink.lattice import ANY_JIGGER, Lattice, by_the_dash
from service.drink.parts import Drink, Pour, main_modifier, with_volume
from service.drink.passage import diluted, dilution_setting
from service.ingredients.records import Grind, Ingredient, Role
from service.kit.units import DASH_ML


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
    """What a remedy may add that the drink does not hold yet (None: it must do without), and the
    amounts that can be measured."""

    syrup: Ingredient | None = None
    saline: Ingredient | None = None
    water: Ingredient | None = None
    lattice: Lattice = ANY_JIGGER


def larder_of(ingredients: Mapping[str, Ingredient], lattice: Lattice = ANY_JIGGER) -> Larder:
    """Plain syrup, saline and water from a catalogue's ingredients, where it has them."""
    syrup, saline, water = (ingredients.get(i) for i in ("simple-syrup", "saline", "water"))
    return Larder(syrup, saline, water, lattice)


@dataclass(frozen=True, slots=True)
class Knob:
    """A lever of one drink (`row` among those looked at): where it stands, how far it goes.

    settings : what it can be set to, besides where it stands: amounts a bar can pour, whole steps
    """

    row: int
    lever: Lever
    now: float
    low: float
    high: float
    settings: tuple[float, ...]
    unit: str
    ingredient: Ingredient | None = None


# Sensible limits: estimates. Beyond them it is another drink.
# What a scale or a pipette may still hit where no jigger does.
FINE_ML: Final = 0.5
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
_HARDLY: Final = 1e-6


def knobs_of(drink: Drink, row: int, larder: Larder) -> list[Knob]:
    """Every lever this drink has."""
    found = [
        *_pour_knobs(drink, row, larder.lattice),
        *_larder_knobs(drink, row, larder),
        *_coffee_knobs(drink, row),
    ]
    if name := dilution_setting(drink.preparation):
        low, high, step, unit = _DILUTION_LIMITS[name]
        now = float(getattr(drink.preparation, name))
        low, high = min(low, now), max(high, now)
        settings = _steps_from(now, low, high, step)
        found.append(Knob(row, Lever.DILUTION, now, low, high, settings, unit))
    return [_never_emptied(drink, knob) for knob in found]


def finer(knob: Knob) -> Knob | None:
    """The same lever between what a jigger measures; None where it is not poured with one."""
    if knob.ingredient is None or by_the_dash(knob.ingredient):
        return None
    fine = Lattice(FINE_ML, FINE_ML, FINE_ML)
    settings = fine.settings(knob.ingredient, knob.low, knob.high).tolist()
    return replace(knob, settings=tuple(settings))


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
    if not only:
        return knob
    low = max(knob.low, 0.25 * knob.now)
    return replace(knob, low=low, settings=tuple(v for v in knob.settings if v >= low))


def _pour_knobs(drink: Drink, row: int, lattice: Lattice) -> list[Knob]:
    found = []
    if spirit := _largest(drink, Role.BASE):
        now, one = spirit.volume_ml, spirit.ingredient
        found.append(_pour_knob(row, Lever.SPIRIT, now, (0.6 * now, 1.5 * now), one, lattice))
    if modifier := main_modifier(drink):
        now, one = modifier.volume_ml, modifier.ingredient
        ends = 0.25 * now, max(min(3.0 * now, _MOST_MODIFIER_ML), now)
        found.append(_pour_knob(row, Lever.MODIFIER, now, ends, one, lattice))
    if bitters := _largest(drink, Role.BITTERS):
        now, one = bitters.volume_ml, bitters.ingredient
        ends = 0.0, now + _MORE_DASHES_ML
        found.append(_pour_knob(row, Lever.BITTERS, now, ends, one, lattice))
    return found


def _pour_knob(
    row: int,
    lever: Lever,
    now: float,
    ends: tuple[float, float],
    ingredient: Ingredient,
    lattice: Lattice,
) -> Knob:
    settings = tuple(lattice.settings(ingredient, *ends).tolist())
    return Knob(row, lever, now, *ends, settings, "mL", ingredient)


def _steps_from(now: float, low: float, high: float, step: float) -> tuple[float, ...]:
    """Whole steps to either side of where a lever stands, rising."""
    less, more = int((now - low) / step + _HARDLY), int((high - now) / step + _HARDLY)
    return tuple(now + i * step for i in range(-less, more + 1))


def _larder_knobs(drink: Drink, row: int, larder: Larder) -> list[Knob]:
    found = []
    present = _largest(drink, Role.SWEETENER)
    if sweetener := present.ingredient if present else larder.syrup:
        now = present.volume_ml if present else 0.0
        ends = 0.0, max(3.0 * now, _MOST_SYRUP_ML)
        found.append(_pour_knob(row, Lever.SWEETENER, now, ends, sweetener, larder.lattice))
    if larder.saline is not None:
        found.append(_salt_knob(drink, row, larder.saline, larder.lattice))
    if larder.water is not None:
        now = drink.volume_of(larder.water.id)
        ends = 0.0, now + _MOST_WATER_ML
        found.append(_pour_knob(row, Lever.WATER, now, ends, larder.water, larder.lattice))
    return found


def _salt_knob(drink: Drink, row: int, saline: Ingredient, lattice: Lattice) -> Knob:
    now = drink.volume_of(saline.id)
    per_ml = saline.composition.salt_g_per_l.mid / 1000.0
    finished_litres = _STIRRED_PER_POURED * drink.poured_ml / 1000.0
    most = SALT_NOTICED_G_PER_L * finished_litres / per_ml if per_ml > 0 else now
    return _pour_knob(row, Lever.SALT, now, (0.0, max(most, now)), saline, lattice)


def _coffee_knobs(drink: Drink, row: int) -> list[Knob]:
    if drink.bed is None:
        return []
    dose = drink.bed.dose_g
    found = []
    if _LEAST_DOSE_G <= dose <= _MOST_DOSE_G:
        settings = _steps_from(dose, _LEAST_DOSE_G, _MOST_DOSE_G, 1.0)
        ends = _LEAST_DOSE_G, _MOST_DOSE_G
        found.append(Knob(row, Lever.COFFEE, dose, *ends, settings, "g"))
    sizes = tuple(GRIND_UM[word].mid for word in GRINDS)
    ends = min(sizes), max(sizes)
    found.append(Knob(row, Lever.GRIND, drink.bed.micrometres, *ends, sizes, "µm"))
    return found


def _largest(drink: Drink, role: Role) -> Pour | None:
    pours = [pour for pour in drink.pours if pour.ingredient.role is role]
    return max(pours, key=lambda pour: pour.volume_ml, default=None)
