"""`marc data`: is the dataset sound, and what does it cover?"""

from __future__ import annotations

import sys

import typer

import pairing_data
from pairing_data.check import problems

app = typer.Typer(help="Check the open dataset and report what it covers.", no_args_is_help=True)


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
