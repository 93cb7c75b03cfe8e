"""Everything in an open format: a folder or zip of CSV files with a descriptor, and back again.

The descriptor is a tabular data package (Walsh and Pollock, Data Package, 2017): any program that
reads CSV can read these files, and most that read data packages know the types, too.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Column, Dialect, Table

from service.bar.cells import from_cell, kind_of, to_cell
from service.bar.loading import Progress
from service.bar.migrate import NEWEST, SCHEMAS
from service.bar.transfer import all_tables, make_room, rows_of, write_rows
from service.bar.unit import Unit
from service.bar.vessel import Source, Target, open_source, open_target
from service.kit import BadData

DESCRIPTOR: Final = "datapackage.json"
NAME: Final = "marc-bar-records"
_PROGRESS_EVERY: Final = 1_000


def write_package(unit: Unit, place: Path) -> int:
    """Write every table to a folder, or to a zip where the name ends so; how many rows it was.

    The place appears only when it is complete. All files are of one moment.
    """
    with open_target(place) as target:
        rows = {table.name: _write_table(unit, table, target) for table in all_tables()}
        with target.open(DESCRIPTOR) as out:
            json.dump(_descriptor(unit, rows), out, ensure_ascii=False, indent=2)
            out.write("\n")
    return sum(rows.values())


def load_package(
    unit: Unit, place: Path, *, replace: bool = False, progress: Progress | None = None
) -> int:
    """Load what `write_package` wrote: all of it or, where anything is wrong, nothing.

    An older schema may lack columns and tables that came later; they get their usual values.
    """
    with open_source(place) as source:
        described = _read_descriptor(source)
        make_room(unit, replace=replace)
        total = 0
        for table in all_tables():
            if table.name in described:
                total += _load_table(unit, table, source, described[table.name], total, progress)
    return total


def _write_table(unit: Unit, table: Table, target: Target) -> int:
    dialect, count = unit.connection.dialect, 0
    with target.open(f"{table.name}.csv") as out:
        writer = csv.writer(out, lineterminator="\r\n")
        writer.writerow(column.name for column in table.c)
        for row in rows_of(unit, table):
            writer.writerow(to_cell(column, row[column], dialect) for column in table.c)
            count += 1
    return count


def _descriptor(unit: Unit, rows: Mapping[str, int]) -> dict[str, Any]:
    return {
        "name": NAME,
        "title": "A bar's records: shelf, coffees, specs, trials, guest links and the audit",
        "profile": "tabular-data-package",
        "schema_of_records": NEWEST,
        "created": unit.at.isoformat(),
        "resources": [
            {
                "name": table.name,
                "path": f"{table.name}.csv",
                "profile": "tabular-data-resource",
                "format": "csv",
                "mediatype": "text/csv",
                "encoding": "utf-8",
                "rows": rows[table.name],
                "schema": {
                    "fields": [
                        {"name": column.name, "type": str(kind_of(column))} for column in table.c
                    ],
                    "primaryKey": [column.name for column in table.primary_key.columns],
                },
            }
            for table in all_tables()
        ],
    }


def _read_descriptor(source: Source) -> dict[str, int]:
    """The tables that a package holds, each with its number of rows."""
    try:
        with source.open(DESCRIPTOR) as file:
            package = json.load(file)
        name, schema = package["name"], package["schema_of_records"]
        described = {each["name"]: int(each["rows"]) for each in package["resources"]}
    except (ValueError, KeyError, TypeError):
        raise BadData(f"{DESCRIPTOR} is not one of a bar's records", field=DESCRIPTOR) from None
    if name != NAME:
        raise BadData(f"this is {name!r}, no bar's records", field=DESCRIPTOR)
    if schema not in SCHEMAS:
        raise BadData(
            f"these records have schema {schema}, which is newer than this program; "
            "install the newer program",
            field=DESCRIPTOR,
        )
    missing = [table.name for table in all_tables() if table.name not in described]
    if missing and schema == NEWEST:
        raise BadData(f"the table {missing[0]} is missing", field=DESCRIPTOR)
    return described


def _load_table(
    unit: Unit,
    table: Table,
    source: Source,
    described: int,
    before: int,
    progress: Progress | None,
) -> int:
    name = f"{table.name}.csv"
    with source.open(name) as file:
        rows = _read_table(table, csv.reader(file, strict=True), name, unit.connection.dialect)
        count = write_rows(unit, table, _counted(rows, before, progress))
    if count != described:
        raise BadData(f"{count} rows, but {described} were written; a part is missing", field=name)
    return count


def _read_table(
    table: Table, lines: Iterator[list[str]], name: str, dialect: Dialect
) -> Iterator[dict[str, Any]]:
    done = 0
    try:
        columns = _columns(table, next(lines, []))
        for cells in lines:
            yield {
                column.name: from_cell(column, cell, dialect)
                for column, cell in zip(columns, cells, strict=True)
            }
            done += 1
    except (BadData, csv.Error, ValueError) as error:
        reason = str(error) if isinstance(error, BadData) else "this is broken"
        raise BadData(f"row {done + 1}: {reason}", field=name) from None


def _columns(table: Table, head: list[str]) -> list[Column[Any]]:
    if unknown := [each for each in head if each not in table.c]:
        raise BadData("this column is not known", field=unknown[0])
    return [table.c[each] for each in head]


def _counted(
    rows: Iterator[dict[str, Any]], before: int, progress: Progress | None
) -> Iterator[dict[str, Any]]:
    for count, row in enumerate(rows, start=before + 1):
        yield row
        if progress is not None and count % _PROGRESS_EVERY == 0:
            progress(count)
