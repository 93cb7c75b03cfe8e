"""A bar that nobody minds being filled with nonsense."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.web.conftest import HERE


@pytest.fixture(scope="session")
def scratch(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """The application on a bar of its own; a fault inside answers 500 instead of raising."""
    folder: Path = tmp_path_factory.mktemp("scratch")
    settings = Settings(database_url=f"sqlite:///{folder / 'bar.sqlite'}", secret="for tests")
    app = create_app(settings, known)
    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
        yield client
