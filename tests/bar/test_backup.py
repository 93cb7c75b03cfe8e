"""Backups while others write, and restoring them: all or nothing."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from itertools import count
from pathlib import Path
from threading import Event, Thread

import pytest

from service.bar import Bar, add_bottle, back_up, bottles_on_shelf, open_bar, restore
from service.bar.engine import make_engine
from service.bar.migrate import SCHEMAS, migrate
from service.bar.vessel import complete
from service.ingredients import Catalogue
from service.kit import BadData, Conflict
from tests.bar.databases import MakeDatabase
from tests.bar.drafts import BOTTLE, a_bottle
from tests.bar.everything import everything, fill
from tests.bar.test_migrate import FIRST_ROWS, write_first_rows


def test_a_backup_restores_identical_into_either_database(
    bar: Bar, any_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    fill(bar, catalogue)
    back_up(bar, tmp_path / "backup")
    a_bottle(any_bar, catalogue)
    with pytest.raises(Conflict):
        restore(any_bar, tmp_path / "backup")
    restore(any_bar, tmp_path / "backup", replace=True)
    assert everything(any_bar) == everything(bar)


def test_a_backup_made_while_others_write_is_of_one_moment(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    stop, begun = Event(), Event()

    def write_pairs() -> None:
        """Bottles come in pairs, each pair in one request."""
        for number in count():
            with bar.unit("writer") as unit:
                for half in ("left", "right"):
                    add_bottle(unit, catalogue, replace(BOTTLE, label=f"{number} {half}"))
            begun.set()
            if stop.is_set():
                return

    writers = [Thread(target=write_pairs) for _ in range(2)]
    for thread in writers:
        thread.start()
    begun.wait(10)
    for number in range(4):
        back_up(bar, tmp_path / f"backup{number}")
    stop.set()
    for thread in writers:
        thread.join()
    sizes = []
    for number in range(4):
        restore(other_bar, tmp_path / f"backup{number}", replace=True)
        with other_bar.look() as unit:
            labels = [bottle.label.split() for bottle in bottles_on_shelf(unit)]
        sides = [side for _, side in labels]
        assert sides.count("left") == sides.count("right")
        sizes.append(len(labels))
    assert sizes == sorted(sizes)
    assert sizes[0] >= 2


def test_a_sqlite_backup_is_one_whole_file(
    make_database: MakeDatabase, catalogue: Catalogue, tmp_path: Path
) -> None:
    with closing(open_bar(make_database("sqlite", True))) as bar:
        fill(bar, catalogue)
        back_up(bar, tmp_path / "backup.sqlite")
        rows = len(everything(bar)["audit"])
    with closing(sqlite3.connect(tmp_path / "backup.sqlite")) as opened:
        assert opened.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert opened.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert opened.execute("SELECT count(*) FROM audit").fetchone() == (rows,)
    assert [path.name for path in tmp_path.iterdir()] == ["backup.sqlite"]
    assert (tmp_path / "backup.sqlite").stat().st_mode & 0o077 == 0


def test_a_backup_of_an_older_program_is_brought_up_to_date(bar: Bar, tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'old.sqlite'}")
    migrate(engine, SCHEMAS[0])
    with engine.begin() as connection:
        write_first_rows(connection)
    engine.dispose()
    restore(bar, tmp_path / "old.sqlite")
    restored = everything(bar)
    assert all(len(restored[table]) == 1 for table in FIRST_ROWS)
    assert restored["bottles"][0]["label"] == FIRST_ROWS["bottles"]["label"]


def test_a_broken_backup_changes_nothing(bar: Bar, catalogue: Catalogue, tmp_path: Path) -> None:
    a_bottle(bar, catalogue)
    before = everything(bar)
    with closing(sqlite3.connect(tmp_path / "other.sqlite")) as other:
        other.execute("CREATE TABLE letters (text)")
    (tmp_path / "letter").write_text("Dear bar")
    (tmp_path / "empty").touch()
    (tmp_path / "half").write_bytes(b"SQLite format 3\0" + b"\xff" * 5_000)
    (tmp_path / "zip").write_bytes(b"PK\x03\x04 and no more")
    for name in ("other.sqlite", "letter", "empty", "half", "zip", "missing"):
        with pytest.raises(BadData):
            restore(bar, tmp_path / name, replace=True)
        assert everything(bar) == before


def test_a_backup_is_never_written_over_another(bar: Bar, tmp_path: Path) -> None:
    (tmp_path / "backup").write_text("the only one there is")
    with pytest.raises(Conflict):
        back_up(bar, tmp_path / "backup")
    assert (tmp_path / "backup").read_text() == "the only one there is"


def test_a_file_that_was_not_finished_is_not_there(tmp_path: Path) -> None:
    def fail_halfway() -> None:
        with complete(tmp_path / "backup") as part:
            part.write_text("half of it")
            raise OSError("the disk is full")

    with pytest.raises(OSError, match="full"):
        fail_halfway()
    assert list(tmp_path.iterdir()) == []
