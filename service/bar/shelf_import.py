"""Loading a shelf from a CSV file: the good rows are kept, the bad ones come back with the reason.

The file is read row by row and written in batches, so that its size does not matter. A preview
decides every row in the same way and writes none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from itertools import islice
from typing import Any, BinaryIO, Final

from sqlalchemy import bindparam, insert, select, update

from service.bar.bottles import Bottle, BottleDraft, check_bottle
from service.bar.keeping import audit_line, next_keys, record, renumber, values_of
from service.bar.shelf_csv import BadRow, Row, draft_of, read_rows
from service.bar.tables import audit, bottles
from service.bar.unit import Unit
from service.ingredients import Catalogue, NameIndex
from service.kit import BadData, NotFound, ServiceError

BATCH: Final = 1_000
MOST_SHOWN: Final = 1_000
HIGHEST_NUMBER: Final = 1_000_000_000
Progress = Callable[[int], None]


class Outcome(StrEnum):
    """What becomes of a good row."""

    ADDED = "added"
    CHANGED = "changed"
    UNCHANGED = "unchanged"


@dataclass(frozen=True, slots=True)
class GoodRow:
    """A row that can be loaded. `changes` maps each changed field to before and after."""

    line: int
    outcome: Outcome
    bottle: BottleDraft
    out: bool
    key: int | None
    version: int
    changes: Mapping[str, tuple[Any, Any]]


@dataclass(slots=True)
class ShelfImport:
    """What a file came to. The first rows of each kind are kept to be shown."""

    counts: Counter[Outcome] = field(default_factory=Counter)
    bad_count: int = 0
    good: list[GoodRow] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)

    @property
    def rows(self) -> int:
        return self.counts.total() + self.bad_count


def load_shelf(
    unit: Unit,
    catalogue: Catalogue,
    file: BinaryIO,
    *,
    write: bool,
    progress: Progress | None = None,
    on_bad: Callable[[BadRow], None] | None = None,
) -> ShelfImport:
    """Load a file, or only see what loading it would do (`write` False).

    `progress` is told the number of rows done; `on_bad` is given every bad row, however many.
    """
    result = ShelfImport()
    find = _finder(catalogue)
    rows = read_rows(file)
    while batch := list(islice(rows, BATCH)):
        good, bad = _decide(unit, batch, catalogue, find)
        if write:
            _write(unit, good)
        result.counts.update(row.outcome for row in good)
        result.bad_count += len(bad)
        result.good += good[: MOST_SHOWN - len(result.good)]
        result.bad += bad[: MOST_SHOWN - len(result.bad)]
        for row in bad if on_bad else ():
            assert on_bad is not None
            on_bad(row)
        if progress is not None:
            progress(result.rows)
    if write:
        renumber(unit, bottles)
    return result


def _finder(catalogue: Catalogue) -> Callable[[str], str]:
    """Ids by id, name or alias; names that come back often are looked up once."""
    names = NameIndex.of(catalogue.ingredients.values())

    @lru_cache(maxsize=4_096)
    def find(text: str) -> tuple[str, str]:
        """The id, or why there is none. Not the error: it would keep what it passed through."""
        try:
            return names.find(text).id, ""
        except NotFound as error:
            return "", error.message

    def found(text: str) -> str:
        ingredient_id, trouble = find(text)
        if trouble:
            raise NotFound(trouble, field="ingredient")
        return ingredient_id

    return found


def _decide(
    unit: Unit, batch: Sequence[Row | BadRow], catalogue: Catalogue, find: Callable[[str], str]
) -> tuple[list[GoodRow], list[BadRow]]:
    good: list[GoodRow] = []
    bad = [row for row in batch if isinstance(row, BadRow)]
    rows = [row for row in batch if isinstance(row, Row)]
    there = _there(unit, rows)
    for row in rows:
        try:
            draft, out = draft_of(row, find)
            draft = check_bottle(draft, catalogue)
            key = _whole(row, "id")
            if key is None:
                good.append(_new(row, draft, out, None, 1))
            elif key in there:
                good.append(_known(row, draft, out, there.pop(key)))
            elif any(each.key == key for each in good):
                raise BadData(f"bottle {key} stands in this file twice", field="id")
            else:
                good.append(_new(row, draft, out, key, _whole(row, "version") or 1))
        except ServiceError as error:
            cells = tuple(row.cells.values())
            bad.append(BadRow(row.line, error.field or "", error.message, cells))
    return good, sorted(bad, key=lambda row: row.line)


def _there(unit: Unit, rows: Sequence[Row]) -> dict[int, Bottle]:
    """The bottles that the rows were written from, as they are now."""
    ids = {int(text) for row in rows if (text := row.cells.get("id", "")).isdecimal()}
    wanted = {number for number in ids if number <= HIGHEST_NUMBER}
    found = unit.connection.execute(select(bottles).where(bottles.c.id.in_(wanted))).mappings()
    return {row["id"]: record(Bottle, row) for row in found}


def _new(row: Row, draft: BottleDraft, out: bool, key: int | None, version: int) -> GoodRow:
    values = {**values_of(BottleDraft, draft), "out": out}
    changes = {name: (None, value) for name, value in values.items()}
    return GoodRow(row.line, Outcome.ADDED, draft, out, key, version, changes)


def _known(row: Row, draft: BottleDraft, out: bool, seen: Bottle) -> GoodRow:
    if draft.ingredient != seen.ingredient:
        raise BadData(
            f"bottle {seen.id} is {seen.ingredient} here; empty the cells id and version to add "
            "this one beside it",
            field="id",
        )
    before = {**values_of(BottleDraft, seen), "out": seen.out}
    after = {**values_of(BottleDraft, draft), "out": out}
    changes = {n: (before[n], after[n]) for n in after if before[n] != after[n]}
    if changes and _whole(row, "version") != seen.version:
        raise BadData(
            f"bottle {seen.id} was changed after this file was written (it is version "
            f"{seen.version} now); export the shelf again and repeat the change there",
            field="version",
        )
    outcome = Outcome.CHANGED if changes else Outcome.UNCHANGED
    version = seen.version + bool(changes)
    return GoodRow(row.line, outcome, draft, out, seen.id, version, changes)


def _whole(row: Row, column: str) -> int | None:
    text = row.cells.get(column, "")
    if not text:
        return None
    if not text.isdecimal() or not 1 <= int(text) <= HIGHEST_NUMBER:
        raise BadData(f"{text!r} is no number that the program gave; empty the cell", field=column)
    return int(text)


def _write(unit: Unit, rows: Sequence[GoodRow]) -> None:
    """One statement for all rows of a kind, and one for their lines in the audit."""
    new = iter(next_keys(unit, bottles, sum(row.key is None for row in rows)))
    keyed = [(row.key or next(new), row) for row in rows if row.outcome is not Outcome.UNCHANGED]
    added = [{"id": k, **_values(row)} for k, row in keyed if row.outcome is Outcome.ADDED]
    changed = [{"key": k, **_values(row)} for k, row in keyed if row.outcome is Outcome.CHANGED]
    said = [
        audit_line(unit, bottles, {"id": k, "version": row.version}, row.outcome, row.changes)
        for k, row in keyed
    ]
    for statement, values in (
        (insert(bottles), added),
        (update(bottles).where(bottles.c.id == bindparam("key")), changed),
        (insert(audit), said),
    ):
        if values:
            unit.connection.execute(statement, values)


def _values(row: GoodRow) -> dict[str, Any]:
    return {"version": row.version, "out": row.out, **values_of(BottleDraft, row.bottle)}
