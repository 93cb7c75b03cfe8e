"""`marc data`: is the dataset sound, and what does it cover?"""

from __future__ import annotations

import sys
from typing import Annotated

import typer

import pairing_data
from pairing_data.check import problems
from service.cli.out import Json, print_json, print_table
from service.counter.coverage import Coverage, Tally, coverage, coverage_json
from service.ingredients import load_catalogue
from service.ingredients.records import Grade, Role

app = typer.Typer(help="Check the open dataset and report what it covers.", no_args_is_help=True)

HEAD = ("ingredient", "role", "rows", "figures", "well known", *map(str, Grade), "words")


@app.command()
def check() -> None:
    """Validate every table: types, links, ranges, duplicates, units. Exit code 1 on a problem."""
    found = problems(pairing_data.FOLDER)
    for problem in found:
        print(problem)
    if found:
        print(f"marc: {len(found)} problems in the dataset", file=sys.stderr)
        raise typer.Exit(1)
    print("the dataset is sound")


@app.command()
def report(
    role: Annotated[Role | None, typer.Option(help="only this role")] = None,
    json: Json = False,
) -> None:
    """Print how well each ingredient is known: rows by grade, with totals at the end."""
    found = coverage(load_catalogue(), role)
    if json:
        print_json(coverage_json(found))
    else:
        print_table(HEAD, _rows(found))


def _rows(found: Coverage) -> list[tuple[str, ...]]:
    rows = [
        (
            one.ingredient.id,
            str(one.ingredient.role),
            *_cells(one.odorants, "words only" if one.by_words_only else "no smell"),
            str(one.words),
        )
        for one in found.ingredients
    ]
    totals = [(f"all {role}", str(role), *_cells(t), "") for role, t in found.by_role.items()]
    return [
        *rows,
        *totals,
        ("reference coffee", str(Role.COFFEE), *_cells(found.coffee), ""),
        ("all ingredients", "", *_cells(found.total), ""),
    ]


def _cells(tally: Tally, without_rows: str = "-") -> tuple[str, ...]:
    share = tally.well_known_share
    return (
        str(tally.rows),
        str(tally.with_figure),
        without_rows if share is None else f"{share:.0%}",
        *(str(tally.by_grade[grade]) for grade in Grade),
    )
