"""All versions of a spec, and what differs between any two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Final

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from service.bar import BarSpec, SpecChange, difference, list_coffees, read_spec, revisions
from service.counter.house_known import House
from service.web.deps import BarLooked, LookHere
from service.web.pages.house import amount_words, build_words
from service.web.pages.pieces import Option
from service.web.pages.rendering import page_answer

router = APIRouter()
_FIELDS: Final = {
    "name": "name",
    "coffee_id": "coffee",
    "glass": "glass",
    "garnish": "garnish",
    "method": "how it is made",
    "preparation.seconds": "stirred, s",
    "preparation.method": "chilled",
    "bed.dose_g": "coffee, g",
    "bed.grind": "grind",
    "bed.notes": "notes of the coffee",
}


@dataclass(frozen=True, slots=True)
class VersionLine:
    """One version: when, by whom, why, and its build."""

    number: str
    when: str
    reason: str
    build: str


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One thing that differs."""

    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class SpecVersionsPage:
    """The history, and two versions side by side."""

    id: int
    name: str
    befores: tuple[Option, ...]
    afters: tuple[Option, ...]
    between: str
    changes: tuple[ChangeLine, ...]
    versions: tuple[VersionLine, ...]


@router.get("/list/{spec_id:int}/versions", include_in_schema=False)
def versions(
    request: Request,
    bar: BarLooked,
    unit: LookHere,
    spec_id: int,
    before: Annotated[int | None, Query()] = None,
    after: Annotated[int | None, Query()] = None,
) -> Response:
    """The versions; compared are the two named, or the last two."""
    house, every = bar.house, revisions(unit, spec_id)
    latest = every[-1].revision
    new = read_spec(unit, spec_id, after or latest)
    old = read_spec(unit, spec_id, before or max(new.revision - 1, 1))
    coffees = {coffee.id: coffee.name for coffee in list_coffees(unit)}
    page = SpecVersionsPage(
        id=spec_id,
        name=every[-1].name,
        befores=_options(every, old.revision),
        afters=_options(every, new.revision),
        between=f"From version {old.revision} to version {new.revision}",
        changes=tuple(_change(house, coffees, change) for change in difference(old, new)),
        versions=tuple(_line(house, spec) for spec in reversed(every)),
    )
    return page_answer(request, "spec_versions.html", page, section="list")


def _options(every: Sequence[BarSpec], chosen: int) -> tuple[Option, ...]:
    return tuple(
        Option(str(s.revision), f"version {s.revision}", s.revision == chosen) for s in every
    )


def _line(house: House, spec: BarSpec) -> VersionLine:
    return VersionLine(
        number=f"Version {spec.revision}",
        when=f"{spec.written_at:%-d %B %Y %H:%M}, by {spec.written_by}",
        reason=spec.reason,
        build=build_words(house, spec.pours),
    )


def _change(house: House, coffees: dict[int, str], change: SpecChange) -> ChangeLine:
    if change.field.startswith("pours."):
        name = change.field.removeprefix("pours.")
        found = house.known.catalogue.ingredients.get(name)
        before, after = (
            "not poured" if ml is None else amount_words(found, float(ml), house.settings.units)
            for ml in (change.before, change.after)
        )
        return ChangeLine(house.name_of(name), before, after)
    if change.field == "coffee_id":
        before, after = (coffees.get(c, "none") for c in (change.before, change.after))
        return ChangeLine("coffee", before, after)
    said = _FIELDS.get(change.field, change.field.replace(".", ", ").replace("_", " "))
    return ChangeLine(said, _said(change.before), _said(change.after))


def _said(value: Any) -> str:
    if value in (None, ""):
        return "nothing"
    return f"{value:g}" if isinstance(value, float) else str(value)
