"""`marc token` and `marc passphrase`: what lets programs and people in."""

from __future__ import annotations

import sys
from contextlib import closing
from typing import Annotated

import typer

from service.bar import Scope, list_api_tokens, make_api_token, open_bar, revoke_api_token
from service.cli.bar import looking
from service.cli.export import WHO
from service.cli.out import print_table
from service.settings import hashed, read_settings

app = typer.Typer(help="Hand out API tokens and call them in.", no_args_is_help=True)


@app.command()
def new(
    name: Annotated[str, typer.Argument(help="whose it is, as the audit will say")],
    scope: Annotated[
        list[Scope] | None, typer.Option(help="read or write; repeat it; read by default")
    ] = None,
) -> None:
    """Make a token, and print its words: this is the only time they are seen."""
    scopes = frozenset(scope or [Scope.READ])
    with closing(open_bar(read_settings().database_url)) as bar, bar.unit(WHO) as unit:
        token, words = make_api_token(unit, name, scopes)
    print(f"marc: {token.name} may {' and '.join(token.scopes)}; keep this well:", file=sys.stderr)
    print(words)


@app.command("list")
def list_() -> None:
    """List the tokens that are good, by their first letters."""
    with looking() as unit:
        tokens = list_api_tokens(unit)
    print_table(
        ("id", "name", "may", "begins with", "made"),
        ((str(t.id), t.name, " ".join(t.scopes), t.hint, f"{t.made_at:%Y-%m-%d}") for t in tokens),
    )


@app.command()
def revoke(
    token: Annotated[int, typer.Argument(min=1, help="its id, as `marc token list` shows it")],
) -> None:
    """Call a token in: from now on it opens nothing."""
    with closing(open_bar(read_settings().database_url)) as bar, bar.unit(WHO) as unit:
        gone = revoke_api_token(unit, token)
    print(f"{gone.name} opens nothing any more")


def passphrase() -> None:
    """Print the argon2 hash of a passphrase, to be set as MARC_PASSPHRASE between single quotes."""
    if sys.stdin.isatty():
        words = typer.prompt("Passphrase", hide_input=True, confirmation_prompt=True, err=True)
    else:
        words = sys.stdin.readline().rstrip("\r\n")
    print(hashed(words))
