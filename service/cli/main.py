"""The command `marc`: one sub-command per file, results on stdout, talk on stderr."""

from __future__ import annotations

import os
import sys
from typing import NoReturn

import typer
from typer.exceptions import TyperException

from service.cli import (
    affinity,
    backup,
    balance,
    bar,
    compose,
    data,
    explain,
    export,
    graph,
    ingredients,
    pair,
    physics,
    reach,
    serve,
    swap,
    token,
)
from service.kit import ServiceError

INTERRUPTED = 130  # as shells count it
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
app.command("compose")(compose.compose)
app.command("swap")(swap.swap_command)
app.command("explain")(explain.explain)
app.command("stir")(physics.stir)
app.command("bed")(physics.bed)
app.command("reach")(reach.reach)
app.command("graph")(graph.graph)
app.command("backup")(backup.backup)
app.command("restore")(backup.restore)
app.command("export")(export.export)
app.command("import")(export.import_)
app.command("passphrase")(token.passphrase)
app.add_typer(bar.app, name="bar")
app.add_typer(token.app, name="token")
app.add_typer(data.app, name="data")


def run() -> NoReturn:
    """Run the command: exit code 0; 1 with one plain line where it cannot be done; 2 where the
    command itself is not understood."""
    try:
        code = app(standalone_mode=False)
        sys.stdout.flush()
    except typer.Abort:
        sys.exit(INTERRUPTED)
    except TyperException as error:
        _leave(2, _misunderstood(error))
    except ServiceError as error:
        _leave(1, str(error))
    except BrokenPipeError:
        # Whoever reads has seen enough; nothing must complain at the end either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except OSError as error:
        _leave(1, f"{error.filename or 'file'}: {error.strerror or error}")
    sys.exit(code if isinstance(code, int) else 0)


def _misunderstood(error: TyperException) -> str:
    """What was wrong with a command line, on one line, and where to look."""
    context, says = getattr(error, "ctx", None), getattr(error, "format_message", None)
    command = context.command_path if context else "marc"
    words = " ".join(str(says() if says else error).split()).replace("Value error, ", "")
    return f"{words.removesuffix('.') or 'no command is named'}; see {command} --help"


def _leave(code: int, message: str) -> NoReturn:
    print(f"marc: {message}", file=sys.stderr)
    sys.exit(code)
