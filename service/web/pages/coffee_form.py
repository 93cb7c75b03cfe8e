"""The coffee a person describes: read from an address, shown as a form, written as an address."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Final, TypeVar
from urllib.parse import urlencode

from starlette.datastructures import QueryParams

from service.aroma.words import LONGEST_NOTES_CHARACTERS
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.counter.coffees import Coffee
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit import ServiceError
from service.web.pages.coffee_terms import term_options
from service.web.pages.pieces import Option
from service.web.pages.typed_numbers import number_or_none

Word = TypeVar("Word", bound=StrEnum)
_DEFAULT: Final = Coffee()
FIELDS: Final = ("roast", "process", "species", "notes", "dose_g", "grind", "decaf")


@dataclass(frozen=True, slots=True)
class CoffeeForm:
    """The form as it was filled in, with what was wrong; an error keeps what was written."""

    roasts: tuple[Option, ...]
    processes: tuple[Option, ...]
    species: tuple[Option, ...]
    grinds: tuple[Option, ...]
    notes: str
    dose_g: str
    decaf: bool
    notes_error: str
    dose_error: str
    more_open: bool


@dataclass(frozen=True, slots=True)
class CoffeeAsked:
    """A coffee read from an address, and per field what could not be read."""

    coffee: Coffee
    given: Mapping[str, str]
    errors: Mapping[str, str] = field(default_factory=dict)

    def with_error(self, error: ServiceError) -> CoffeeAsked:
        """The same, and what else was wrong."""
        return replace(self, errors={**self.errors, error.field or "coffee": error.message})

    @property
    def form(self) -> CoffeeForm:
        coffee = self.coffee
        return CoffeeForm(
            roasts=term_options(Roast, coffee.profile.roast),
            processes=term_options(Process, coffee.profile.process),
            species=term_options(Species, coffee.profile.species),
            grinds=term_options(Grind, coffee.grind),
            notes=self.given.get("notes", ""),
            dose_g=self.given.get("dose_g", f"{coffee.dose_g:g}"),
            decaf=coffee.decaf,
            notes_error=self.errors.get("notes", ""),
            dose_error=self.errors.get("dose_g", ""),
            more_open=bool(
                "dose_g" in self.errors
                or (coffee.dose_g, coffee.grind, coffee.decaf)
                != (_DEFAULT.dose_g, _DEFAULT.grind, _DEFAULT.decaf)
            ),
        )


def coffee_asked(query: QueryParams) -> CoffeeAsked:
    """The coffee of an address. What cannot be read is told by field, the rest is kept."""
    given = {name: query[name] for name in FIELDS if name in query}
    errors: dict[str, str] = {}
    profile = CoffeeProfile(
        _word(Roast, given, "roast", _DEFAULT.profile.roast, errors),
        _word(Process, given, "process", _DEFAULT.profile.process, errors),
        _word(Species, given, "species", _DEFAULT.profile.species, errors),
    )
    dose_g = _DEFAULT.dose_g
    try:
        dose_g = read_number(
            given.get("dose_g", ""), "dose_g", dose_g, LEAST_DOSE_G, MOST_DOSE_G, "g"
        )
    except ServiceError as error:
        errors["dose_g"] = error.message
    notes = given.get("notes", "").replace("\r\n", "\n")
    if len(notes) > LONGEST_NOTES_CHARACTERS:
        errors["notes"] = (
            f"the notes are {len(notes)} characters long; shorten them to "
            f"{LONGEST_NOTES_CHARACTERS} at most"
        )
    coffee = Coffee(
        profile=profile,
        notes="" if "notes" in errors else notes,
        dose_g=dose_g,
        grind=_word(Grind, given, "grind", _DEFAULT.grind, errors),
        decaf=given.get("decaf", "") not in {"", "no"},
    )
    return CoffeeAsked(coffee, given, errors)


def coffee_fields(coffee: Coffee) -> list[tuple[str, str]]:
    """The coffee as name and value, only what differs from the usual."""
    profile, usual = coffee.profile, _DEFAULT.profile
    every = [
        ("roast", str(profile.roast), str(usual.roast)),
        ("process", str(profile.process), str(usual.process)),
        ("species", str(profile.species), str(usual.species)),
        ("notes", coffee.notes, ""),
        ("dose_g", f"{coffee.dose_g:g}", f"{_DEFAULT.dose_g:g}"),
        ("grind", str(coffee.grind), str(_DEFAULT.grind)),
        ("decaf", "yes" if coffee.decaf else "", ""),
    ]
    return [(name, value) for name, value, default in every if value != default]


def address(path: str, fields: list[tuple[str, str]]) -> str:
    """A path with its question."""
    return f"{path}?{urlencode(fields, safe='=')}" if fields else path


def read_number(text: str, name: str, default: float, low: float, high: float, unit: str) -> float:
    """A number as a person writes it, with comma or point; the default where nothing stands."""
    value = number_or_none(text, name, low, high, unit, default)
    return default if value is None else value


def _word(
    words: type[Word], given: Mapping[str, str], name: str, default: Word, errors: dict[str, str]
) -> Word:
    if name not in given:
        return default
    try:
        return words(given[name])
    except ValueError:
        known = ", ".join(words)
        errors[name] = f"{given[name][:40]!r} is no {name}; choose one of {known}"
        return default
