"""The demo bar behind a real port, for journeys that change records."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import uvicorn

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app

START_SECONDS = 20.0


@contextmanager
def serving_demo(known: Known, folder: Path) -> Iterator[str]:
    """Where it answers; its records are fresh."""
    database = f"sqlite:///{folder / 'demo.sqlite'}"
    app = create_app(Settings(database_url=database, secret="for tests", demo=True), known)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
        thread = Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        deadline = time.monotonic() + START_SECONDS
        while not server.started and time.monotonic() < deadline:
            time.sleep(0.02)
        assert server.started, "the service did not start"
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=START_SECONDS)
