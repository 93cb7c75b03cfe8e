"""The bar's settings: its name, in what it measures, whose standard drinks it counts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    BarSettings,
    Language,
    Lattice,
    Units,
    read_bar_settings,
    write_bar_settings,
)
from service.drink import STANDARD_DRINK_G
from service.kit import ServiceError
from service.web.deps import LookHere, UnitHere
from service.web.pages.house import FormHere, go_to, status_of, texts_of, whole
from service.web.pages.pieces import Option
from service.web.pages.public_address import loopback_warning, request_address
from service.web.pages.rendering import page_answer

router = APIRouter()
_UNITS: Final = {"ml": "mL", "cl": "cL", "oz": "oz"}
_LATTICES: Final = {"5 ml": "5 mL", "7.5 ml": "7.5 mL", "1/4 oz": "¼ oz"}
_LANGUAGES: Final = {
    "en": "1.5, as in English",
    "fr": "1,5, as in French",
    "de": "1,5, as in German",
    "it": "1,5, as in Italian",
    "es": "1,5, as in Spanish",
}


@dataclass(frozen=True, slots=True)
class SettingsPage:
    """The form, and what stood in its way the last time."""

    name: str
    place: str
    currency: str
    public_address: str
    address_warning: str
    units: tuple[Option, ...]
    lattices: tuple[Option, ...]
    countries: tuple[Option, ...]
    languages: tuple[Option, ...]
    version: str
    problem: str
    saved: bool


@router.get("/settings", include_in_schema=False)
def settings(request: Request, unit: LookHere) -> Response:
    """The settings as they are."""
    now = read_bar_settings(unit)
    saved = "saved" in request.query_params
    page = _page(_texts(now), now.version, request_address(request), saved=saved)
    return page_answer(request, "settings.html", page, section="list")


@router.post("/settings", include_in_schema=False)
def change(request: Request, unit: UnitHere, form: FormHere) -> Response:
    """Keep other settings; where somebody was faster, what was typed stays."""
    given, now = texts_of(form), read_bar_settings(unit)
    try:
        write_bar_settings(unit, _settings(given))
        return go_to("/settings?saved=yes")
    except ServiceError as error:
        page = _page(given, now.version, request_address(request), problem=error.message)
        return page_answer(request, "settings.html", page, section="list", status=status_of(error))
    except ValueError:
        page = _page(
            given, now.version, request_address(request), problem="choose one of what is offered"
        )
        status = HTTPStatus.UNPROCESSABLE_ENTITY
        return page_answer(request, "settings.html", page, section="list", status=status)


def _settings(given: Mapping[str, str]) -> BarSettings:
    return BarSettings(
        name=given.get("name", ""),
        place=given.get("place", ""),
        units=Units(given.get("units", "")),
        lattice=Lattice(given.get("lattice", "")),
        country=given.get("country", ""),
        currency=given.get("currency", ""),
        language=Language(given.get("language", "")),
        public_address=given.get("public_address", ""),
        version=whole(given.get("version", ""), "version"),
    )


def _texts(now: BarSettings) -> dict[str, str]:
    names = ("name", "place", "units", "lattice", "country", "currency", "language",
             "public_address")  # fmt: skip
    return {name: str(getattr(now, name)) for name in names}


def _page(
    given: Mapping[str, str], version: int, here: str, *, problem: str = "", saved: bool = False
) -> SettingsPage:
    def options(name: str, words: Iterable[str], labels: Mapping[str, str]) -> tuple[Option, ...]:
        return tuple(Option(w, labels.get(w, w), w == given.get(name)) for w in words)

    countries = {c: f"{c}: {grams:g} g" for c, grams in sorted(STANDARD_DRINK_G.items())}
    said = given.get("country", "")
    if said and said not in countries:
        countries = {said: f"{said}: not known here", **countries}
    return SettingsPage(
        name=given.get("name", ""),
        place=given.get("place", ""),
        currency=given.get("currency", ""),
        public_address=given.get("public_address", ""),
        address_warning=loopback_warning(given.get("public_address", "") or here),
        units=options("units", [str(u) for u in Units], _UNITS),
        lattices=options("lattice", [str(each) for each in Lattice], _LATTICES),
        countries=options("country", countries, countries),
        languages=options("language", [str(each) for each in Language], _LANGUAGES),
        version=str(version),
        problem=problem,
        saved=saved,
    )
