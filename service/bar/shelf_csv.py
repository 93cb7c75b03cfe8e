"""The shelf as a CSV file: which columns it has, and what stands in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields
from typing import BinaryIO, Final

from service.bar.bottles import Bottle, BottleDraft
from service.bar.spreadsheets import (
    BadRow,
    Columns,
    Dialect,
    Row,
    cells_of,
    read_number,
    read_rows,
    read_words,
    read_yes_no,
    written,
)

# `id` and `version` say which bottle a row was written from; both stay empty for a new bottle.
COLUMNS: Final = Columns(
    known=("id", "version", *(f.name for f in fields(BottleDraft)), "out"),
    needed=("ingredient", "size_ml"),
)
NUMBERS: Final = ("abv_percent", "sugar_g_per_l", "size_ml", "price", "stock_ml")


def csv_lines(bottles: Iterable[Bottle], dialect: Dialect) -> Iterator[str]:
    """The shelf as a file, line by line."""
    cells = ({name: getattr(bottle, name) for name in COLUMNS.known} for bottle in bottles)
    return written(COLUMNS.known, cells, dialect)


def shelf_rows(file: BinaryIO) -> Iterator[Row | BadRow]:
    """Rows of an uploaded shelf, one at a time. BadData where it is no such file at all."""
    return read_rows(file, COLUMNS)


def draft_of(row: Row, ingredient_id: Callable[[str], str]) -> tuple[BottleDraft, bool]:
    """The bottle that a row describes, and whether it is out; BadData names the column."""
    cells = cells_of(row, COLUMNS)
    numbers = {name: read_number(cells[name], name, row.mark) for name in NUMBERS if cells[name]}
    out = read_yes_no(cells["out"], "out")
    draft = BottleDraft(
        ingredient=ingredient_id(cells["ingredient"]),
        label=cells["label"],
        allergens=read_words(cells["allergens"]),
        notes=cells["notes"],
        **numbers,
    )
    return draft, out
