"""How strongly an odorant speaks: odour activity, and impact classes where no figure exists."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import fmean

from service.ingredients.records import Impact, Occurrence, Threshold

# Where too few rows carry both a figure and a class, the class falls back on these:
# our estimate, because a key odorant by definition has OAV > 1 (intensity > 0.3) and the
# character-impact ones of the papers mostly lie between OAV 10 and 1 000.
FALLBACK: Mapping[Impact, float] = {
    Impact.CHARACTER: 2.0,
    Impact.KEY: 1.3,
    Impact.BACKGROUND: 0.5,
}
# How far the intensity of an impact class may be off: our estimate, half the step between classes.
CLASS_SPREAD = 0.4
# Weight of the fallback in the fit, as a number of rows.
FALLBACK_ROWS = 5


@dataclass(frozen=True, slots=True)
class Thresholds:
    """Odour thresholds by matrix; the nearest in ethanol is the one that counts."""

    by_odorant: Mapping[str, tuple[tuple[float, float], ...]]

    @classmethod
    def of(cls, rows: Iterable[Threshold]) -> Thresholds:
        collected: dict[str, list[tuple[float, float]]] = defaultdict(list)
        for row in rows:
            collected[row.odorant].append((row.ethanol, row.ug_per_l))
        return cls({odorant: tuple(sorted(pairs)) for odorant, pairs in collected.items()})

    def nearest_ug_per_l(self, odorant: str, ethanol: float) -> float | None:
        """The threshold in the matrix nearest in ethanol; the geometric mean of ties."""
        known = self.by_odorant.get(odorant)
        if not known:
            return None
        if len(known) == 1:
            return known[0][1]
        distance = min(abs(at - ethanol) for at, _ in known)
        ties = [value for at, value in known if abs(at - ethanol) <= distance + 1e-9]
        return math.exp(fmean(math.log(value) for value in ties))


@dataclass(frozen=True, slots=True)
class ImpactFit:
    """The numeric intensity of each impact class, with the rows it rests on."""

    intensity: Mapping[Impact, float]
    rows: Mapping[Impact, int]


def odour_activity(ug_per_l: float, threshold_ug_per_l: float) -> float:
    """Odour activity value: concentration over threshold (Rothe and Thomas 1963)."""
    return ug_per_l / threshold_ug_per_l


def intensity_of_activity(activity: float) -> float:
    """log10(1 + OAV), so that below the threshold little and far above it slowly more is heard.

    >>> round(intensity_of_activity(9.0), 6)
    1.0
    """
    return math.log10(1.0 + activity)


def measured_intensity(
    occurrence: Occurrence, thresholds: Thresholds, ethanol: float
) -> float | None:
    """Intensity from a concentration; None where it or the threshold is unknown."""
    if occurrence.concentration_ug_per_l is None:
        return None
    threshold = thresholds.nearest_ug_per_l(occurrence.odorant, ethanol)
    if threshold is None:
        return None
    return intensity_of_activity(odour_activity(occurrence.concentration_ug_per_l.mid, threshold))


def fit_impact(
    occurrences: Iterable[Occurrence], thresholds: Thresholds, ethanol: Mapping[str, float]
) -> ImpactFit:
    """The mean intensity of each class over the rows that have both a figure and a class.

    Shrunk towards the fallback by a few rows' weight and kept in order (character >= key >=
    background) by pooling neighbours that are out of order (isotonic regression by pool-
    adjacent-violators, Barlow et al. 1972).
    """
    found: dict[Impact, list[float]] = defaultdict(list)
    for row in occurrences:
        value = measured_intensity(row, thresholds, ethanol.get(row.ingredient, 0.0))
        if value is not None and row.impact is not None:
            found[row.impact].append(value)
    order = (Impact.BACKGROUND, Impact.KEY, Impact.CHARACTER)
    blocks: list[tuple[float, float, list[Impact]]] = []
    for impact in order:
        weight = float(len(found[impact]) + FALLBACK_ROWS)
        mean = (sum(found[impact]) + FALLBACK_ROWS * FALLBACK[impact]) / weight
        blocks.append((mean, weight, [impact]))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (mean_a, weight_a, a), (mean_b, weight_b, b) = blocks[-2:]
            total = weight_a + weight_b
            pooled = (mean_a * weight_a + mean_b * weight_b) / total
            blocks[-2:] = [(pooled, total, a + b)]
    intensity = {impact: mean for mean, _, members in blocks for impact in members}
    return ImpactFit(intensity, {impact: len(found[impact]) for impact in order})


def intensity(
    occurrence: Occurrence, thresholds: Thresholds, fit: ImpactFit, ethanol: float
) -> float:
    """Intensity by odour activity where it can be computed, else by impact class.

    A figure without a threshold and without a class counts as background.
    """
    value = measured_intensity(occurrence, thresholds, ethanol)
    if value is not None:
        return value
    return fit.intensity[occurrence.impact or Impact.BACKGROUND]


def steadiness(occurrence: Occurrence, value: float) -> float:
    """How well an intensity stands against the range of its number, 0 to 1.

    value / (value + half the width of its range): 1 for an exact figure, 0.5 where the range is
    as wide as twice the value. Unstable notes make unstable suggestions, so trust falls with it.
    """
    amount = occurrence.concentration_ug_per_l
    if amount is None or amount.mid <= 0:
        half = CLASS_SPREAD
    else:
        activity = 10.0**value - 1.0
        low, high = activity * amount.low / amount.mid, activity * amount.high / amount.mid
        half = (intensity_of_activity(high) - intensity_of_activity(low)) / 2.0
    return value / (value + half) if value > 0 else 0.0
