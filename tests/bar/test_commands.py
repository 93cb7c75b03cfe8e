"""The commands that keep a bar's records safe, run as a person runs them."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from service.bar import Bar, bottles_on_shelf, load_demo, open_bar
from service.cli.main import run
from service.ingredients import Catalogue
from tests.bar.everything import everything


@dataclass(frozen=True)
class Done:
    """How a command ended, and what it said."""

    returncode: int
    stdout: str
    stderr: str


Marc = Callable[..., Done]


@pytest.fixture
def marc(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Marc:
    """Runs the command on a database."""

    def run_it(url: str, *words: str | Path) -> Done:
        monkeypatch.setenv("MARC_DATABASE_URL", url)
        monkeypatch.setattr(sys, "argv", ["marc", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            run()
        assert isinstance(ended.value.code, int)
        return Done(ended.value.code, *capfd.readouterr())

    return run_it


@pytest.fixture
def demo(bar: Bar, catalogue: Catalogue) -> Bar:
    load_demo(bar, catalogue)
    return bar


def test_backup_and_restore(
    marc: Marc, demo: Bar, database_url: str, other_url: str, tmp_path: Path
) -> None:
    file = tmp_path / "backup"
    assert marc(database_url, "backup", file).returncode == 0
    again = marc(database_url, "backup", file)
    assert (again.returncode, again.stdout) == (1, "")
    assert "exists already" in again.stderr
    assert marc(other_url, "restore", file).returncode == 0
    refused = marc(other_url, "restore", file)
    assert refused.returncode == 1
    assert "replace" in refused.stderr
    assert marc(other_url, "restore", file, "--replace").returncode == 0
    with closing(open_bar(other_url)) as restored:
        assert everything(restored) == everything(demo)


def test_export_and_import_of_everything(
    marc: Marc, demo: Bar, database_url: str, other_url: str, tmp_path: Path
) -> None:
    for place in (tmp_path / "records", tmp_path / "records.zip"):
        assert marc(database_url, "export", "--all", place).returncode == 0
        done = marc(other_url, "import", place, "--replace")
        assert (done.returncode, done.stdout) == (0, "")
        with closing(open_bar(other_url)) as imported:
            assert everything(imported) == everything(demo)


def test_a_shelf_goes_out_and_comes_in_and_bad_rows_come_back(
    marc: Marc, demo: Bar, database_url: str, other_url: str, tmp_path: Path
) -> None:
    exported = marc(database_url, "export", "--shelf")
    assert exported.returncode == 0
    file = tmp_path / "shelf.csv"
    file.write_text(exported.stdout + ",,nothing,x,,,700,,0,,,no\n", encoding="utf-8")
    for words, loaded in ((["--preview"], 0), ([], 45)):
        done = marc(other_url, "import", file, *words)
        assert done.returncode == 1
        assert done.stdout.startswith("line 47: ingredient: 'nothing' is no ingredient")
        assert "45 added" in done.stderr
        with closing(open_bar(other_url)) as imported, imported.look() as unit:
            assert len(bottles_on_shelf(unit)) == loaded


@pytest.mark.parametrize(
    "words",
    [["export"], ["export", "--shelf", "--all", "x"], ["import", "no-such-file"],
     ["import", "no-such.csv"], ["restore", "no-such-file"],
     ["backup", "no/such/folder/file"]],
)  # fmt: skip
def test_what_cannot_be_done_is_one_plain_line(
    marc: Marc, tmp_path: Path, words: list[str]
) -> None:
    done = marc(f"sqlite:///{tmp_path / 'bar.sqlite'}", *words)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("marc: ")
    assert done.stderr.count("\n") == 1
