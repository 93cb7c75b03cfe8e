"""Intervals, limits and root finding."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.kit.errors import BadData

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Interval:
    """A middle value with its 80 % interval: low = 10th, high = 90th percentile.

    For inputs the same record says what is usual (`mid`) and how far it may lie (`low`, `high`).

    >>> Interval(1.0, 2.0, 4.0).contains(3.5)
    True
    >>> Interval.exactly(5.0).width
    0.0
    """

    low: float
    mid: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.mid <= self.high:
            raise BadData(f"an interval must be ordered, not {self.low}, {self.mid}, {self.high}")

    @classmethod
    def exactly(cls, value: float) -> Interval:
        """An interval without width."""
        return cls(value, value, value)

    @classmethod
    def of_draws(cls, draws: NDArray[np.float64], mid: float | None = None) -> Interval:
        """The 80 % interval of sampled values; the median, or `mid`, as its middle."""
        import numpy as np

        low, median, high = (float(x) for x in np.quantile(draws, (0.1, 0.5, 0.9)))
        middle = median if mid is None else mid
        return cls(min(low, middle), middle, max(high, middle))

    @property
    def width(self) -> float:
        return self.high - self.low

    def contains(self, value: float) -> bool:
        return self.low <= value <= self.high

    def scaled(self, factor: float) -> Interval:
        """Each of the three times a factor of zero or more."""
        return Interval(self.low * factor, self.mid * factor, self.high * factor)


def clamp(value: float, low: float, high: float) -> float:
    """The value, or the limit it passes.

    >>> clamp(3.0, 0.0, 1.0)
    1.0
    """
    return min(max(value, low), high)


def find_root(
    function: Callable[[float], float],
    low: float,
    high: float,
    *,
    tolerance: float = 1e-10,
) -> float | None:
    """Where `function` crosses zero between `low` and `high`; None where it does not.

    Brent's method (Brent 1973, Algorithms for Minimization without Derivatives, ch. 4), by scipy.

    >>> round(find_root(lambda x: x * x - 2, 0, 2), 6)
    1.414214
    >>> find_root(lambda x: x + 1, 0, 2) is None
    True
    """
    from scipy.optimize import brentq

    at_low, at_high = function(low), function(high)
    if at_low == 0:
        return low
    if at_high == 0:
        return high
    if (at_low > 0) == (at_high > 0):
        return None
    return float(brentq(function, low, high, xtol=tolerance))
