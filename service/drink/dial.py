"""What is turned on the way to a glass: seconds on the ice, or water in its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from service.drink.parts import Drink, Pour
from service.drink.roots import NEAR, FloatArray
from service.drink.sampling import mixed
from service.drink.target import Way
from service.liquid import (
    STRONGEST_POURED,
    BuiltOnCube,
    Liquid,
    PreDiluted,
    Preparation,
    Stirring,
    Unchilled,
    volume_ml,
)

LONGEST_STIR_S: Final = 900.0
MOST_WATER: Final = 3.0  # mL per mL of drink: what `PreDiluted` takes
# Where a range is looked at first, as shares of it: closer where a stir moves the glass fast.
LOOKS: Final = 13
EVEN_SHARES: Final = np.linspace(0.0, 1.0, LOOKS)
_STIRRED_SHARES: Final = EVEN_SHARES**3


@dataclass(frozen=True, slots=True, eq=False)
class Dial:
    """From where to where the seconds or the water go, and the drink that each makes.

    looks : where a search looks first
    """

    looks: FloatArray
    made: Callable[[float], Drink]

    @property
    def least(self) -> float:
        return float(self.looks[0])

    @property
    def most(self) -> float:
        return float(self.looks[-1])


def dial_of(drink: Drink, way: Way) -> Dial:
    """The dial of a drink; water at 0 °C or warmer, where it cannot turn to slush."""
    if way is Way.STIRRING:
        stir = _stir_of(drink.preparation)
        return Dial(
            LONGEST_STIR_S * _STIRRED_SHARES,
            lambda s: replace(drink, preparation=replace(stir, seconds=s)),
        )
    celsius = max(_kept_at(drink.preparation), 0.0)
    least = 0.0 if drink.bed is None else _water_before_coffee(drink)
    return Dial(
        least + (MOST_WATER - least) * EVEN_SHARES,
        lambda w: replace(drink, preparation=PreDiluted(w, celsius)),
    )


def colder_of(drink: Drink, way: Way) -> Callable[[float], Drink] | None:
    """With water, the drink kept below 0 °C as it is asked; None where it is not asked so."""
    cold = _kept_at(drink.preparation)
    if way is not Way.WATER or cold >= 0.0:
        return None
    return lambda water: replace(drink, preparation=PreDiluted(water, cold))


def scaled(drink: Drink, factor: float) -> Drink:
    """The drink with every pour so many times as large; ice and coffee stay."""
    return replace(
        drink, pours=tuple(Pour(p.ingredient, p.volume_ml * factor) for p in drink.pours)
    )


def _water_before_coffee(drink: Drink) -> float:
    """Water that a very strong drink needs before its way through the coffee is known [mL/mL]."""
    liquid = mixed(drink)
    grams = liquid.ethanol_g * (1.0 / STRONGEST_POURED - 1.0) - liquid.water_g
    if grams <= 0.0:
        return 0.0
    return float(volume_ml(Liquid(water_g=grams * (1.0 + NEAR)))) / float(volume_ml(liquid))


def _stir_of(preparation: Preparation) -> Stirring | BuiltOnCube:
    """The ice that is asked for; the bar's usual where there was none."""
    return preparation if isinstance(preparation, Stirring | BuiltOnCube) else Stirring()


def _kept_at(preparation: Preparation) -> float:
    """How cold a drink with its water is kept [°C]."""
    if isinstance(preparation, PreDiluted | Unchilled):
        return float(preparation.celsius)
    return float(PreDiluted().celsius)
