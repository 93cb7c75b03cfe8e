"""Reading one table file: its rows with line numbers, and what is wrong with its shape."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from pairing_data.schema import TableSchema


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong: the table, the line in its file (0: the whole table), the column, why."""

    table: str
    row: int
    column: str
    reason: str

    def __str__(self) -> str:
        place = f"{self.table}, line {self.row}" if self.row else self.table
        return (
            f"{place}, {self.column}: {self.reason}" if self.column else f"{place}: {self.reason}"
        )


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table and the line of the file where it begins."""

    line: int
    cells: dict[str, str]


@dataclass(slots=True)
class Table:
    """A table as read. `sound` is False where a part could not be read: links are not judged."""

    schema: TableSchema
    rows: list[Row] = field(default_factory=list)
    sound: bool = True


def read_table(folder: Path, schema: TableSchema) -> tuple[Table, list[Problem]]:
    """The readable rows of a table, and a problem for each part that is not."""
    table = Table(schema)
    text, problem = _text(folder / schema.path, schema.name)
    found = list(_fill(table, text)) if problem is None else [problem]
    table.sound = not found
    return table, found


def _text(path: Path, name: str) -> tuple[str, Problem | None]:
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        return "", Problem(name, 0, "", f"the file {path.name} is missing")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return "", Problem(name, line, "", "the file is not UTF-8 from here on; save it as UTF-8")
    if text.startswith("\ufeff"):
        return "", Problem(name, 1, "", "the file begins with a byte order mark; save without it")
    if "\r" in text:
        line = text.count("\n", 0, text.index("\r")) + 1
        return "", Problem(name, line, "", "lines must end with LF only, without carriage return")
    return text, None


def _fill(table: Table, text: str) -> Iterator[Problem]:
    name, columns = table.schema.name, table.schema.columns
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        header = next(reader, [])
        if header != columns:
            yield Problem(name, 1, *_header_reason(header, columns))
            return
        line = reader.line_num + 1
        for cells in reader:
            if len(cells) == len(columns):
                table.rows.append(Row(line, dict(zip(columns, cells, strict=True))))
            else:
                reason = f"the row has {len(cells)} cells, the table has {len(columns)} columns"
                yield Problem(name, line, "", reason)
            line = reader.line_num + 1
    except csv.Error as error:
        yield Problem(name, reader.line_num, "", f"the line cannot be read as CSV: {error}")


def _header_reason(header: list[str], columns: list[str]) -> tuple[str, str]:
    for column in columns:
        if column not in header:
            return column, "the column is missing from the header"
    for column in header:
        if column not in columns:
            return column, "the column is not described in datapackage.json"
    return "", f"the columns must stand in this order: {', '.join(columns)}"
