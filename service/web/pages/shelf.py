"""The shelf: every bottle, out or back in with one tap; the shelf as a file, out and in."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any, Final

from fastapi import APIRouter
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    BadRow,
    Bottle,
    Dialect,
    Outcome,
    ShelfImport,
    bottles_on_shelf,
    csv_lines,
    list_coffees,
    load_shelf,
    read_bar_settings,
    set_out,
)
from service.counter.house_known import House, house_in
from service.counter.run_out import harm_of
from service.counter.shelf import catalogue_in
from service.kit import BadData
from service.web.deps import KnownHere, LookHere, UnitHere
from service.web.pages.house import ROLE_TITLES, FormHere, go_to, texts_of, volume_words, whole
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed, number

router = APIRouter()
# A file up to this size waits inside the preview for the tap that loads it.
LARGEST_KEPT_BYTES: Final = 400_000
_SHOWN: Final = 60


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
    coffees: str


@dataclass(frozen=True, slots=True)
class RowLine:
    """One row of a file: its line, what becomes of it, and what it is."""

    line: str
    words: str
    reason: str


@dataclass(frozen=True, slots=True)
class ShelfPreviewPage:
    """What loading a file would do; nothing is written yet."""

    summary: str
    good: tuple[RowLine, ...]
    bad: tuple[RowLine, ...]
    more: str
    text: str
    loads: bool
    loaded: bool


@router.get("/shelf", include_in_schema=False)
def whole_shelf(request: Request, known: KnownHere, unit: LookHere) -> Response:
    """Every bottle."""
    house, harm = house_in(unit, known), harm_of(unit)
    coffees = [coffee.name for coffee in list_coffees(unit, in_use_only=True)]
    out = sum(bottle.out for bottle in house.bottles)
    page = ShelfPage(
        groups=tuple(_groups(house, harm)),
        count=f"{len(house.bottles)} bottles, {out or 'none'} out",
        coffees=listed(coffees),
    )
    return page_answer(request, "shelf.html", page, section="shelf")


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
    dialect = Dialect.of(read_bar_settings(unit).language)
    text = "".join(csv_lines(bottles_on_shelf(unit), dialect))
    name = {"Content-Disposition": 'attachment; filename="shelf.csv"'}
    return Response(text.encode("utf-8"), media_type="text/csv; charset=utf-8", headers=name)


@router.post("/shelf/preview/import", include_in_schema=False)
def preview(request: Request, known: KnownHere, unit: LookHere, form: FormHere) -> Response:
    """What loading a file would do, row by row; nothing is written."""
    content = _content(form)
    result = load_shelf(unit, catalogue_in(unit, known.catalogue), io.BytesIO(content), write=False)
    fits = len(content) <= LARGEST_KEPT_BYTES
    text = content.decode("utf-8-sig") if fits else ""
    page = _preview_page(house_in(unit, known), result, text, loaded=False)
    return page_answer(request, "shelf_preview.html", page, section="shelf")


@router.post("/shelf/import", include_in_schema=False)
def load(request: Request, known: KnownHere, unit: UnitHere, form: FormHere) -> Response:
    """Load a file: the good rows are kept, the bad ones come back with line and reason."""
    result = load_shelf(
        unit, catalogue_in(unit, known.catalogue), io.BytesIO(_content(form)), write=True
    )
    if not result.bad_count:
        return go_to("/shelf")
    page = _preview_page(house_in(unit, known), result, "", loaded=True)
    return page_answer(request, "shelf_preview.html", page, section="shelf", status=HTTPStatus.OK)


def _content(form: FormHere) -> bytes:
    """The file that was chosen, or the one that waited in the preview."""
    given: Any = form.get("file")
    if isinstance(given, UploadFile) and given.filename:
        return given.file.read()
    text = texts_of(form).get("text", "")
    if not text:
        raise BadData("choose a file first: a CSV with one bottle in each row", field="file")
    return text.encode("utf-8")


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
        f"{volume_words(bottle.stock_ml, units)} of {volume_words(bottle.size_ml, units)} bottles",
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


def _preview_page(
    house: House, result: ShelfImport, text: str, *, loaded: bool
) -> ShelfPreviewPage:
    counts = result.counts
    many = counts[Outcome.ADDED] + counts[Outcome.CHANGED]
    summary = (
        f"{counts[Outcome.ADDED]} new, {counts[Outcome.CHANGED]} changed, "
        f"{counts[Outcome.UNCHANGED]} as they were; {result.bad_count} cannot be read"
    )
    good = [row for row in result.good if row.outcome is not Outcome.UNCHANGED]
    return ShelfPreviewPage(
        summary=summary,
        good=tuple(
            RowLine(
                str(row.line),
                f"{house.name_of(row.bottle.ingredient)}{', ' if row.bottle.label else ''}"
                f"{row.bottle.label}",
                str(row.outcome)
                if row.outcome is Outcome.ADDED
                else f"changes {listed(name.replace('_', ' ') for name in row.changes)}",
            )
            for row in good[:_SHOWN]
        ),
        bad=tuple(_bad(row) for row in result.bad[:_SHOWN]),
        more="" if max(len(good), result.bad_count) <= _SHOWN
        else f"The first {_SHOWN} of each kind are shown.",
        text=text,
        loads=bool(many),
        loaded=loaded,
    )  # fmt: skip


def _bad(row: BadRow) -> RowLine:
    column = f"{row.column.replace('_', ' ')}: " if row.column else ""
    return RowLine(str(row.line), ", ".join(filter(None, row.cells)), f"{column}{row.reason}")
