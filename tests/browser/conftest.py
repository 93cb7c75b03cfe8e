"""The real service on a free port of this machine, and a real browser before it."""

from __future__ import annotations

import os
import socket
import time
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import pytest
import uvicorn
from playwright.sync_api import Browser, sync_playwright

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.browser.chromium import NOT_RUN, launched

START_SECONDS = 20.0


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A browser; where there is none, the tests say plainly that they did not run."""
    with sync_playwright() as playwright:
        found = launched(playwright)
        if found is None:
            if os.environ.get("MARC_TEST_ALL"):
                pytest.fail(NOT_RUN)
            pytest.skip(NOT_RUN)
        yield found
        found.close()


@pytest.fixture(scope="session")
def address(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the service answers, on the real dataset and an empty bar."""
    folder: Path = tmp_path_factory.mktemp("bar")
    settings = Settings(database_url=f"sqlite:///{folder / 'bar.sqlite'}", secret="for tests")
    with socket.create_server(("127.0.0.1", 0)) as listening:
        config = uvicorn.Config(create_app(settings, known), log_level="warning")
        server = uvicorn.Server(config)
        thread = Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        deadline = time.monotonic() + START_SECONDS
        while not server.started and time.monotonic() < deadline:
            time.sleep(0.02)
        assert server.started, "the service did not start"
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=START_SECONDS)
