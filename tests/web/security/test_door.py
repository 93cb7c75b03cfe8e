"""Beyond loopback everything is shut but what is named open."""

from __future__ import annotations

import re

import pytest
from anyio.from_thread import start_blocking_portal
from fastapi.routing import APIRoute
from fastapi.testclient import TestClient
from starlette.types import Message

from service.web.pages.every import PAGES
from service.web.security.admission import OPEN
from tests.web.security.conftest import HASH, Starter, sign_in

PERSON = {"accept": "text/html"}


def routes(client: TestClient) -> list[tuple[str, str]]:
    """Method and path of every page and every operation of the API."""
    of_pages = [r for page in PAGES for r in page.router.routes if isinstance(r, APIRoute)]
    document = client.app.openapi()["paths"]  # type: ignore[attr-defined]
    return sorted(
        {(method, route.path) for route in of_pages for method in route.methods}
        | {(method.upper(), path) for path, methods in document.items() for method in methods}
    )


def is_open(path: str) -> bool:
    return any(path == o or path.startswith(f"{o}/") for o in OPEN)


def test_every_route_that_is_not_named_open_is_shut(door: TestClient) -> None:
    shut = [(m, p) for m, p in routes(door) if not is_open(p)]
    assert len(shut) > 20
    for method, path in shut:
        answer = door.request(method, re.sub(r"\{[^}]+\}", "1", path))
        assert answer.status_code == 401, (method, path)
        assert answer.headers["www-authenticate"] == "Bearer"
        assert answer.headers["content-type"] == "application/problem+json"


def test_what_is_named_open_is_little() -> None:
    assert set(OPEN) == {"/api/v1/health", "/problems", "/login", "/theme", "/g", "/static"}


@pytest.mark.parametrize("path", ["/api/v1/health", "/problems", "/problems/conflict", "/login"])
def test_what_is_open_is_answered(door: TestClient, path: str) -> None:
    assert door.get(path).status_code == 200


@pytest.mark.parametrize("path", ["/nowhere", "/api/v1/openapi.json", "/api/v1/nothing"])
def test_what_is_not_there_is_shut_too(door: TestClient, path: str) -> None:
    assert door.get(path).status_code == 401


def test_nothing_that_nobody_sends_is_read(door: TestClient) -> None:
    """Or anybody could fill the disk with imports before they are asked who they are."""

    async def receive() -> Message:
        raise AssertionError("the body was read")

    answered: list[Message] = []

    async def send(message: Message) -> None:
        answered.append(message)

    scope = {
        "type": "http", "method": "POST", "path": "/api/v1/shelf/import", "query_string": b"",
        "headers": [(b"host", b"bar.example"), (b"content-type", b"multipart/form-data")],
        "scheme": "http", "client": ("192.0.2.7", 1), "server": ("bar.example", 80),
        "http_version": "1.1", "root_path": "", "raw_path": b"/api/v1/shelf/import", "state": {},
    }  # fmt: skip
    # In a thread of its own: a browser test in the same process may have left a loop in this one.
    with start_blocking_portal() as portal:
        portal.call(door.app, scope, receive, send)
    assert answered[0]["status"] == 401


@pytest.mark.parametrize("path", ["/loginx", "/gins", "/api/v1/health/x"])
def test_open_names_open_no_others(path: str) -> None:
    assert is_open(path) is (path == "/api/v1/health/x")


def test_a_person_is_shown_the_way_in_and_back(door: TestClient) -> None:
    answer = door.get("/ingredients?role=base", headers=PERSON)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/login?back=%2Fingredients%3Frole%3Dbase"
    entered = sign_in(door, back="/ingredients?role=base")
    assert (entered.status_code, entered.headers["location"]) == (303, "/ingredients?role=base")
    assert door.get("/ingredients?role=base", headers=PERSON).status_code == 200


def test_a_passphrase_on_loopback_is_asked_for_too(started: Starter) -> None:
    """So that a proxy on the same machine lets nobody in."""
    worker = started(base_url="http://127.0.0.1", passphrase=HASH)
    assert worker.get("/api/v1/ingredients").status_code == 401
    assert sign_in(worker).status_code == 303
    assert worker.get("/api/v1/ingredients").status_code == 200
