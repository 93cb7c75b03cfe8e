"""The real service behind a real port of this machine, in a thread of the test."""

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
def serving(
    known: Known, folder: Path, *, demo: bool = False, passphrase: str = ""
) -> Iterator[str]:
    """Where it answers; its records are fresh: empty, or the demo bar's."""
    settings = Settings(
        database_url=f"sqlite:///{folder / 'bar.sqlite'}",
        secret="for tests",
        demo=demo,
        passphrase=passphrase,
    )
    with socket.create_server(("127.0.0.1", 0)) as listening:
        server = uvicorn.Server(uvicorn.Config(create_app(settings, known), log_level="warning"))
        thread = Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        deadline = time.monotonic() + START_SECONDS
        while not server.started and time.monotonic() < deadline:
            time.sleep(0.02)
        assert server.started, "the service did not start"
        yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=START_SECONDS)
