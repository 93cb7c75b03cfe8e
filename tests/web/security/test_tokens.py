"""Programs come with a token: it opens what its scopes say, anywhere, until it is called in."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from service.bar import Bar, Scope, audit_lines, list_coffees, make_api_token, revoke_api_token
from tests.web.security.conftest import HASH, Starter, form_token

COFFEE = {"name": "Breakwater"}


@pytest.fixture
def opened(door: TestClient) -> Bar:
    """The records of the service behind the door."""
    found: Bar = door.app.state.bar  # type: ignore[attr-defined]
    return found


def token(bar: Bar, *scopes: Scope, name: str = "till") -> dict[str, str]:
    with bar.unit("owner") as unit:
        _, words = make_api_token(unit, name, frozenset(scopes))
    return {"authorization": f"Bearer {words}"}


def asked(client: TestClient, method: str, path: str, headers: dict[str, str], **more: Any) -> int:
    return client.request(method, f"/api/v1{path}", headers=headers, **more).status_code


def test_a_token_that_reads_changes_nothing(door: TestClient, opened: Bar) -> None:
    reads = token(opened, Scope.READ)
    assert asked(door, "GET", "/shelf", reads) == 200
    assert asked(door, "POST", "/pairings", reads, json={"limit": 1}) == 200
    answer = door.post("/api/v1/coffees", headers=reads, json=COFFEE)
    assert answer.status_code == 403
    assert "scope 'write'" in answer.json()["detail"]
    with opened.look() as unit:
        assert list_coffees(unit) == ()


def test_a_token_that_writes_is_in_the_audit_by_its_name(door: TestClient, opened: Bar) -> None:
    writes = token(opened, Scope.READ, Scope.WRITE, name="x" * 100)
    assert asked(door, "POST", "/coffees", writes, json=COFFEE) == 201
    with opened.look() as unit:
        assert audit_lines(unit)[0].who == "token " + "x" * 54


@pytest.mark.parametrize(
    "given",
    [
        "Bearer marc_nothing",
        "Bearer ",
        "bearer",
        "Bearer \u00e9",
        "Basic bWFyYzptYXJj",
        "Bearer a b",
    ],
)
def test_what_is_no_token_opens_nothing(door: TestClient, given: str) -> None:
    headers = {"authorization": given.encode()}
    answer = door.get("/api/v1/shelf", headers=headers)  # type: ignore[arg-type]
    assert answer.status_code == 401
    assert answer.headers["www-authenticate"].startswith("Bearer")


def test_a_token_that_was_called_in_opens_nothing(door: TestClient, opened: Bar) -> None:
    reads = token(opened, Scope.READ)
    assert asked(door, "GET", "/shelf", reads) == 200
    with opened.unit("owner") as unit:
        revoke_api_token(unit, 1)
    assert asked(door, "GET", "/shelf", reads) == 401


def test_on_loopback_too_a_token_is_held_to_its_scopes(started: Starter) -> None:
    here = started(base_url="http://127.0.0.1", client=("127.0.0.1", 1))
    reads = token(here.app.state.bar, Scope.READ)  # type: ignore[attr-defined]
    assert asked(here, "POST", "/coffees", reads, json=COFFEE) == 403
    assert asked(here, "POST", "/coffees", {}, json=COFFEE) == 201
    assert asked(here, "GET", "/shelf", {"authorization": "Bearer wrong"}) == 401


def test_a_token_hands_out_no_tokens(door: TestClient, opened: Bar) -> None:
    writes = token(opened, Scope.READ, Scope.WRITE)
    made = {"name": "more", "scopes": ["write"]}
    assert asked(door, "POST", "/bar/tokens", writes, json=made) == 403
    assert asked(door, "DELETE", "/bar/tokens/1", writes) == 403
    assert asked(door, "GET", "/bar/tokens", writes) == 200


def test_a_token_needs_no_page_and_no_site(door: TestClient, opened: Bar) -> None:
    """A program on another site's page was given the token by a person; it is no forgery."""
    writes = {**token(opened, Scope.WRITE), "origin": "https://till.example"}
    assert asked(door, "POST", "/coffees", writes, json=COFFEE) == 201


def test_a_token_opens_pages_but_sends_no_forms(door: TestClient, opened: Bar) -> None:
    reads = token(opened, Scope.READ)
    assert door.get("/ingredients", headers=reads).status_code == 200
    assert door.post("/logout", headers=reads).status_code == 403
    assert form_token(door)


def test_staff_hand_out_a_token_and_its_words_are_shown_once(started: Starter) -> None:
    worker = started(base_url="http://127.0.0.1", client=("127.0.0.1", 1))
    answer = worker.post("/api/v1/bar/tokens", json={"name": "till", "scopes": ["read"]})
    assert answer.headers["cache-control"] == "no-store"
    words = answer.json()["words"]
    assert words not in worker.get("/api/v1/bar/tokens").text
    assert words not in worker.get("/api/v1/bar/changes").text
    shut = started(host="0.0.0.0", passphrase=HASH)
    assert asked(shut, "GET", "/shelf", {"authorization": f"Bearer {words}"}) == 200
