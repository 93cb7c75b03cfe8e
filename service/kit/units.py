"""The bar's units. The only place where one is turned into another."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, TypeAlias

from service.kit.errors import BadData, OutOfRange
from service.kit.writing import plain_number

# Exact: US fluid ounce = 231 cubic inches / 128 (NIST Handbook 44, Appendix C).
US_FLUID_OUNCE_ML: Final = 29.5735295625
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
_G_PER: Final[dict[str, float]] = {"g": 1.0, "kg": 1000.0}
_SAME_WORD: Final[dict[str, str]] = {
    "milliliter": "ml", "milliliters": "ml", "millilitre": "ml", "millilitres": "ml",
    "centiliter": "cl", "centilitre": "cl", "liter": "l", "litre": "l",
    "ounce": "oz", "ounces": "oz", "floz": "oz",
    "dashes": "dash", "barspoons": "barspoon", "bsp": "barspoon", "drops": "drop",
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
    "kilogram": "kg", "kilograms": "kg", "kilo": "kg", "kilos": "kg",
}  # fmt: skip
_AMOUNT: Final = re.compile(
    r"^\s*(?:(?P<whole>\d+)\s+)?(?P<number>\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
    r"\s*(?P<unit>[a-zA-Z. ]*)\s*$"
)
LONGEST_AMOUNT: Final = 40  # characters; no bar writes more, and no fraction of so many overflows
LARGEST_POUR_ML: Final = 100_000.0
LARGEST_POUR_G: Final = 100_000.0
_UNITS: Final = "ml, cl, oz, dash, barspoon or drop"


@dataclass(frozen=True, slots=True)
class Weighed:
    """A pour by mass, as a scale shows it [g]. How many mL that is, only the bottle can say."""

    mass_g: float


Amount: TypeAlias = float | Weighed
"""How much of a bottle: mL as a number, or grams as `Weighed`."""


def parse_amount(text: str, *, field: str | None = None) -> Amount:
    """Read an amount as a bartender writes it: mL where it is a volume, `Weighed` where a mass.

    >>> parse_amount("45ml"), parse_amount("45 g"), parse_amount("0.5kg").mass_g
    (45.0, Weighed(mass_g=45.0), 500.0)
    """
    number, unit = _number_and_unit(text, field, "45ml, 1.5oz, 2 dashes or 45g")
    grams = _G_PER.get(_word(unit))
    if grams is not None:
        return Weighed(number * grams)
    if _word(unit) not in _ML_PER:
        raise BadData(f"{unit.strip()!r} is no unit used here; use {_UNITS}, or g", field=field)
    return number * ml_per(unit, field=field)


def parse_volume_ml(text: str, *, field: str | None = None) -> float:
    """Read an amount as a bartender writes it, into mL.

    >>> parse_volume_ml("45ml"), parse_volume_ml("1 1/2 oz"), parse_volume_ml("2 dashes")
    (45.0, 44.36029434375, 1.6)
    """
    number, unit = _number_and_unit(text, field, "45ml, 1.5oz or 2 dashes")
    return number * ml_per(unit, field=field)


def ml_per(unit: str, *, field: str | None = None) -> float:
    """How many mL one of a unit is."""
    word = _word(unit)
    if word in _G_PER:
        raise BadData(f"{unit.strip()!r} is a weight; give a volume, in {_UNITS}", field=field)
    if word not in _ML_PER:
        raise BadData(f"{unit.strip()!r} is no unit used here; use {_UNITS}", field=field)
    return _ML_PER[word]


def check_volume_ml(volume_ml: float, *, field: str) -> float:
    """A pour must be more than nothing and less than a barrel."""
    if not 0 < volume_ml <= LARGEST_POUR_ML:
        raise OutOfRange(
            f"{plain_number(volume_ml, 6)} ml is not a pour; give more than 0 and at most "
            f"{LARGEST_POUR_ML:.0f} ml",
            field=field,
        )
    return volume_ml


def check_mass_g(mass_g: float, *, field: str) -> float:
    """The same of a pour that is weighed."""
    if not 0 < mass_g <= LARGEST_POUR_G:
        raise OutOfRange(
            f"{plain_number(mass_g, 6)} g is not a pour; give more than 0 and at most "
            f"{LARGEST_POUR_G:.0f} g",
            field=field,
        )
    return mass_g


def _number_and_unit(text: str, field: str | None, examples: str) -> tuple[float, str]:
    match = _AMOUNT.match(text) if len(text.strip()) <= LONGEST_AMOUNT else None
    if match is None:
        raise BadData(f"{text[:80]!r} is not an amount; write it like {examples}", field=field)
    number = _number(match["number"], field) + float(match["whole"] or 0)
    return number, match["unit"] or "ml"


def _word(unit: str) -> str:
    word = unit.strip().lower().replace(".", "").replace(" ", "")
    return _SAME_WORD.get(word, word)


def _number(text: str, field: str | None) -> float:
    if "/" in text:
        above, below = text.split("/")
        if int(below) == 0:
            raise BadData("a fraction cannot have 0 below the line", field=field)
        return int(above) / int(below)
    return float(text.replace(",", "."))
