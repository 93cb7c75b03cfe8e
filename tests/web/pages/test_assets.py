from __future__ import annotations

from pathlib import Path

from fastapi.testclient import TestClient

from service.web.pages.assets import ASSETS, FOLDER, version_of


def test_every_file_is_served_and_may_be_kept_for_ever(client: TestClient) -> None:
    files = [f for f in FOLDER.rglob("*") if f.is_file()]
    assert len(files) >= 8
    for file in files:
        answer = client.get(f"{ASSETS}/{file.relative_to(FOLDER).as_posix()}")
        assert answer.content == file.read_bytes()
        assert "immutable" in answer.headers["cache-control"]


def test_the_address_changes_with_the_content(tmp_path: Path) -> None:
    (tmp_path / "a.css").write_text("a{}")
    before = version_of(tmp_path)
    (tmp_path / "a.css").write_text("b{}")
    assert version_of(tmp_path) != before


def test_nothing_outside_the_folder_is_served(client: TestClient) -> None:
    for path in ("../app.py", "%2e%2e/app.py", "css/../../app.py"):
        assert client.get(f"{ASSETS}/{path}").status_code == 404


def test_a_script_asks_only_this_service() -> None:
    for file in FOLDER.rglob("*.js"):
        assert "://" not in file.read_text(encoding="utf-8")
