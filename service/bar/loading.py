"""Loading records from a file: the good rows are kept, the bad ones come back with the reason.

A file is read row by row and written in batches, so that its size does not matter. A preview
decides every row in the same way and writes none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from itertools import islice
from typing import Any, Final

from sqlalchemy import Table, bindparam, update

from service.bar.keeping import audit_line, next_keys
from service.bar.many_rows import insert_many
from service.bar.spreadsheets import BadRow, Row
from service.bar.tables import audit
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
    """A row that can be loaded.

    key : the record it is; None for one whose number is drawn when it is written
    version : of the record once it is loaded
    values : what is written, by column
    changes : each changed field before and after
    """

    line: int
    outcome: Outcome
    key: int | str | None
    version: int
    values: Mapping[str, Any]
    changes: Mapping[str, tuple[Any, Any]]

    @classmethod
    def added(
        cls, row: Row, key: int | str | None, version: int, values: Mapping[str, Any]
    ) -> GoodRow:
        """A row that nothing is kept of yet."""
        changes = {name: (None, value) for name, value in values.items()}
        return cls(row.line, Outcome.ADDED, key, version, values, changes)

    @classmethod
    def beside(
        cls,
        row: Row,
        key: int | str,
        version: int,
        before: Mapping[str, Any],
        values: Mapping[str, Any],
    ) -> GoodRow:
        """A row of a record that is there, in that version and with what stood `before`."""
        changes = {n: (before[n], values[n]) for n in values if before[n] != values[n]}
        outcome = Outcome.CHANGED if changes else Outcome.UNCHANGED
        return cls(row.line, outcome, key, version + bool(changes), values, changes)


@dataclass(slots=True)
class FileImport:
    """What a file came to. The first rows of each kind are kept to be shown."""

    counts: Counter[Outcome] = field(default_factory=Counter)
    bad_count: int = 0
    good: list[GoodRow] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)

    @property
    def rows(self) -> int:
        return self.counts.total() + self.bad_count

    def take(self, good: Sequence[GoodRow], bad: Sequence[BadRow]) -> None:
        """Count some more rows."""
        self.counts.update(row.outcome for row in good)
        self.bad_count += len(bad)
        self.good += good[: MOST_SHOWN - len(self.good)]
        self.bad += bad[: MOST_SHOWN - len(self.bad)]


# What becomes of one row; a ServiceError names the column and says why it cannot be loaded.
Decide = Callable[[Row], GoodRow]


def load_rows(
    rows: Iterator[Row | BadRow],
    deciding: Callable[[Sequence[Row]], Decide],
    write: Callable[[Sequence[GoodRow]], None] | None,
    *,
    one: str,
    progress: Progress | None = None,
    on_bad: Callable[[BadRow], None] | None = None,
) -> FileImport:
    """Decide on all rows, batch by batch, and write the good ones; without `write`, only decide.

    `deciding` is given each batch and gives what decides on its rows. `progress` is told the
    number of rows done; `on_bad` is given every bad row, however many. `one` is what a row is of,
    for the BadData of a file without any.
    """
    result = FileImport()
    while batch := list(islice(rows, BATCH)):
        good, bad = _decide(batch, deciding)
        if write is not None:
            write(good)
        result.take(good, bad)
        if on_bad is not None:
            for row in bad:
                on_bad(row)
        if progress is not None:
            progress(result.rows)
    if not result.rows:
        raise BadData(f"no row follows line 1; write one {one} in each row below it", field="file")
    return result


def _decide(
    batch: Sequence[Row | BadRow], deciding: Callable[[Sequence[Row]], Decide]
) -> tuple[list[GoodRow], list[BadRow]]:
    good: list[GoodRow] = []
    bad = [row for row in batch if isinstance(row, BadRow)]
    rows = [row for row in batch if isinstance(row, Row)]
    decide = deciding(rows)
    for row in rows:
        try:
            good.append(decide(row))
        except ServiceError as error:
            cells = tuple(row.cells.values())
            bad.append(BadRow(row.line, error.field or "", error.message, cells))
    return good, sorted(bad, key=lambda row: row.line)


def write_rows(unit: Unit, table: Table, rows: Sequence[GoodRow]) -> None:
    """One statement for all rows of a kind, and one for their lines in the audit."""
    unnumbered = sum(row.key is None for row in rows)
    new = iter(next_keys(unit, table, unnumbered) if unnumbered else ())
    keyed = [
        (next(new) if row.key is None else row.key, row)
        for row in rows
        if row.outcome is not Outcome.UNCHANGED
    ]
    added = [{"id": k, **_values(row)} for k, row in keyed if row.outcome is Outcome.ADDED]
    changed = [{"key": k, **_values(row)} for k, row in keyed if row.outcome is Outcome.CHANGED]
    said = [
        audit_line(unit, table, {"id": k, "version": row.version}, row.outcome, row.changes)
        for k, row in keyed
    ]
    insert_many(unit, table, added)
    if changed:
        to_change = update(table).where(table.c.id == bindparam("key"))
        unit.connection.execute(to_change, changed)
    insert_many(unit, audit, said)


def ids_by_name(catalogue: Catalogue, field: str) -> Callable[[str], str]:
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
            raise NotFound(trouble, field=field)
        return ingredient_id

    return found


def whole(row: Row, column: str) -> int | None:
    """A number that the program gave when the file was written; None for an empty cell."""
    text = row.cells.get(column, "")
    if not text:
        return None
    if not text.isdecimal() or not 1 <= int(text) <= HIGHEST_NUMBER:
        raise BadData(f"{text!r} is no number that the program gave; empty the cell", field=column)
    return int(text)


def check_seen(row: Row, what: str, version: int, file: str) -> None:
    """Refuse to change what somebody else changed after the file was written."""
    if whole(row, "version") != version:
        raise BadData(
            f"{what} was changed after this file was written (it is version {version} now); "
            f"export {file} again and repeat the change there",
            field="version",
        )


def _values(row: GoodRow) -> dict[str, Any]:
    return {"version": row.version, **row.values}
