"""Beyond loopback nobody comes in without a passphrase, because the service does not even start."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.kit import BadData
from service.settings import Settings
from service.web.app import create_app
from tests.web.conftest import HERE

MARC = Path(sys.executable).with_name("marc")


@pytest.mark.parametrize(
    "settings",
    [
        Settings(database_url="", host="0.0.0.0"),
        Settings(database_url="", host="::"),
        Settings(database_url="", hosts=("bar.example",)),
    ],
)
def test_the_application_is_not_made(known: Known, settings: Settings) -> None:
    with pytest.raises(BadData) as caught:
        create_app(settings, known)
    assert caught.value.field == "MARC_PASSPHRASE"


def test_the_command_says_in_one_line_what_to_do(tmp_path: Path) -> None:
    done = subprocess.run(
        [MARC, "serve", "--host", "0.0.0.0", "--port", "1"],
        capture_output=True, text=True, check=False, cwd=tmp_path, timeout=60,
        env={"PATH": "/usr/bin:/bin"},
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.startswith("marc: MARC_PASSPHRASE: other machines could reach")
    assert "marc passphrase" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "var").exists()


def test_on_loopback_nobody_has_to_sign_in(client: TestClient) -> None:
    assert client.get("/").status_code == 200
    answer = client.get("/login?back=/dataset", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/dataset")


def test_records_are_opened_at_the_start_and_let_go_at_the_end(
    known: Known, tmp_path: Path
) -> None:
    file = tmp_path / "new" / "bar.sqlite"
    app = create_app(Settings(database_url=f"sqlite:///{file}", demo=True), known)
    assert not file.exists()
    with TestClient(app, base_url=HERE):
        assert file.exists()
        bar = app.state.bar
        assert bar.engine.pool.checkedout() == 0
    assert bar.engine.pool.checkedin() == 0
    assert not file.with_name("bar.sqlite-wal").exists()
