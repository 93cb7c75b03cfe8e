"""The application on the demo bar: what the documents show is asked of it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.web.conftest import HERE


@pytest.fixture
def client(known: Known, tmp_path: Path) -> Iterator[TestClient]:
    """The service as `make run` starts it, on records of its own."""
    settings = Settings(database_url=f"sqlite:///{tmp_path / 'bar.sqlite'}", demo=True)
    with TestClient(create_app(settings, known), base_url=HERE) as client:
        yield client
