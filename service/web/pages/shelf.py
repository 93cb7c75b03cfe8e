"""The shelf: every bottle, out or back in with one tap; the shelf as a file, out and in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO, Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    Bottle,
    FileImport,
    GoodRow,
    Unit,
    all_or_nothing,
    bar_dialect,
    bottles_on_shelf,
    csv_lines,
    list_coffees,
    load_shelf,
    set_out,
)
from service.counter.house_known import House
from service.counter.known import Known
from service.counter.run_out import harm_of
from service.counter.shelf import catalogue_in
from service.web.answers import csv_answer
from service.web.deps import BarChanged, BarLooked, KnownHere, LookHere, UnitHere
from service.web.pages.bottle_words import left_words
from service.web.pages.file_preview import (
    FileForm,
    FileKind,
    FilePlace,
    file_loaded,
    file_looked_at,
)
from service.web.pages.house import ROLE_TITLES, FormHere, go_to, texts_of, whole
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed, number

router = APIRouter()
_PLACE: Final = FilePlace("Bottle", "/shelf/import", "/shelf", "Back to the shelf")
_FILE: Final = FileForm(
    "/shelf/preview/import",
    "Columns ingredient and size_ml at least; commas, semicolons or tabs. You see first what it "
    "would do.",
)
_WANTED: Final = "a CSV with one bottle in each row, or paste its rows"


@dataclass(frozen=True, slots=True)
class BottleLine:
    """One bottle in the list."""

    id: int
    name: str
    address: str
    label: str
    facts: str
    out: bool
    harm: str


@dataclass(frozen=True, slots=True)
class ShelfGroup:
    """Bottles of one role."""

    title: str
    bottles: tuple[BottleLine, ...]


@dataclass(frozen=True, slots=True)
class ShelfPage:
    """The whole shelf."""

    groups: tuple[ShelfGroup, ...]
    count: str
    file: FileForm
    coffees: str


@router.get("/shelf", include_in_schema=False)
def whole_shelf(request: Request, bar: BarLooked, unit: LookHere) -> Response:
    """Every bottle."""
    return _shelf(request, bar.house, unit, _FILE)


def _shelf(request: Request, house: House, unit: Unit, file: FileForm) -> Response:
    harm = harm_of(unit)
    coffees = [coffee.name for coffee in list_coffees(unit, in_use_only=True)]
    out = sum(bottle.out for bottle in house.bottles)
    page = ShelfPage(
        groups=tuple(_groups(house, harm)),
        count=f"{len(house.bottles)} bottles, {out or 'none'} out",
        file=file,
        coffees=listed(coffees),
    )
    return page_answer(request, "shelf.html", page, section="shelf", status=file.status)


@router.post("/shelf/out", include_in_schema=False)
def mark(unit: UnitHere, form: FormHere) -> Response:
    """One bottle is out, or back in."""
    given = texts_of(form)
    name = "out" if "out" in given else "in"
    bottle = set_out(unit, whole(given.get(name, ""), name), name == "out")
    return go_to(f"/shelf#bottle-{bottle.id}")


@router.get("/shelf.csv", include_in_schema=False)
def as_file(unit: LookHere) -> Response:
    """The shelf as CSV, as spreadsheets in the bar's language open it."""
    return csv_answer(csv_lines(bottles_on_shelf(unit), bar_dialect(unit)), "shelf.csv")


@router.post("/shelf/preview/import", include_in_schema=False)
def preview(
    request: Request, known: KnownHere, bar: BarLooked, unit: LookHere, form: FormHere
) -> Response:
    """What loading a file would do, row by row; nothing is written."""
    return file_looked_at(request, form, _kind(request, known, bar.house, unit, write=False))


@router.post("/shelf/import", include_in_schema=False)
def load(
    request: Request, known: KnownHere, bar: BarChanged, unit: UnitHere, form: FormHere
) -> Response:
    """Load a file: the good rows are kept, the bad ones come back with line and reason."""
    return file_loaded(request, form, _kind(request, known, bar.house, unit, write=True))


def _kind(request: Request, known: Known, house: House, unit: Unit, *, write: bool) -> FileKind:
    catalogue = catalogue_in(unit, known.catalogue)

    def loading(file: BinaryIO) -> FileImport:
        with all_or_nothing(unit):
            return load_shelf(unit, catalogue, file, write=write)

    return FileKind(
        _PLACE,
        _FILE,
        _WANTED,
        loading,
        lambda row: _told(house, row),
        lambda file: _shelf(request, house, unit, file),
    )


def _told(house: House, row: GoodRow) -> str:
    return ", ".join(filter(None, [house.name_of(row.values["ingredient"]), row.values["label"]]))


def _groups(house: House, harm: dict[str, tuple[str, ...]]) -> Iterator[ShelfGroup]:
    ingredients = house.known.catalogue.ingredients
    for role, title in ROLE_TITLES.items():
        here = [
            b for b in house.bottles
            if b.ingredient in ingredients and ingredients[b.ingredient].role is role
        ]  # fmt: skip
        if here:
            ordered = sorted(here, key=lambda b: (house.name_of(b.ingredient).casefold(), b.id))
            yield ShelfGroup(title, tuple(_line(house, harm, b) for b in ordered))
    strange = [b for b in house.bottles if b.ingredient not in ingredients]
    if strange:
        yield ShelfGroup("Not known any more", tuple(_line(house, harm, b) for b in strange))


def _line(house: House, harm: dict[str, tuple[str, ...]], bottle: Bottle) -> BottleLine:
    units, currency = house.settings.units, house.settings.currency
    facts = [
        *([f"{number(bottle.abv_percent)} % vol"] if bottle.abv_percent is not None else []),
        left_words(bottle.stock_ml, bottle.size_ml, units),
        *([f"{bottle.price:.2f} {currency}"] if bottle.price is not None else []),
        *bottle.allergens,
    ]
    suffer = harm.get(bottle.ingredient, ()) if bottle.ingredient in house.lacking else ()
    return BottleLine(
        id=bottle.id,
        name=house.name_of(bottle.ingredient),
        address=f"/shelf/{bottle.id}",
        label=bottle.label,
        facts=", ".join(facts),
        out=bottle.out,
        harm=f"/rescue?bottle={bottle.ingredient}" if suffer else "",
    )
