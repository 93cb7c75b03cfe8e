"""The bar itself: its name, and in what it measures, pays and speaks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from sqlalchemy import select

from service.bar.checks import clean_line
from service.bar.keeping import add, change, record, values_of
from service.bar.tables import bar_settings
from service.bar.unit import Unit
from service.bar.words import Language, Lattice, Units
from service.kit import BadData, Conflict

_ONLY_ROW: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSettings:
    """What holds for everything in this bar.

    country : two capital letters (ISO 3166-1), whose standard drink is counted in
    currency : three capital letters (ISO 4217)
    version : 0 while nobody has set anything
    """

    name: str = "our bar"
    place: str = ""
    units: Units = Units.ML
    lattice: Lattice = Lattice.FIVE_ML
    country: str = "IE"
    currency: str = "EUR"
    language: Language = Language.ENGLISH
    version: int = 0


def read_bar_settings(unit: Unit) -> BarSettings:
    """The bar's settings, or the usual ones where nobody has set any."""
    row = unit.connection.execute(select(bar_settings)).mappings().first()
    return BarSettings() if row is None else record(BarSettings, row)


def write_bar_settings(unit: Unit, settings: BarSettings) -> BarSettings:
    """Keep these settings; `settings.version` is the version that was seen."""
    values = values_of(BarSettings, settings)
    version = values.pop("version")
    values["name"] = clean_line("name", settings.name, needed=True)
    values["place"] = clean_line("place", settings.place)
    values["country"] = _code("country", settings.country, "[A-Z]{2}", "two letters, such as IE")
    values["currency"] = _code(
        "currency", settings.currency, "[A-Z]{3}", "three letters, such as EUR"
    )
    first = read_bar_settings(unit).version == 0
    if first and version == 0:
        return record(BarSettings, add(unit, bar_settings, {"id": _ONLY_ROW, **values}))
    if first:
        raise Conflict("the settings are not there any more; open them again", field="version")
    return record(BarSettings, change(unit, bar_settings, _ONLY_ROW, version, values))


def _code(field: str, given: str, form: str, advice: str) -> str:
    code = given.strip().upper()
    if not re.fullmatch(form, code):
        raise BadData(f"{given!r} is no code; write {advice}", field=field)
    return code
