"""The bar's units. The only place where one is turned into another."""

from __future__ import annotations

import re
from typing import Final

from service.kit.errors import BadData, OutOfRange

# Exact: US fluid ounce = 231 cubic inches / 128 (NIST Handbook 44, Appendix C).
US_FLUID_OUNCE_ML: Final = 29.5735295625
# Exact: one gallon of the UK Weights and Measures Act 1985 (4.54609 L) / 160.
IMPERIAL_FLUID_OUNCE_ML: Final = 28.4130625
# Estimates; the trade has no standard. Dash of a bitters bottle 0.6-1.0 mL; bar spoon 2.5-5 mL.
DASH_ML: Final = 0.8
BARSPOON_ML: Final = 5.0
DROP_ML: Final = 0.05

_ML_PER: Final[dict[str, float]] = {
    "ml": 1.0,
    "cl": 10.0,
    "l": 1000.0,
    "oz": US_FLUID_OUNCE_ML,
    "dash": DASH_ML,
    "barspoon": BARSPOON_ML,
    "drop": DROP_ML,
}
_SAME_WORD: Final[dict[str, str]] = {
    "milliliter": "ml", "milliliters": "ml", "millilitre": "ml", "millilitres": "ml",
    "centiliter": "cl", "centilitre": "cl", "liter": "l", "litre": "l",
    "ounce": "oz", "ounces": "oz", "floz": "oz",
    "dashes": "dash", "barspoons": "barspoon", "bsp": "barspoon", "drops": "drop",
}  # fmt: skip
_AMOUNT: Final = re.compile(
    r"^\s*(?:(?P<whole>\d+)\s+)?(?P<number>\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
    r"\s*(?P<unit>[a-zA-Z. ]*)\s*$"
)
LARGEST_POUR_ML: Final = 100_000.0


def parse_volume_ml(text: str, *, field: str | None = None) -> float:
    """Read an amount as a bartender writes it, into mL.

    >>> parse_volume_ml("45ml"), parse_volume_ml("1 1/2 oz"), parse_volume_ml("2 dashes")
    (45.0, 44.36029434375, 1.6)
    """
    match = _AMOUNT.match(text)
    if match is None:
        raise BadData(
            f"{text!r} is not an amount; write it like 45ml, 1.5oz or 2 dashes", field=field
        )
    number = _number(match["number"]) + float(match["whole"] or 0)
    return number * ml_per(match["unit"] or "ml", field=field)


def ml_per(unit: str, *, field: str | None = None) -> float:
    """How many mL one of a unit is."""
    word = unit.strip().lower().replace(".", "").replace(" ", "")
    word = _SAME_WORD.get(word, word)
    if word not in _ML_PER:
        raise BadData(
            f"{unit!r} is no unit used here; use ml, cl, oz, dash, barspoon or drop", field=field
        )
    return _ML_PER[word]


def check_volume_ml(volume_ml: float, *, field: str) -> float:
    """A pour must be more than nothing and less than a barrel."""
    if not 0 < volume_ml <= LARGEST_POUR_ML:
        raise OutOfRange(
            f"{volume_ml:g} ml is not a pour; give more than 0 and at most {LARGEST_POUR_ML:g} ml",
            field=field,
        )
    return volume_ml


def _number(text: str) -> float:
    if "/" in text:
        above, below = text.split("/")
        if int(below) == 0:
            raise BadData("a fraction cannot have 0 below the line")
        return int(above) / int(below)
    return float(text.replace(",", "."))
