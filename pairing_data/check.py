"""Checks the dataset against its own descriptor: every problem with table, line and column.

What is checked stands in datapackage.json, so a new table or column is checked as soon as it is
described there: types and constraints, keys, order, links (both ends), unused entries, ranges,
and the named rules of `pairing_data.rules`. A cell is reported once, for the first thing wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from pairing_data.cells import items, reason_against, shown
from pairing_data.files import Problem, Row, Table, read_table
from pairing_data.rules import LINKED_RULES, RULES
from pairing_data.schema import DESCRIPTOR, End, Field, read_package

__all__ = ["Problem", "problems"]

Tables = Mapping[str, Table]


def problems(folder: Path) -> list[Problem]:
    """Everything wrong with the dataset in a folder, sorted; an empty list if it is sound.

    `folder` holds datapackage.json and the files that it names.
    """
    tables: dict[str, Table] = {}
    found = _Found()
    for schema in read_package(folder):
        tables[schema.name], shape = read_table(folder, schema)
        found.add(shape)
    found.add(_undescribed_files(folder, tables))
    for table in tables.values():
        found.add(_cells(table))
    broken = found.columns()
    for table in tables.values():
        found.add(_links(table, tables, broken))
    for table in tables.values():
        found.add(_unused(table, tables, found.columns()))
    for check in (_ranges, _keys, _unique, _order):
        for table in tables.values():
            found.add(check(table))
    for table in tables.values():
        for rule in table.schema.rules:
            found.add(_ruled(rule, table, tables, found))
    return found.sorted()


def _ruled(rule: str, table: Table, tables: Tables, found: _Found) -> Iterator[Problem]:
    """What a named rule says of the rows that are sound so far."""
    places = RULES[rule](table) if rule in RULES else LINKED_RULES[rule](table, tables)
    for line, column, reason in places:
        if not found.has_row(table.schema.name, line):
            yield Problem(table.schema.name, line, column, reason)


class _Found:
    """The problems so far: the first of each cell, so that one mistake is told once."""

    def __init__(self) -> None:
        self._by_cell: dict[tuple[str, int, str], Problem] = {}
        self._rows: set[tuple[str, int]] = set()

    def add(self, new: Iterable[Problem]) -> None:
        for problem in list(new):
            self._by_cell.setdefault((problem.table, problem.row, problem.column), problem)
            self._rows.add((problem.table, problem.row))

    def has_row(self, table: str, row: int) -> bool:
        return (table, row) in self._rows

    def columns(self) -> frozenset[End]:
        """Columns in which something is wrong."""
        return frozenset(End(table, column) for table, _, column in self._by_cell)

    def sorted(self) -> list[Problem]:
        return sorted(self._by_cell.values())


def _undescribed_files(folder: Path, tables: Tables) -> Iterator[Problem]:
    described = {folder / table.schema.path for table in tables.values()}
    for place in sorted({path.parent for path in described}):
        for path in sorted(place.glob("*.csv")):
            if path not in described:
                yield Problem(path.stem, 0, "", f"the file is not described in {DESCRIPTOR}")


def _cells(table: Table) -> Iterator[Problem]:
    for row in table.rows:
        for field in table.schema.fields:
            if reason := reason_against(field, row.cells[field.name]):
                yield Problem(table.schema.name, row.line, field.name, reason)


def _ranges(table: Table) -> Iterator[Problem]:
    """Low, usual and high are all there or all empty, and in this order."""
    for row in table.rows:
        for names in table.schema.ranges:
            numbers = [_number(row.cells[name]) for name in names]
            if place := _range_problem(names, numbers, row):
                yield Problem(table.schema.name, row.line, *place)


def _range_problem(
    names: tuple[str, str, str], numbers: list[float | None], row: Row
) -> tuple[str, str] | None:
    empty = [name for name in names if not row.cells[name]]
    if 0 < len(empty) < len(names):
        return empty[0], f"the range is not complete: {', '.join(names)} go together"
    low, usual, high = numbers
    if low is None or usual is None or high is None:
        return None
    if low > usual:
        return names[0], f"the lower end {low:g} is above the usual value {usual:g}"
    if usual > high:
        return names[2], f"the upper end {high:g} is below the usual value {usual:g}"
    return None


def _keys(table: Table) -> Iterator[Problem]:
    first: dict[tuple[str, ...], int] = {}
    for row in table.rows:
        key = tuple(row.cells[column] for column in table.schema.key)
        line = first.setdefault(key, row.line)
        if line != row.line:
            reason = f"{shown(', '.join(key))} stands already in line {line}"
            yield Problem(table.schema.name, row.line, table.schema.key[-1], reason)


def _unique(table: Table) -> Iterator[Problem]:
    for field in table.schema.fields:
        if not field.unique:
            continue
        first: dict[str, int] = {}
        for row in table.rows:
            cell = row.cells[field.name]
            line = first.setdefault(cell, row.line)
            if line != row.line:
                reason = f"{shown(cell)} stands already in line {line}; it must be unique"
                yield Problem(table.schema.name, row.line, field.name, reason)


def _order(table: Table) -> Iterator[Problem]:
    """Rows stand in the order of the key, so that a difference of two versions is short."""
    schema = table.schema
    whole = {field.name for field in schema.fields if field.type == "integer"}
    last: tuple[str | float, ...] = ()
    for row in table.rows if schema.sorted_by else []:
        cells = [(column, row.cells[column]) for column in schema.sorted_by]
        key = tuple((_number(cell) or 0.0) if name in whole else cell for name, cell in cells)
        if last and key < last:
            reason = f"rows must be sorted by {', '.join(schema.sorted_by)}; this one is too late"
            yield Problem(schema.name, row.line, schema.sorted_by[0], reason)
            return
        last = key


def _links(table: Table, tables: Tables, broken: frozenset[End]) -> Iterator[Problem]:
    """Every link has its other end. Not judged against a column that is itself broken."""
    for field in table.schema.fields:
        end = field.link
        if end is None or not tables[end.table].sound or end in broken:
            continue
        known = {row.cells[end.column] for row in tables[end.table].rows} | {*field.also}
        for row in table.rows:
            for item in items(field, row.cells[field.name]):
                if item not in known:
                    reason = f"{shown(item)} is not in {end.table}; add it there or correct it"
                    yield Problem(table.schema.name, row.line, field.name, reason)
                    break


def _unused(table: Table, tables: Tables, broken: frozenset[End]) -> Iterator[Problem]:
    """An entry that nothing uses is an orphan. Not judged while a user is broken."""
    schema, ends = table.schema, table.schema.used_by
    if not ends or any(end in broken or not tables[end.table].sound for end in ends):
        return
    used = {item for end in ends for item in _column_items(tables[end.table], end.column)}
    for row in table.rows:
        if row.cells[schema.key[0]] not in used:
            places = " or ".join(end.table for end in ends)
            reason = f"{shown(row.cells[schema.key[0]])} is used nowhere in {places}"
            yield Problem(schema.name, row.line, schema.key[0], reason)


def _column_items(table: Table, column: str) -> Iterator[str]:
    field = _field(table, column)
    for row in table.rows:
        yield from items(field, row.cells[column])


def _field(table: Table, column: str) -> Field:
    return next(field for field in table.schema.fields if field.name == column)


def _number(cell: str) -> float | None:
    try:
        return float(cell)
    except ValueError:
        return None
