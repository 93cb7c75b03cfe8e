"""Many new rows at once: PostgreSQL takes them as one stream, SQLite as one prepared statement."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Table, insert
from sqlalchemy.exc import DBAPIError

from service.bar.unit import Unit

Cell = Callable[[Any], Any]


def insert_many(unit: Unit, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Add rows that all name the same columns; the other columns take their defaults."""
    if not rows:
        return
    if not unit.on_postgresql:
        unit.connection.execute(insert(table), list(rows))
        return
    # A statement per row would be read, planned and answered one by one.
    names = tuple(rows[0])
    cells = [_cell(unit, table, name) for name in names]
    columns = ", ".join(f'"{name}"' for name in names)
    copy = f'COPY "{table.name}" ({columns}) FROM STDIN'
    driver: Any = unit.connection.connection.driver_connection
    with _as_elsewhere(unit, copy), driver.cursor() as cursor, cursor.copy(copy) as to:
        for row in rows:
            to.write_row([cell(row[name]) for cell, name in zip(cells, names, strict=True)])


def _cell(unit: Unit, table: Table, name: str) -> Cell:
    """How a value of a column is handed to the driver, as an INSERT would do it."""
    dialect = unit.connection.dialect
    kind = table.c[name].type
    return kind.dialect_impl(dialect).bind_processor(dialect) or _as_it_is


@contextmanager
def _as_elsewhere(unit: Unit, statement: str) -> Iterator[None]:
    """The driver's own errors as every other statement raises them."""
    driver_error = unit.connection.dialect.loaded_dbapi.Error
    try:
        yield
    except driver_error as error:
        dialect = unit.connection.dialect
        raise DBAPIError.instance(statement, None, error, driver_error, dialect=dialect) from None


def _as_it_is(value: Any) -> Any:
    return value
