"""What a drink is at one moment, before or after the coffee: each number with its 80 % interval."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.kit import Interval
from service.liquid import Liquid, analysis
from service.taste import USUAL, Parameters, Percept, perceive

FloatArray = NDArray[np.float64]
LOW_SHARE: Final = 0.1
HIGH_SHARE: Final = 0.9


@dataclass(frozen=True, slots=True)
class State:
    """One moment of a drink. Volume at 20 °C; tastes in points of 0-15, heat of 0-100."""

    volume_ml: Interval
    abv: Interval
    ethanol_g: Interval
    sugar_g_per_l: Interval
    acid_g_per_l: Interval
    qhe_mg_per_l: Interval
    caffeine_mg: Interval
    salt_g_per_l: Interval
    coffee_solids_g_per_l: Interval
    celsius: Interval
    sweet: Interval
    bitter: Interval
    sour: Interval
    salt: Interval
    heat: Interval


STATE_NAMES: Final = tuple(field.name for field in fields(State))
TASTES: Final = ("sweet", "bitter", "sour", "salt", "heat")
MEASURED: Final = STATE_NAMES[: -len(TASTES)]


@dataclass(frozen=True, slots=True, eq=False)
class Amounts:
    """What can be measured of liquids: `MEASURED` by drinks by draws; column 0 is the usual."""

    values: FloatArray

    def of(self, name: str) -> FloatArray:
        """One quantity, drinks by draws."""
        return np.asarray(self.values[MEASURED.index(name)])

    def tasted(self, parameters: Parameters = USUAL) -> Percept:
        """What a palate, or one palate per draw, makes of them."""
        names = ("sugar_g_per_l", "qhe_mg_per_l", "acid_g_per_l", "salt_g_per_l", "abv", "celsius")
        return perceive(**{name: self.of(name) for name in names}, parameters=parameters)


def amounts_of(*moments: tuple[Liquid, FloatArray]) -> Amounts:
    """Everything measurable of liquids and their temperatures; moments one below the other."""
    shape = (sum(len(celsius) for _, celsius in moments), moments[0][1].shape[-1])
    values = np.empty((len(MEASURED), *shape))
    start = 0
    for liquid, celsius in moments:
        rows = slice(start, start + len(celsius))
        read = analysis(liquid)
        here = {"ethanol_g": liquid.ethanol_g, "caffeine_mg": liquid.caffeine_mg}
        here["celsius"] = celsius
        for place, name in enumerate(MEASURED):
            values[place, rows] = here[name] if name in here else getattr(read, name)
        start = rows.stop
    return Amounts(values)


def states_of(amounts: Amounts, palates: Parameters) -> list[State]:
    """One `State` per drink; tastes by many palates, whose first must be the usual one."""
    percept = amounts.tasted(palates)
    columns = np.empty((len(STATE_NAMES), *amounts.values.shape[1:]))
    columns[: len(MEASURED)] = amounts.values
    for place, name in enumerate(TASTES, start=len(MEASURED)):
        columns[place] = getattr(percept, name)
    return [State(*row) for row in zip(*intervals_of(columns), strict=True)]


def intervals_of(columns: FloatArray) -> list[list[Interval]]:
    """Intervals over the last axis, whose first entry is the middle; nested like the others.

    The draws in `columns` are put in order where they stand.
    """
    middle = columns[..., 0].copy()
    low, high = middle, middle
    if columns.shape[-1] > 1:
        low, high = _low_and_high(columns[..., 1:])
        low, high = np.minimum(low, middle), np.maximum(high, middle)
    rows = zip(low.tolist(), middle.tolist(), high.tolist(), strict=True)
    return [[Interval(*three) for three in zip(*row, strict=True)] for row in rows]


def _low_and_high(draws: FloatArray) -> tuple[FloatArray, FloatArray]:
    """10th and 90th percentile, between neighbouring draws in a straight line."""
    draws.sort(axis=-1)
    return _percentile(draws, LOW_SHARE), _percentile(draws, HIGH_SHARE)


def _percentile(ordered: FloatArray, share: float) -> FloatArray:
    place = share * (ordered.shape[-1] - 1)
    below = int(place)
    above = min(below + 1, ordered.shape[-1] - 1)
    return np.asarray(
        ordered[..., below] + (place - below) * (ordered[..., above] - ordered[..., below])
    )
