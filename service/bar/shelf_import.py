"""Loading a shelf from a CSV file: which bottle each row is, and what it changes of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, BinaryIO

from sqlalchemy import select

from service.bar.bottles import Bottle, BottleDraft, check_bottle
from service.bar.keeping import record, renumber, values_of
from service.bar.loading import (
    HIGHEST_NUMBER,
    Decide,
    FileImport,
    GoodRow,
    Outcome,
    Progress,
    check_seen,
    ids_by_name,
    load_rows,
    whole,
    write_rows,
)
from service.bar.shelf_csv import draft_of, shelf_rows
from service.bar.spreadsheets import BadRow, Row
from service.bar.tables import bottles
from service.bar.unit import Unit
from service.ingredients import Catalogue
from service.kit import BadData


def load_shelf(
    unit: Unit,
    catalogue: Catalogue,
    file: BinaryIO,
    *,
    write: bool,
    progress: Progress | None = None,
    on_bad: Callable[[BadRow], None] | None = None,
) -> FileImport:
    """Load a file, or only see what loading it would do (`write` False).

    `progress` is told the number of rows done; `on_bad` is given every bad row, however many.
    """
    find, taken = ids_by_name(catalogue, "ingredient"), set[int]()

    def deciding(rows: Sequence[Row]) -> Decide:
        return _deciding(unit, catalogue, find, taken, rows)

    def written(rows: Sequence[GoodRow]) -> None:
        write_rows(unit, bottles, rows)

    result = load_rows(
        shelf_rows(file),
        deciding,
        written if write else None,
        one="bottle",
        progress=progress,
        on_bad=on_bad,
    )
    if write:
        renumber(unit, bottles)
    return result


def _deciding(
    unit: Unit,
    catalogue: Catalogue,
    find: Callable[[str], str],
    taken: set[int],
    rows: Sequence[Row],
) -> Decide:
    there = _there(unit, rows)

    def decide(row: Row) -> GoodRow:
        draft, out = draft_of(row, find)
        values = {**values_of(BottleDraft, check_bottle(draft, catalogue)), "out": out}
        key = whole(row, "id")
        if key is None:
            return GoodRow.added(row, None, 1, values)
        if key in taken:
            raise BadData(f"bottle {key} stands in this file twice", field="id")
        seen = there.get(key)
        good = (
            GoodRow.added(row, key, whole(row, "version") or 1, values)
            if seen is None
            else _known(row, seen, values)
        )
        taken.add(key)
        return good

    return decide


def _there(unit: Unit, rows: Sequence[Row]) -> dict[int, Bottle]:
    """The bottles that the rows were written from, as they are now."""
    ids = {int(text) for row in rows if (text := row.cells.get("id", "")).isdecimal()}
    wanted = {number for number in ids if number <= HIGHEST_NUMBER}
    found = unit.connection.execute(select(bottles).where(bottles.c.id.in_(wanted))).mappings()
    return {row["id"]: record(Bottle, row) for row in found}


def _known(row: Row, seen: Bottle, values: dict[str, Any]) -> GoodRow:
    if values["ingredient"] != seen.ingredient:
        raise BadData(
            f"bottle {seen.id} is {seen.ingredient} here; empty the cells id and version to add "
            "this one beside it",
            field="id",
        )
    before = {**values_of(BottleDraft, seen), "out": seen.out}
    good = GoodRow.beside(row, seen.id, seen.version, before, values)
    if good.outcome is Outcome.CHANGED:
        check_seen(row, f"bottle {seen.id}", seen.version, "the shelf")
    return good
