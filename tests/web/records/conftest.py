"""The service on an empty bar, on either database, with as many workers as a test wants."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.bar.databases import database_url, kind, make_database
from tests.web.conftest import HERE
from tests.web.records.asking import Asker

__all__ = ["database_url", "kind", "make_database"]

Workers = Callable[[], Asker]


@pytest.fixture
def worker(known: Known, database_url: str) -> Iterator[Workers]:
    """Start another worker on the same records."""
    with ExitStack() as stack:

        def start() -> Asker:
            app = create_app(Settings(database_url=database_url, secret="for tests"), known)
            client = TestClient(app, base_url=HERE, raise_server_exceptions=False)
            return Asker(stack.enter_context(client))

        yield start


@pytest.fixture
def ask(worker: Workers) -> Asker:
    """One worker."""
    return worker()
