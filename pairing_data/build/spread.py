"""Ranges of positive amounts: how they multiply and how they add."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import exp, hypot, log, sqrt
from typing import Final

SINGLE_FIGURE_FACTOR: Final = 1.5
"""How far a lone published figure may be off either way: our estimate, from how
much the compositions that do carry a range differ between samples."""

ZERO_SHARE: Final = 0.1
"""A range that begins at zero (a trace) is read as beginning at this share of its middle."""


@dataclass(frozen=True, slots=True)
class Spread:
    """An 80 % range round a middle; all three in the same unit, none negative."""

    low: float
    mid: float
    high: float


def published(low: float, mid: float, high: float) -> Spread:
    """A range as printed, made fit to multiply: no zero below, no lone figure taken as exact.

    >>> published(40, 40, 40)
    Spread(low=26.666666666666668, mid=40, high=60.0)
    >>> published(0, 4, 21.2)
    Spread(low=0.4, mid=4, high=21.2)
    """
    if low == high:
        return Spread(mid / SINGLE_FIGURE_FACTOR, mid, mid * SINGLE_FIGURE_FACTOR)
    return Spread(low or mid * ZERO_SHARE, mid, high)


def product(factors: Sequence[Spread]) -> Spread:
    """Product of independent log-normal factors: middles multiply, log distances add in quadrature.

    >>> product([Spread(1, 2, 4), Spread(10, 10, 10)])
    Spread(low=10.0, mid=20.0, high=40.0)
    """
    mid = exp(sum(log(factor.mid) for factor in factors))
    down = sqrt(sum(log(factor.mid / factor.low) ** 2 for factor in factors))
    up = sqrt(sum(log(factor.high / factor.mid) ** 2 for factor in factors))
    return Spread(*(round(value, 9) for value in (mid * exp(-down), mid, mid * exp(up))))


def total(parts: Iterable[Spread]) -> Spread:
    """Sum of independent amounts: middles add, distances to either side add in quadrature.

    >>> total([Spread(7, 10, 13), Spread(16, 20, 24)])
    Spread(low=25.0, mid=30, high=35.0)
    """
    listed = list(parts)
    mid = sum(part.mid for part in listed)
    down = hypot(*(part.mid - part.low for part in listed))
    up = hypot(*(part.high - part.mid for part in listed))
    return Spread(mid - down, mid, mid + up)
