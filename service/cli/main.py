"""The command `marc`: one sub-command per file, results on stdout, talk on stderr."""

from __future__ import annotations

import sys
from typing import NoReturn

import typer

from service.cli import (
    affinity,
    backup,
    balance,
    data,
    explain,
    export,
    graph,
    ingredients,
    pair,
    physics,
    serve,
    swap,
)
from service.kit import ServiceError

app = typer.Typer(
    name="marc",
    help="What goes with a coffee, and whether the drink is still in balance after the bed.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
app.command("serve")(serve.serve)
app.command("pair")(pair.pair)
app.command("balance")(balance.balance)
app.command("ingredients")(ingredients.ingredients)
app.command("affinity")(affinity.affinity)
app.command("swap")(swap.swap_command)
app.command("explain")(explain.explain)
app.command("stir")(physics.stir)
app.command("bed")(physics.bed)
app.command("graph")(graph.graph)
app.command("backup")(backup.backup)
app.command("restore")(backup.restore)
app.command("export")(export.export)
app.command("import")(export.import_)
app.add_typer(data.app, name="data")


def run() -> NoReturn:
    """Run the command; an error of the service is one plain line and exit code 1."""
    try:
        app(standalone_mode=True)
    except ServiceError as error:
        print(f"marc: {error}", file=sys.stderr)
        sys.exit(1)
    except BrokenPipeError:
        sys.exit(1)
    sys.exit(0)
