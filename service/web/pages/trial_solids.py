"""Dissolved coffee in a trial, as a refractometer reads it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from service.counter.house_trials import SOLIDS, Ahead
from service.kit import BadData, Interval
from service.web.pages.pieces import Option
from service.web.pages.telling import number, range_words
from service.web.pages.typed_numbers import number_or_none

SOLIDS_UNITS: Final = (("percent", "% by weight"), ("g/l", "g per L"))
_MOST_SOLIDS: Final = {"percent": 30.0, "g/l": 300.0}


@dataclass(frozen=True, slots=True)
class SolidsField:
    """What a refractometer read, for whoever has one; folded up for all others."""

    value: str
    units: tuple[Option, ...]
    hint: str
    open: bool
    error: str


def solids_field(
    expected: Mapping[str, Interval], given: Mapping[str, str], error: str
) -> SolidsField | None:
    """The field as it was filled in; None where nothing is foretold to read it against."""
    if SOLIDS not in expected:
        return None
    likely = expected[SOLIDS]
    unit, value = given.get("solids_unit", "percent"), given.get(SOLIDS, "")
    return SolidsField(
        value=value,
        units=tuple(Option(each, words, each == unit) for each, words in SOLIDS_UNITS),
        hint="What the drink reads, less what the same drink reads that ran through no coffee: "
        f"alcohol and sugar are read too. Foretold {number(likely.mid, 2)} g per L "
        f"({range_words(likely)})",
        open=bool(value or error),
        error=error,
    )


def solids_g_per_l(ahead: Ahead, given: Mapping[str, str]) -> float | None:
    """Dissolved coffee [g/L]; a share by weight counts in the liquid that was poured on."""
    unit = given.get("solids_unit", "percent")
    if unit not in _MOST_SOLIDS:
        raise BadData("choose % or g per L", field=SOLIDS)
    words = dict(SOLIDS_UNITS)[unit]
    value = number_or_none(given.get(SOLIDS, ""), SOLIDS, 0.01, _MOST_SOLIDS[unit], words, 1.3)
    if value is None or unit == "g/l":
        return value
    return value / 100.0 * float(ahead.poured.density_kg_per_m3)
