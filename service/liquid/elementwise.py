"""Arithmetic that is fast on one float and right on a whole array: limits, exp, polynomials."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from service.kit import OutOfRange, plain_number

Numbers: TypeAlias = float | NDArray[np.float64]


def within(
    field: str, value: Numbers, low: float, high: float, unit: str, advice: str = ""
) -> None:
    """Raise OutOfRange unless every value lies between the limits; not-a-number never does."""
    if isinstance(value, np.ndarray):
        outside = ~((value >= low) & (value <= high))
        if not outside.any():
            return
        worst = float(value[outside].flat[0])
    elif low <= value <= high:
        return
    else:
        worst = float(value)
    after = f"; {advice}" if advice else ""
    given, least, most = (plain_number(number, 6) for number in (worst, low, high))
    raise OutOfRange(f"{given} {unit} is outside {least} to {most} {unit}{after}", field=field)


def exp(value: Numbers) -> Numbers:
    """The exponential; for a float without the cost of an array."""
    if isinstance(value, np.ndarray):
        powers: NDArray[np.float64] = np.exp(value)
        return powers
    return math.exp(value)


def larger(one: Numbers, other: Numbers) -> Numbers:
    """The larger of two, element by element."""
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        bigger: NDArray[np.float64] = np.maximum(one, other)
        return bigger
    return max(one, other)


def smaller(one: Numbers, other: Numbers) -> Numbers:
    """The smaller of two, element by element."""
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        lesser: NDArray[np.float64] = np.minimum(one, other)
        return lesser
    return min(one, other)


def where(condition: bool | NDArray[np.bool_], yes: Numbers, no: Numbers) -> Numbers:
    """One value where the condition holds, the other where it does not."""
    if isinstance(condition, np.ndarray):
        chosen: NDArray[np.float64] = np.where(condition, yes, no)
        return chosen
    return yes if condition else no


def largest(value: Numbers) -> float:
    """The largest absolute value, as one float."""
    if isinstance(value, np.ndarray):
        return float(np.abs(value).max(initial=0.0))
    return abs(value)


def polynomial(coefficients: Sequence[Numbers], at: Numbers) -> Numbers:
    """c0 + c1 x + c2 x^2 ... by Horner's rule."""
    total: Numbers = coefficients[-1]
    for coefficient in coefficients[-2::-1]:
        total = total * at + coefficient
    return total


def polynomial_and_slope(coefficients: Sequence[Numbers], at: Numbers) -> tuple[Numbers, Numbers]:
    """A polynomial and its first derivative in one pass."""
    total: Numbers = coefficients[-1]
    slope: Numbers = 0.0
    for coefficient in coefficients[-2::-1]:
        slope = slope * at + total
        total = total * at + coefficient
    return total, slope
