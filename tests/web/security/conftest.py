"""Applications that others can reach."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from argon2 import PasswordHasher
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.bar.databases import MakeDatabase, bar, make_database
from tests.web.pages.reading import read_page

__all__ = ["bar", "make_database"]

WORDS = "kelp lantern quarry"
# The costs are tested where the hash is made; here a cheap one opens as many doors as are needed.
HASH = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(WORDS)
OUTSIDE = "http://bar.example"
Starter = Callable[..., TestClient]


@pytest.fixture
def database_url(make_database: MakeDatabase) -> Iterator[str]:
    """Who may does not depend on the database; where it does, a test takes either."""
    with make_database.lend("sqlite") as url:
        yield url


@pytest.fixture
def started(known: Known, database_url: str) -> Iterator[Starter]:
    """Start a worker: `started(host="0.0.0.0", passphrase=WORDS)`; all have one database."""
    with ExitStack() as stack:

        def start(
            base_url: str = OUTSIDE, client: tuple[str, int] = ("192.0.2.7", 50000), **changes: Any
        ) -> TestClient:
            settings = Settings(**{"database_url": database_url, **changes})
            app = create_app(settings, known)
            worker = TestClient(
                app, raise_server_exceptions=False, base_url=base_url, client=client,
                follow_redirects=False,
            )  # fmt: skip
            return stack.enter_context(worker)

        yield start


@pytest.fixture
def door(started: Starter) -> TestClient:
    """A service that others can reach."""
    return started(host="0.0.0.0", passphrase=HASH)


def form_token(client: TestClient, address: str = "/login") -> str:
    """The token on a page's first form."""
    page = read_page(client.get(address, headers={"accept": "text/html"}).text)
    return page.first("input", name="csrf").attributes["value"]


def sign_in(client: TestClient, words: str = WORDS, **fields: str) -> Any:
    """Send the login form as its page gives it."""
    said = {"passphrase": words, "csrf": form_token(client), **fields}
    return client.post("/login", data=said)
