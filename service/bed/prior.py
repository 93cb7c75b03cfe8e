"""One uncertain number: a median, its 80 % interval, and where they come from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log
from typing import Final, Literal

import numpy as np

from service.bed.limits import FloatArray
from service.kit import BadData, Interval

Z90: Final = 1.2815515655446004  # [1] standard normal deviate of the 90th percentile


@dataclass(frozen=True, slots=True)
class Prior:
    """An uncertain number with its 10th, 50th and 90th percentile, unit and source.

    Its logarithm (or, for a share between 0 and 1, its log-odds) is normal below and normal above
    the median, each half with its own width, so that the three percentiles are met exactly.

    Parameters
    ----------
    median : float
        Middle value [the unit]
    low : float
        10th percentile [the unit]
    high : float
        90th percentile [the unit]
    unit : str
        Unit in words; "1" for a plain number.
    source : str
        Who measured it, or "estimate" with its reason.
    scale : str
        "log" for positive numbers, "odds" for shares.

    Valid for: 0 < low <= median <= high, and high < 1 for shares; BadData outside.
    Source: a normal distribution in two halves (Fechner 1897) on the stated scale.

    >>> Prior(1.3, 0.7, 2.1, "mL/g", "estimate").interval.contains(0.77)
    True
    """

    median: float
    low: float
    high: float
    unit: str
    source: str
    scale: Literal["log", "odds"] = "log"

    def __post_init__(self) -> None:
        below_one = self.scale == "log" or self.high < 1
        if not (0 < self.low <= self.median <= self.high and below_one):
            raise BadData(
                f"a prior needs 0 < low <= median <= high, not {self.low}, {self.median}, "
                f"{self.high}",
                field="prior",
            )

    @property
    def interval(self) -> Interval:
        """The 80 % interval with its median."""
        return Interval(self.low, self.median, self.high)

    def at(self, deviates: FloatArray) -> FloatArray:
        """Values at standard normal deviates: the median at 0, the 90th percentile at 1.28."""
        if self.low == self.high:
            return np.full(deviates.shape, self.median)
        if self.scale == "log":
            return self.median * np.exp(self._stretched(deviates, log))
        odds = exp(_log_odds(self.median)) * np.exp(self._stretched(deviates, _log_odds))
        return odds / (1.0 + odds)

    def _stretched(self, deviates: FloatArray, scale: Callable[[float], float]) -> FloatArray:
        middle = scale(self.median)
        below = (middle - scale(self.low)) / Z90
        above = (scale(self.high) - middle) / Z90
        return np.minimum(deviates, 0.0) * below + np.maximum(deviates, 0.0) * above


def _log_odds(share: float) -> float:
    return log(share / (1.0 - share))
