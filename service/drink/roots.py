"""Where a smooth function of one or two settings meets what is wanted, in few evaluations."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Pair = tuple[float, float]

NEAR: Final = 1e-11  # relative; the balance of a stir is kept to about as much
_STEPS: Final = 60
_STEPS_OF_TWO: Final = 14
_AROUND: Final = 2  # points on either side that the first guess looks at
_NUDGE: Final = 1e-4
_SIZES: Final = 12  # secants that a size takes at most; mostly four do


def crossing(
    value: Callable[[float], float], settings: FloatArray, values: FloatArray, wanted: float
) -> float | None:
    """Where `value` is what is wanted; None where no two neighbours lie on either side of it.

    Secants within the bracket, halving where one leaves it, from inverse interpolation between
    the settings that are known already.

    >>> x = np.linspace(0.0, 2.0, 5)
    >>> round(crossing(lambda s: s * s, x, x * x, 2.0), 12)
    1.414213562373
    """
    misses = values - wanted
    exact = np.flatnonzero(misses == 0.0)
    if exact.size:
        return float(settings[exact[0]])
    changes = np.flatnonzero(np.sign(misses[1:]) != np.sign(misses[:-1]))
    if not changes.size:
        return None
    place = int(changes[0])
    low, high = float(settings[place]), float(settings[place + 1])
    at_low = float(misses[place])
    last, at_last = min(
        ((low, at_low), (high, float(misses[place + 1]))), key=lambda point: abs(point[1])
    )
    at = _guess(settings, misses, place)
    at = at if low < at < high else 0.5 * (low + high)
    for _ in range(_STEPS):
        miss = value(at) - wanted
        if abs(miss) <= NEAR * abs(wanted):
            return at
        if (miss > 0.0) == (at_low > 0.0):
            low = at
        else:
            high = at
        rise = miss - at_last
        step = miss * (at - last) / rise if rise else np.inf
        last, at_last = at, miss
        at = at - step if low < at - step < high else 0.5 * (low + high)
        if at in {low, high}:
            break
    return at


def meeting(
    values: Callable[[float, float], Pair], start: Pair, wanted: Pair, most: float
) -> Pair | None:
    """A size and a setting at which two values are what is wanted; None where none is found.

    Broyden's method (1965), from slopes by differences. The size stays above zero, the setting
    between zero and `most`.

    >>> found = meeting(lambda f, s: (s / f, s * f), (1.0, 1.0), (2.0, 8.0), 10.0)
    >>> [round(x, 9) for x in found]
    [2.0, 4.0]
    """
    goal = np.array(wanted)
    at = np.array(start)

    def miss_at(point: FloatArray) -> FloatArray:
        return np.asarray(np.array(values(float(point[0]), float(point[1]))) / goal - 1.0)

    miss = miss_at(at)
    nudges = np.array([_NUDGE * at[0], -_NUDGE * at[1] or _NUDGE * most])
    slopes = np.column_stack(
        [(miss_at(at + nudge) - miss) / nudge.sum() for nudge in np.diag(nudges)]
    )
    for _ in range(_STEPS_OF_TWO):
        if np.abs(miss).max() <= NEAR:
            return float(at[0]), float(at[1])
        try:
            step = np.linalg.solve(slopes, -miss)
        except np.linalg.LinAlgError:
            return None
        to = np.array([max(at[0] + step[0], 0.5 * at[0]), np.clip(at[1] + step[1], 0.0, most)])
        step = to - at
        length = float(step @ step)
        if not length:
            return None
        then = miss_at(to)
        slopes = slopes + np.outer(then - miss - slopes @ step, step) / length
        at, miss = to, then
    return None


def size_for(filled: Callable[[float], float], start: float, wanted_ml: float) -> float | None:
    """The size that fills a glass, by secants, since a volume hardly bends; None where not."""
    last, times = 0.9 * start, start
    at_last, volume = filled(last), filled(times)
    for _ in range(_SIZES):
        if abs(volume - wanted_ml) <= NEAR * wanted_ml:
            return times
        if volume == at_last:
            return None
        step = (wanted_ml - volume) * (times - last) / (volume - at_last)
        last, at_last = times, volume
        times = times + step
        if times <= 0.0:
            return None
        volume = filled(times)
    return None


def _guess(settings: FloatArray, misses: FloatArray, place: int) -> float:
    """The setting without a miss, by Lagrange through the neighbours, settings over misses."""
    near = slice(max(place - _AROUND + 1, 0), place + _AROUND + 1)
    x, y = settings[near], misses[near]
    if np.unique(y).size < y.size:
        return float("nan")
    total = 0.0
    for i, setting in enumerate(x):
        others = np.delete(y, i)
        total += float(setting) * float(np.prod(-others / (y[i] - others)))
    return total
