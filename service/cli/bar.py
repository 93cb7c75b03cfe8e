"""`marc bar`: the bar's own records on the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Annotated

import typer

from service.bar import (
    Bottle,
    SpecStatus,
    Unit,
    audit_lines,
    list_specs,
    open_bar,
    set_out,
    slice_from,
    slice_of,
)
from service.cli.export import WHO
from service.cli.out import Json, print_json, print_table
from service.counter.record_json import changes_json, slice_json
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


@contextmanager
def looking() -> Iterator[Unit]:
    """The records of the environment's database, to be read."""
    with closing(open_bar(read_settings().database_url)) as bar, bar.look() as unit:
        yield unit


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
