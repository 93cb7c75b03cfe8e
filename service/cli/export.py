"""`marc export` and `marc import`: records in open formats, for other programs and other bars."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from service.bar import BadRow, Bar, FileImport, Outcome, open_bar
from service.counter.exchange import export_all, import_all
from service.counter.shelf import load_shelf_file, preview_shelf_file, shelf_file
from service.ingredients import load_catalogue
from service.kit import BadData
from service.settings import read_settings

WHO = "command line"


def export(
    everything: Annotated[
        Path | None, typer.Option("--all", help="every record, to a new folder or a .zip")
    ] = None,
    shelf: Annotated[
        bool, typer.Option("--shelf", help="the shelf alone, as CSV on standard output")
    ] = False,
) -> None:
    """Write records in open formats: CSV with a descriptor."""
    if shelf == (everything is not None):
        raise BadData("say what to export: --all PLACE, or --shelf")
    with closing(open_bar(read_settings().database_url)) as bar:
        if everything is None:
            for line in shelf_file(bar):
                sys.stdout.buffer.write(line.encode())
        else:
            rows = export_all(bar, everything)
            print(f"marc: {rows} rows are in {everything}", file=sys.stderr)


def import_(
    place: Annotated[Path, typer.Argument(help="what marc export wrote: folder, .zip or .csv")],
    replace: Annotated[
        bool, typer.Option("--replace", help="put them in place of the records that are here")
    ] = False,
    preview: Annotated[
        bool, typer.Option("--preview", help="only say what a shelf's CSV would do")
    ] = False,
) -> None:
    """Read records back: everything from a folder or .zip, or a shelf from a .csv.

    Bad rows of a shelf come back on standard output, with line and reason; then the exit code
    is 1. The good rows are loaded.
    """
    with closing(open_bar(read_settings().database_url)) as bar:
        if place.suffix.lower() == ".csv":
            _import_shelf(bar, place, preview)
        elif preview:
            raise BadData("only a shelf's CSV can be previewed")
        else:
            rows = import_all(bar, WHO, place, replace=replace, progress=_say)
            print(f"marc: {rows} rows are loaded", file=sys.stderr)


def _import_shelf(bar: Bar, place: Path, preview: bool) -> None:
    catalogue = load_catalogue()
    if not place.is_file():
        raise BadData(f"there is no file {place}")
    with place.open("rb") as file:
        if preview:
            done = preview_shelf_file(bar, catalogue, file)
        else:
            done = load_shelf_file(bar, WHO, catalogue, file, progress=_say, on_bad=_print_bad)
    print_import(done, preview, bad=preview)
    if done.bad_count:
        raise typer.Exit(1)


def print_import(done: FileImport, preview: bool, *, bad: bool) -> None:
    """What a file came to, in one line of talk; and its bad rows, where they are wanted."""
    for row in done.bad if bad else ():
        _print_bad(row)
    print(f"marc: {_summary(done, preview)}", file=sys.stderr)


def _summary(done: FileImport, preview: bool) -> str:
    if set(done.counts) == {Outcome.UNCHANGED} and not done.bad_count:
        said = "nothing would change" if preview else "nothing was changed"
        return f"all {done.rows} rows are here already; {said}"
    counts = ", ".join(f"{count} {outcome}" for outcome, count in sorted(done.counts.items()))
    verb = "would be" if preview else "were"
    return f"of {done.rows} rows {counts or 'none'} {verb} loaded; {done.bad_count} are bad"


def _print_bad(row: BadRow) -> None:
    print(f"line {row.line}: {row.column}: {row.reason}" if row.column else
          f"line {row.line}: {row.reason}")  # fmt: skip


def _say(rows: int) -> None:
    if rows % 10_000 == 0:
        print(f"marc: {rows} rows", file=sys.stderr)
