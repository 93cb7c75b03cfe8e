"""A backup of everything, and everything out of a backup."""

from __future__ import annotations

from pathlib import Path

from service import bar as records
from service.bar import Bar


def back_up(bar: Bar, file: Path) -> None:
    """Write all records to a new file, consistent while anybody goes on writing."""
    records.back_up(bar, file)


def restore(bar: Bar, file: Path, *, replace: bool = False) -> None:
    """All records of a backup in place of the present ones; `replace` where there are any."""
    records.restore(bar, file, replace=replace)
