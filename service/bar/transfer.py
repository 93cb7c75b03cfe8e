"""All rows of all tables, out of one database and into another, in batches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, Final

from sqlalchemy import Integer, RowMapping, Table, delete, insert, select, text
from sqlalchemy.exc import IntegrityError

from service.bar.columns import metadata
from service.bar.keeping import Values, renumber
from service.bar.unit import Unit, is_empty
from service.kit import BadData, Conflict

BATCH: Final = 1_000


def all_tables() -> tuple[Table, ...]:
    """Every table, each after those it refers to."""
    return tuple(metadata.sorted_tables)


def rows_of(unit: Unit, table: Table) -> Iterator[RowMapping]:
    """Every row in the order of the key, never all of them in memory."""
    query = select(table).order_by(*table.primary_key.columns)
    streamed = unit.connection.execute(query, execution_options={"yield_per": BATCH})
    yield from streamed.mappings()


def make_room(unit: Unit, *, replace: bool) -> None:
    """Hold every table against other writers, and empty them where that was asked for."""
    if unit.on_postgresql:
        names = ", ".join(table.name for table in all_tables())
        unit.connection.execute(text(f"LOCK TABLE {names} IN EXCLUSIVE MODE"))
    if not is_empty(unit) and not replace:
        raise Conflict(
            "there are records here already; make a backup of them, then say that these shall "
            "replace them"
        )
    for table in reversed(all_tables()):
        unit.connection.execute(delete(table))


def write_rows(unit: Unit, table: Table, rows: Iterable[Values | RowMapping]) -> int:
    """Write rows as they are, numbers and versions and all; how many there were."""
    count = 0
    incoming = iter(rows)
    while batch := [dict(row) for row in islice(incoming, BATCH)]:
        _insert(unit, table, batch)
        count += len(batch)
    if isinstance(table.c[0].type, Integer) and len(table.primary_key.columns) == 1:
        renumber(unit, table)
    return count


def copy_all(source: Unit, target: Unit) -> None:
    """Every row of one database into another whose tables are empty."""
    for table in all_tables():
        write_rows(target, table, rows_of(source, table))


def _insert(unit: Unit, table: Table, batch: Sequence[dict[str, Any]]) -> None:
    try:
        unit.connection.execute(insert(table), batch)
    except IntegrityError:
        raise BadData(
            f"the rows of {table.name} do not fit together; a file is missing or was changed by "
            "hand",
            field=table.name,
        ) from None
