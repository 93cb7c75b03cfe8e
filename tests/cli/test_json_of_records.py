"""`marc bar ... --json` prints what the API answers of the same records."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.cli.running import Marc
from tests.web.conftest import HERE

ALIKE = {
    "bar shelf": "shelf?limit=500",
    "bar specs --limit 2": "specs?limit=2",
    "bar changes --limit 5": "bar/changes?limit=5",
}


@pytest.mark.parametrize("words", ALIKE)
def test_a_list_of_records_is_what_the_api_answers(
    marc: Marc, known: Known, tmp_path: Path, words: str
) -> None:
    url = f"sqlite:///{tmp_path / 'bar.sqlite'}"
    with TestClient(create_app(Settings(url, demo=True), known), base_url=HERE) as client:
        answer = client.get(f"/api/v1/{ALIKE[words]}")
    done = marc(*words.split(), "--json", MARC_DATABASE_URL=url)
    assert (done.code, done.said) == (0, "")
    assert json.loads(done.out) == answer.json()
    assert answer.json()["items"]
