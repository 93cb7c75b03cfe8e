"""Backups that are consistent while the service runs, and restoring them.

From SQLite a backup is a database file, made by SQLite's own backup; from PostgreSQL it is the
open format of `package`, written from one snapshot. Either can be restored into either.
"""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path
from shutil import copyfile
from typing import Final

from service.bar.engine import sqlite_file
from service.bar.package import load_package, write_package
from service.bar.transfer import copy_all, make_room
from service.bar.unit import Bar, open_bar
from service.bar.vessel import ZIP, complete
from service.kit import BadData

_SQLITE_BEGINS: Final = b"SQLite format 3\0"
_ZIP_BEGINS: Final = b"PK"


def back_up(bar: Bar, file: Path) -> None:
    """Write all records to a new file, while anybody goes on writing."""
    if sqlite_file(bar.engine) is None:
        with bar.look() as unit, complete(file) as part:
            package = part.with_name(part.name + ZIP)
            write_package(unit, package)
            package.rename(part)
        return
    with complete(file) as part, closing(bar.engine.raw_connection()) as raw:
        source = raw.driver_connection
        assert isinstance(source, sqlite3.Connection)
        with closing(sqlite3.connect(part)) as copy:
            source.backup(copy)  # in one step, so from one moment
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, nothing beside it


def restore(bar: Bar, file: Path, *, replace: bool = False) -> None:
    """Put the records of a backup in place of the present ones: all of them, or none.

    Needs `replace` where there are records. Who reads meanwhile sees the old ones to the end.
    """
    if not file.is_file():
        raise BadData(f"there is no file {file}")
    with file.open("rb") as opened:
        begins = opened.read(len(_SQLITE_BEGINS))
    if begins == _SQLITE_BEGINS:
        _restore_sqlite(bar, file, replace)
    elif begins.startswith(_ZIP_BEGINS):
        with bar.unit("restore") as unit:
            load_package(unit, file, replace=replace)
    else:
        raise BadData(f"{file} is no backup of this program's")


def _restore_sqlite(bar: Bar, file: Path, replace: bool) -> None:
    """By way of a copy, which is brought up to date first where it is of an older program."""
    with tempfile.TemporaryDirectory() as folder:
        copied = Path(folder) / "backup.sqlite"
        copyfile(file, copied)
        _check_whole(copied, file)
        backup = open_bar(f"sqlite:///{copied}")
        try:
            with backup.look() as source, bar.unit("restore") as target:
                make_room(target, replace=replace)
                copy_all(source, target)
        finally:
            backup.close()


def _check_whole(copied: Path, file: Path) -> None:
    try:
        with closing(sqlite3.connect(copied)) as opened:
            verdict = opened.execute("PRAGMA integrity_check").fetchone()[0]
            tables = {row[0] for row in opened.execute("SELECT name FROM sqlite_master")}
    except sqlite3.DatabaseError as error:
        raise BadData(f"{file} is damaged: {error}") from None
    if verdict != "ok":
        raise BadData(f"{file} is damaged: {verdict}")
    if "alembic_version" not in tables:
        raise BadData(f"{file} is a database, but holds no bar's records")
