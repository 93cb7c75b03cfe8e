"""Bottles as they are sold, and how many of them are left.

A bottle's label says millilitres or centilitres everywhere, in a bar of ounces too: so does its
size here. What is left is counted in bottles.
"""

from __future__ import annotations

from typing import Final

from service.bar import Units
from service.kit import OutOfRange
from service.kit.units import parse_volume_ml
from service.web.pages.house import volume_words
from service.web.pages.telling import number
from service.web.pages.typed_numbers import number_or_none

_LEAST_SAID: Final = 0.05
_HARDLY: Final = 1e-6


def size_words(size_ml: float, units: Units) -> str:
    """The size of a bottle as labels say it: `70 cL` in a bar of centilitres, else `700 mL`."""
    return volume_words(size_ml, units if units is Units.CL else Units.ML)


def left_words(stock_ml: float, size_ml: float, units: Units) -> str:
    """`2 bottles of 700 mL`, `1.5 bottles left, 700 mL each`, `0.4 of a bottle left, of 700 mL`."""
    bottles, size = stock_ml / size_ml, size_words(size_ml, units)
    whole = round(bottles)
    if stock_ml <= 0.0:
        return f"none left, bottles of {size}"
    if whole and abs(bottles - whole) <= _HARDLY * whole:
        return f"{whole} {'bottle' if whole == 1 else 'bottles'} of {size}"
    if bottles < _LEAST_SAID:
        return f"hardly any left of a bottle of {size}"
    said = round(bottles, 1)
    if said < 1.0:
        return f"{number(said)} of a bottle left, of {size}"
    if said == 1.0:
        return f"about 1 bottle left, of {size}"
    return f"{number(said)} bottles left, {size} each"


def typed_size_ml(text: str, name: str, low: float, high: float, example: float) -> float | None:
    """A volume as it is typed: mL where it is a bare number, or with its unit; None if empty."""
    if not any(letter.isalpha() for letter in text):
        return number_or_none(text, name, low, high, "mL", example)
    value = parse_volume_ml(text, field=name)
    if not low <= value <= high:
        raise OutOfRange.of(name, value, low, high, "mL")
    return value
