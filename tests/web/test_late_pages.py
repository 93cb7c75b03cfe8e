"""The API does not wait for the pages, and the pages come when they are asked for."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

# In a program of its own: here every page may have been loaded by another test.
PROGRAM = """
import sys
from fastapi.testclient import TestClient
from service.settings import Settings
from service.web.app import create_app

app = create_app(Settings(database_url=sys.argv[1], secret="for tests"))
with TestClient(app, base_url="http://127.0.0.1:8017") as client:
    assert client.get("/api/v1/health").status_code == 200
    assert client.get("/api/v1/nothing").status_code == 404
    assert client.get("/static/nothing").status_code == 404
    assert "service.web.pages.every" not in sys.modules
    assert "service.web.pages.drink" not in sys.modules
    for path, status in (("/", 200), ("/shelf", 200), ("/nothing", 404)):
        assert client.get(path, headers={"accept": "text/html"}).status_code == status, path
    assert "service.web.pages.drink" in sys.modules
"""


def test_pages_are_loaded_when_the_first_is_asked_for(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'bar.sqlite'}"
    command = [sys.executable, "-c", PROGRAM, url]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
