"""The real application on the real dataset, without a network."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app

# The service answers to names of its own machine only.
HERE = "http://127.0.0.1:8017"


@pytest.fixture(scope="session")
def client(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The application on an empty bar; a fault inside answers 500 instead of raising."""
    folder: Path = tmp_path_factory.mktemp("bar")
    settings = Settings(database_url=f"sqlite:///{folder / 'bar.sqlite'}", secret="for tests")
    app = create_app(settings, known)
    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
        yield client
