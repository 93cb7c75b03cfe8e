"""`marc backup` and `marc restore`: everything into one file, and out of it."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from service.bar import open_bar
from service.counter.backup import back_up
from service.counter.backup import restore as restore_file
from service.settings import read_settings


def backup(
    file: Annotated[Path, typer.Argument(help="the new file; nothing is written over")],
) -> None:
    """Write all records to one file, while the service runs."""
    with closing(open_bar(read_settings().database_url)) as bar:
        back_up(bar, file)
    print(f"marc: all records are in {file}", file=sys.stderr)


def restore(
    file: Annotated[Path, typer.Argument(help="a file that marc backup wrote")],
    replace: Annotated[
        bool, typer.Option("--replace", help="put them in place of the records that are here")
    ] = False,
) -> None:
    """Take all records out of a backup: all of them, or none where the file is damaged."""
    with closing(open_bar(read_settings().database_url)) as bar:
        restore_file(bar, file, replace=replace)
    print(f"marc: the records of {file} are back", file=sys.stderr)
