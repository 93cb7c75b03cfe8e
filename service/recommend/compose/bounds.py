"""The most that any drink of a range can be worth: the ceiling that lets a search pass it by.

A range is a box: every content between a low and a high, every dose between two. The chain from
contents to worth is followed with intervals. Each step is monotone or bounded by a slope, so the
ceiling is never below the worth of a drink in the box (`openapi_notes/compose.md` has the proof).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.liquid.strength import ETHANOL_G_PER_ML
from service.recommend.compose.chance import inside_probability
from service.recommend.compose.forecast import CAFFEINE as FROM_COFFEE
from service.recommend.compose.forecast import CELSIUS, COFFEE_QHE, HELD, VOLUME, Forecast
from service.recommend.compose.problem import Problem
from service.recommend.compose.rack import (
    ACID,
    CAFFEINE,
    COST,
    DISSOLVED,
    ETHANOL,
    QHE,
    SALT,
    SUGAR,
    WATER,
    Index,
    Mask,
    Vector,
)
from service.taste import Band, Percept, perceive
from service.taste.density import coordinates, radius

# Rounding must never turn a ceiling into a lie.
SAFETY: Final = 1e-9
# So many boxes at once stay in the processor's near memory (measured: a third faster).
_AT_ONCE: Final = 8_000
# Picking boxes out is worth its while where fewer than this share of them is left.
_FEW_SHARE: Final = 0.75


@dataclass(frozen=True, slots=True, eq=False)
class Boxes:
    """Ranges of drinks: contents (9, boxes) and doses (boxes,), low and high."""

    low: Vector
    high: Vector
    dose_low: Vector
    dose_high: Vector

    def beside(self, contents: Vector) -> Boxes:
        """Every box added to every drink; drinks outermost."""
        shape = (len(contents), -1)
        return Boxes(
            (contents[:, :, None] + self.low[:, None, :]).reshape(shape),
            (contents[:, :, None] + self.high[:, None, :]).reshape(shape),
            np.tile(self.dose_low, contents.shape[1]),
            np.tile(self.dose_high, contents.shape[1]),
        )

    def some(self, part: Index | slice) -> Boxes:
        return Boxes(
            self.low[:, part], self.high[:, part], self.dose_low[part], self.dose_high[part]
        )


@dataclass(frozen=True, slots=True, eq=False)
class Ranges:
    """What the glass may hold of the drinks in boxes: rows of the forecast at their lowest and
    highest, and the least and the most per litre and of alcohol; (2, boxes)."""

    found_low: Vector
    found_high: Vector
    per_litre: Vector
    abv: Vector

    def some(self, part: Index) -> Ranges:
        return Ranges(
            self.found_low[:, part],
            self.found_high[:, part],
            self.per_litre[:, part],
            self.abv[:, part],
        )


def ceiling(problem: Problem, forecast: Forecast, boxes: Boxes) -> Vector:
    """No drink in a box is worth more; minus infinity where none can keep the limits."""
    found = np.empty(len(boxes.dose_low))
    for start in range(0, len(found), _AT_ONCE):
        part = slice(start, start + _AT_ONCE)
        found[part] = _ceiling(problem, forecast, boxes.some(part))
    return found


def _ceiling(problem: Problem, forecast: Forecast, boxes: Boxes) -> Vector:
    found = np.full(len(boxes.dose_low), -np.inf)
    ranges, possible = _ranges(problem, forecast, boxes)
    if not possible.any():
        return found
    # Taste costs more than strength: where the limits leave few boxes, only those are tasted.
    where: Index | slice = slice(None)
    if np.count_nonzero(possible) < _FEW_SHARE * len(possible):
        where = np.flatnonzero(possible)
        boxes, ranges, possible = boxes.some(where), ranges.some(where), possible[where]
    tasted = _tasted(forecast, boxes, ranges)
    balance = inside_probability(least_distance(problem.band, *tasted) - SAFETY)
    if problem.limits.least_balance > 0.0:
        possible &= balance >= problem.limits.least_balance
    weights = problem.weights
    worth = weights.balance * balance - weights.price * boxes.low[COST] + SAFETY
    found[where] = np.where(possible, worth, -np.inf)
    return found


def _ranges(problem: Problem, forecast: Forecast, boxes: Boxes) -> tuple[Ranges, Mask]:
    """What is foretold of boxes, and which of them may hold a drink that keeps the limits."""
    low, high, limits = boxes.low, boxes.high, problem.limits
    mass_low, mass_high = _mass(low), _mass(high)
    found_low, found_high, possible = _foretold(problem, forecast, boxes, mass_low, mass_high)
    per_ml_low, per_ml_high = found_low[HELD] / mass_high, found_high[HELD] / mass_low
    abv_low = low[ETHANOL] * per_ml_low / ETHANOL_G_PER_ML
    abv_high = high[ETHANOL] * per_ml_high / ETHANOL_G_PER_ML
    volume_low, volume_high = found_low[VOLUME] * mass_low, found_high[VOLUME] * mass_high
    possible &= (abv_high >= limits.least_abv) & (abv_low <= limits.most_abv)
    possible &= (volume_high >= limits.least_glass_ml) & (volume_low <= limits.most_glass_ml)
    if limits.most_caffeine_mg is not None:
        least = low[CAFFEINE] * per_ml_low * volume_low
        least += forecast.cautious * found_low[FROM_COFFEE]
        possible &= least <= limits.most_caffeine_mg
    if limits.most_cost is not None:
        possible &= low[COST] <= limits.most_cost
    per_litre = 1000.0 * np.stack([per_ml_low, per_ml_high])
    return Ranges(found_low, found_high, per_litre, np.stack([abv_low, abv_high])), possible


def least_distance(band: Band, low: Percept, high: Percept) -> Vector:
    """Lower bound of the distance from the band's inside over a box of percepts.

    In a family's own standard spreads a point of the box is its middle plus at most the box's
    half widths times the absolute whitening; each coordinate may be that much nearer, no more.
    """
    bottom, top = coordinates(low), coordinates(high)
    middle, half = 0.5 * (bottom + top), 0.5 * (top - bottom)
    logs = np.empty((len(band.clusters), middle.shape[1]))
    for row, cluster in zip(logs, band.clusters, strict=True):
        away = cluster.whitening @ middle
        away -= (cluster.whitening @ cluster.middle)[:, None]
        np.abs(away, out=away)
        away -= np.abs(cluster.whitening) @ half
        np.maximum(away, 0.0, out=away)
        np.einsum("ij,ij->j", away, away, out=row)
        row *= -0.5
        row += cluster.log_height
    highest = logs.max(axis=0)
    density = highest + np.log(np.exp(logs - highest).sum(axis=0))
    return np.asarray(radius(density, band.peak) - band.inside_radius)


def _foretold(
    problem: Problem, forecast: Forecast, boxes: Boxes, mass_low: Vector, mass_high: Vector
) -> tuple[Vector, Vector, Mask]:
    """Lowest and highest of each row of the forecast, and whether a box has foretold drinks."""
    low, high = boxes.low, boxes.high
    bottom = forecast.place_of(low[ETHANOL], high[WATER], low[DISSOLVED], mass_low,
                               boxes.dose_low)  # fmt: skip
    top = forecast.place_of(high[ETHANOL], low[WATER], high[DISSOLVED], mass_high,
                            boxes.dose_high)  # fmt: skip
    possible = np.ones(bottom.shape[1], dtype=bool)
    for lowest, highest in zip(bottom, top, strict=True):
        possible &= (highest >= 0.0) & (lowest <= 1.0)
    np.clip(bottom, 0.0, 1.0, out=bottom)
    np.clip(top, 0.0, 1.0, out=top)
    rows = forecast.rows_needed(problem.limits)
    middle = forecast.at(0.5 * (bottom + top), rows)
    play = forecast.steepest[:rows] @ (0.5 * (top - bottom))
    least, most = middle - play, middle + play
    for found in (least, most):
        np.exp(found[:CELSIUS], out=found[:CELSIUS])
    return least, most, possible


def _tasted(forecast: Forecast, boxes: Boxes, ranges: Ranges) -> tuple[Percept, Percept]:
    """Least and most of each taste over a box.

    Sweetness rises with sugar, salt and warmth and falls with bitterness and acid; the bitter and
    the sour do the reverse, but that salt and warmth act on the bitter by themselves. So two
    corners of the box hold the extremes of all tastes.
    """
    found_low, found_high, abv = ranges.found_low, ranges.found_high, ranges.abv
    less, more = (
        {
            "sugar_g_per_l": side[SUGAR] * ranges.per_litre[i],
            "acid_g_per_l": side[ACID] * ranges.per_litre[i],
            "salt_g_per_l": side[SALT] * ranges.per_litre[i],
            "qhe_mg_per_l": side[QHE] * ranges.per_litre[i] + 1000.0 * found[COFFEE_QHE],
        }
        for i, (side, found) in enumerate(((boxes.low, found_low), (boxes.high, found_high)))
    )
    sweetest = {**more, "qhe_mg_per_l": less["qhe_mg_per_l"], "acid_g_per_l": less["acid_g_per_l"]}
    driest = {**less, "qhe_mg_per_l": more["qhe_mg_per_l"], "acid_g_per_l": more["acid_g_per_l"]}
    if forecast.steady:
        cold = warm = forecast.warmest
        sweet = perceive(**sweetest, abv=abv[1], celsius=cold)
        dry = perceive(**driest, abv=abv[0], celsius=warm)
        bitter_low, bitter_high = sweet.bitter, dry.bitter
    else:
        cold, warm = found_low[CELSIUS], found_high[CELSIUS]
        sweet = perceive(**sweetest, abv=abv[1], celsius=warm)
        dry = perceive(**driest, abv=abv[0], celsius=cold)
        bitter_low = perceive(**sweetest, celsius=cold).bitter
        bitter_high = perceive(**driest, celsius=warm).bitter
    return (
        Percept(dry.sweet, bitter_low, sweet.sour, dry.salt, dry.heat),
        Percept(sweet.sweet, bitter_high, dry.sour, sweet.salt, sweet.heat),
    )


def _mass(contents: Vector) -> Vector:
    return np.asarray(contents[WATER] + contents[ETHANOL] + contents[DISSOLVED])
