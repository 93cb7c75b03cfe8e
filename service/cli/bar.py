"""`marc bar`: the bar's own records on the terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Annotated

import typer

from service.bar import (
    Bottle,
    OwnIngredient,
    SpecStatus,
    Unit,
    audit_lines,
    list_specs,
    open_bar,
    set_out,
    slice_from,
    slice_of,
)
from service.cli.export import WHO, print_import
from service.cli.out import Json, print_json, print_table
from service.counter.own import load_own_file, own_file, preview_own_file
from service.counter.record_json import changes_json, own_import_json, own_json, slice_json
from service.ingredients import load_catalogue
from service.kit import BadData
from service.settings import read_settings

app = typer.Typer(help="Look through the bar's records.", no_args_is_help=True)
MOST = 500
AfterOption = Annotated[int, typer.Option(min=0, help="the id to go on after")]
LimitOption = Annotated[int, typer.Option(min=1, max=MOST, help="how many lines at most")]


@app.command()
def shelf(after: AfterOption = 0, limit: LimitOption = MOST, json: Json = False) -> None:
    """List the bottles on the shelf, and which are out."""
    with looking() as unit:
        part = slice_of(unit, Bottle, after=after, limit=limit)
    if json:
        print_json(slice_json(part))
        return
    print_table(
        ("id", "ingredient", "label", "% vol", "left, mL", "price", ""),
        (
            (
                str(b.id),
                b.ingredient,
                b.label,
                _number(b.abv_percent),
                _number(b.stock_ml),
                _number(b.price),
                "out" if b.out else "",
            )
            for b in part.items
        ),
    )


@app.command()
def specs(
    status: Annotated[SpecStatus | None, typer.Option(help="only these")] = None,
    after: AfterOption = 0,
    limit: LimitOption = MOST,
    json: Json = False,
) -> None:
    """List the specs at their latest revisions."""
    with looking() as unit:
        part = slice_from(list_specs(unit, status), after=after, limit=limit)
    if json:
        print_json(slice_json(part))
        return
    print_table(
        ("id", "name", "status", "revision", "pours"),
        (
            (
                str(spec.id),
                spec.name,
                str(spec.status),
                str(spec.revision),
                ", ".join(f"{p.ingredient} {p.volume_ml:g} mL" for p in spec.pours),
            )
            for spec in part.items
        ),
    )


@app.command()
def out(
    bottle: Annotated[int, typer.Argument(min=1, help="its id, as `marc bar shelf` lists it")],
    back: Annotated[bool, typer.Option("--back", help="it is back in")] = False,
) -> None:
    """Mark a bottle out, or back in."""
    with closing(open_bar(read_settings().database_url)) as bar, bar.unit(WHO) as unit:
        marked = set_out(unit, bottle, not back)
    print(f"{marked.ingredient} is {'out' if marked.out else 'back in'}")


@app.command()
def changes(
    limit: Annotated[int, typer.Option(min=1, max=MOST, help="how many lines at most")] = 50,
    json: Json = False,
) -> None:
    """List who changed what, the latest first."""
    with looking() as unit:
        lines = audit_lines(unit, limit=limit + 1)
    if json:
        print_json(changes_json(lines, limit))
        return
    print_table(
        ("when", "who", "what", "record", "fields"),
        (
            (
                f"{line.at:%Y-%m-%d %H:%M}",
                line.who,
                line.what,
                f"{line.noun} {line.record}",
                ", ".join(line.changes),
            )
            for line in lines[:limit]
        ),
    )


@app.command()
def own(
    after: Annotated[str, typer.Option(help="the id to go on after")] = "",
    limit: LimitOption = MOST,
    json: Json = False,
) -> None:
    """List the bar's own ingredients."""
    with looking() as unit:
        part = slice_of(unit, OwnIngredient, after=after or None, limit=limit)
    if json:
        print_json(slice_json(part, own_json))
        return
    print_table(
        ("id", "name", "role", "like", "notes"),
        (
            (each.id, each.name, str(each.role), each.like_id, ", ".join(each.notes))
            for each in part.items
        ),
    )


@app.command()
def own_export() -> None:
    """Write the bar's own ingredients as CSV on standard output."""
    with closing(open_bar(read_settings().database_url)) as bar:
        for line in own_file(bar):
            sys.stdout.buffer.write(line.encode())


@app.command()
def own_import(
    file: Annotated[Path, typer.Argument(help="a CSV; its columns stand in the API notes")],
    preview: Annotated[
        bool, typer.Option("--preview", help="only say what loading it would do")
    ] = False,
    json: Json = False,
) -> None:
    """Load own ingredients from a CSV file.

    Bad rows come back on standard output, with line and reason; then the exit code is 1. The good
    rows are loaded.
    """
    if not file.is_file():
        raise BadData(f"there is no file {file}")
    catalogue = load_catalogue()
    with closing(open_bar(read_settings().database_url)) as bar, file.open("rb") as content:
        done = (
            preview_own_file(bar, catalogue, content)
            if preview
            else load_own_file(bar, WHO, catalogue, content)
        )
    if json:
        print_json(own_import_json(done))
    print_import(done, preview, bad=not json)
    if done.bad_count:
        raise typer.Exit(1)


@contextmanager
def looking() -> Iterator[Unit]:
    """The records of the environment's database, to be read."""
    with closing(open_bar(read_settings().database_url)) as bar, bar.look() as unit:
        yield unit


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
