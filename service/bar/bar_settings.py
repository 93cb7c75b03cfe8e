"""The bar itself: its name, and in what it measures, pays and speaks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlsplit

from sqlalchemy import select

from service.bar.checks import clean_line
from service.bar.keeping import add, change, record, values_of
from service.bar.spreadsheets import Dialect
from service.bar.tables import bar_settings
from service.bar.unit import Unit
from service.bar.words import Language, Lattice, Units
from service.kit import BadData, Conflict

_ONLY_ROW: Final = 1
# A name of letters that every telephone can read, or the digits of an address.
_HOST: Final = re.compile(r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?|[0-9a-f:.]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSettings:
    """What holds for everything in this bar.

    country : two capital letters (ISO 3166-1), whose standard drink is counted in
    currency : three capital letters (ISO 4217)
    public_address : where guests reach the service, such as https://bar.example; empty where that
        is the address by which the staff do
    version : 0 while nobody has set anything
    """

    name: str = "our bar"
    place: str = ""
    units: Units = Units.ML
    lattice: Lattice = Lattice.FIVE_ML
    country: str = "IE"
    currency: str = "EUR"
    language: Language = Language.ENGLISH
    public_address: str = ""
    version: int = 0


def read_bar_settings(unit: Unit) -> BarSettings:
    """The bar's settings, or the usual ones where nobody has set any."""
    row = unit.connection.execute(select(bar_settings)).mappings().first()
    return BarSettings() if row is None else record(BarSettings, row)


def bar_dialect(unit: Unit) -> Dialect:
    """How this bar's spreadsheets are written: as its language has them."""
    return Dialect.of(read_bar_settings(unit).language)


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
    values["public_address"] = _address(clean_line("public_address", settings.public_address))
    first = read_bar_settings(unit).version == 0
    if first and version == 0:
        return record(BarSettings, add(unit, bar_settings, {"id": _ONLY_ROW, **values}))
    if first:
        raise Conflict("the settings are not there any more; open them again", field="version")
    return record(BarSettings, change(unit, bar_settings, _ONLY_ROW, version, values))


def _address(given: str) -> str:
    """Scheme and host of an address (RFC 3986), as a code can carry it; empty stays empty."""
    if not given:
        return ""
    wrong = BadData(
        f"{given[:80]!r} is no address of a service; write one like https://bar.example, without "
        "anything behind the name",
        field="public_address",
    )
    try:
        parts = urlsplit(given)
        port = parts.port
    except ValueError:
        raise wrong from None
    host = (parts.hostname or "").lower()
    extra = parts.path.strip("/") or parts.query or parts.fragment or "@" in parts.netloc
    if parts.scheme not in ("http", "https") or extra or not _HOST.fullmatch(host):
        raise wrong
    name = f"[{host}]" if ":" in host else host
    return f"{parts.scheme}://{name}" if port is None else f"{parts.scheme}://{name}:{port}"


def _code(field: str, given: str, form: str, advice: str) -> str:
    code = given.strip().upper()
    if not re.fullmatch(form, code):
        raise BadData(f"{given!r} is no code; write {advice}", field=field)
    return code
