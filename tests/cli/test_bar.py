"""`marc bar`, `marc token` and `marc passphrase`, run as a person runs them."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.bar import Bar, audit_lines, load_demo, open_bar
from service.cli.main import run
from service.counter.known import Known
from service.settings import Passphrase, Settings
from service.web.app import create_app
from tests.bar.databases import MakeDatabase, make_database
from tests.web.conftest import HERE

__all__ = ["make_database"]


@pytest.fixture
def url(make_database: MakeDatabase, known: Known) -> Iterator[str]:
    """The demo bar."""
    with make_database.lend("sqlite") as url, closing(open_bar(url)) as bar:
        load_demo(bar, known.catalogue)
        yield url


@pytest.fixture
def bar(url: str) -> Iterator[Bar]:
    with closing(open_bar(url)) as opened:
        yield opened


class Marc:
    """The command on one database."""

    def __init__(self, capture: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch) -> None:
        self.capture, self.patch = capture, patch

    def __call__(self, *words: str, code: int = 0) -> str:
        """What it prints for other programs."""
        self.patch.setattr(sys, "argv", ["marc", *words])
        with pytest.raises(SystemExit) as ended:
            run()
        said = self.capture.readouterr()
        assert ended.value.code == code, said.err
        self.talk = said.err
        return said.out


@pytest.fixture
def marc(url: str, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Marc:
    monkeypatch.setenv("MARC_DATABASE_URL", url)
    return Marc(capfd, monkeypatch)


def test_the_shelf_is_printed_as_the_api_answers_it(marc: Marc, url: str, known: Known) -> None:
    app = create_app(Settings(database_url=url), known)
    with TestClient(app, base_url=HERE) as client:
        for words, path in (
            (["bar", "shelf"], "/shelf?limit=500"),
            (["bar", "shelf", "--after", "3", "--limit", "2"], "/shelf?limit=2&after=3"),
            (["bar", "changes", "--limit", "2"], "/bar/changes?limit=2"),
            (["bar", "specs", "--status", "on the list"], "/specs?limit=500&status=on the list"),
        ):
            assert json.loads(marc(*words, "--json")) == client.get(f"/api/v1{path}").json()


def test_own_ingredients_load_from_a_file_as_the_api_loads_them(
    marc: Marc, url: str, known: Known, tmp_path: Path
) -> None:
    file = tmp_path / "own.csv"
    file.write_bytes(b"name,role,notes\nPier smoke,seasoning,smoke:0.8\nTar,base,smok\n")
    app = create_app(Settings(database_url=url), known)
    with TestClient(app, base_url=HERE) as client, file.open("rb") as content:
        asked = client.post("/api/v1/own-ingredients/import/preview", files={"file": content})
        said = marc("bar", "own-import", str(file), "--preview", "--json", code=1)
        assert json.loads(said) == asked.json()
        out = marc("bar", "own-import", str(file), code=1)
        assert out.startswith("line 3: notes: 'smok' is no note known here; nearest: smoke")
        assert marc.talk == "marc: of 2 rows 1 added were loaded; 1 are bad\n"
        kept = client.get("/api/v1/own-ingredients?limit=500").json()
        assert json.loads(marc("bar", "own", "--json")) == kept
        exported = marc("bar", "own-export")
        assert exported == client.get("/api/v1/own-ingredients/export").text
    file.write_text(exported, encoding="utf-8")
    marc("bar", "own-import", str(file))
    assert marc.talk == "marc: all 1 rows are here already; nothing was changed\n"


def test_a_bottle_that_is_out_says_so_in_the_list(marc: Marc, bar: Bar) -> None:
    assert marc("bar", "out", "1").endswith(" is out\n")
    line = marc("bar", "shelf", "--limit", "1").splitlines()[1]
    assert line.endswith("out")
    assert marc("bar", "out", "1", "--back").endswith(" is back in\n")
    with bar.look() as unit:
        assert audit_lines(unit)[0].who == "command line"
    assert "bottle 1" in marc("bar", "changes").splitlines()[1]


def test_a_bottle_that_is_not_there_is_one_plain_line(marc: Marc) -> None:
    assert marc("bar", "out", "4040", code=1) == ""
    assert marc.talk == "marc: there is no bottle 4040; look at the list again\n"


def test_a_new_token_opens_what_it_may(marc: Marc, url: str, known: Known) -> None:
    words = marc("token", "new", "till", "--scope", "read").strip()
    assert "till may read" in marc.talk
    app = create_app(Settings(database_url=url, host="0.0.0.0", passphrase="four odd words"), known)
    headers = {"authorization": f"Bearer {words}"}
    with TestClient(app, base_url="http://bar.example") as client:
        assert client.get("/api/v1/shelf", headers=headers).status_code == 200
        assert client.post("/api/v1/shelf/1/out", headers=headers).status_code == 403
        listed = marc("token", "list").splitlines()[1]
        assert words[:9] in listed
        assert words not in listed
        assert marc("token", "revoke", "1") == "till opens nothing any more\n"
        assert client.get("/api/v1/shelf", headers=headers).status_code == 401


def test_a_passphrase_is_printed_as_the_hash_that_opens_to_it(
    marc: Marc, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("kelp lantern quarry\n"))
    assert Passphrase.read(marc("passphrase").strip()).is_said_by("kelp lantern quarry")
    monkeypatch.setattr(sys, "stdin", io.StringIO("short\n"))
    assert marc("passphrase", code=1) == ""
    assert "5 characters" in marc.talk
