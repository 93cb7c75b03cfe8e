"""Every answer carries the security headers, whoever made it."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient
from httpx import Response

from service.web.pages.assets import ASSETS
from tests.web.security.conftest import Starter

# What the OWASP Secure Headers Project asks for, as far as a page or an API can need it.
WANTED = {
    "content-security-policy", "x-content-type-options", "x-frame-options", "referrer-policy",
    "permissions-policy", "cross-origin-opener-policy", "cross-origin-resource-policy",
    "cache-control",
}  # fmt: skip


def hold(answer: Response, status: int) -> None:
    assert answer.status_code == status
    missing = WANTED - set(answer.headers)
    assert not missing
    names = [name for name, _ in answer.headers.multi_items()]
    assert all(names.count(name) == 1 for name in WANTED)
    policy = answer.headers["content-security-policy"]
    assert "'unsafe" not in policy
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/", 200), ("GET", "/api/v1/health", 200), ("GET", "/nowhere", 404),
        ("GET", "/api/v1/pairings", 405), ("POST", "/api/v1/pairings", 422),
        ("GET", "/api/v1/openapi.json", 200), ("GET", f"{ASSETS}/css/tokens.css", 200),
        ("GET", f"{ASSETS}/css/none.css", 404), ("POST", "/theme", 403), ("GET", "/login", 303),
        ("GET", "/problems", 200),
    ],
)  # fmt: skip
def test_on_answers_of_every_kind(client: TestClient, method: str, path: str, status: int) -> None:
    hold(client.request(method, path, content=b"{", follow_redirects=False), status)


def test_on_what_is_too_large(client: TestClient) -> None:
    hold(client.post("/api/v1/pairings", content=b" " * 1_100_000), 413)


def test_on_a_fault_of_the_service(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError

    monkeypatch.setattr("service.web.api.v1.pairings.pairings", broken)
    hold(client.post("/api/v1/pairings", json={"limit": 41}), 500)


def test_on_what_the_door_refuses(client: TestClient, door: TestClient) -> None:
    hold(client.get("/", headers={"host": "elsewhere.example"}), 421)
    hold(door.get("/api/v1/ingredients"), 401)
    hold(door.get("/", headers={"accept": "text/html"}), 303)


def test_files_of_the_pages_may_be_kept(client: TestClient) -> None:
    answer = client.get(f"{ASSETS}/css/tokens.css")
    assert "immutable" in answer.headers["cache-control"]


def test_by_https_a_browser_is_told_to_stay_with_it(started: Starter) -> None:
    secure = started(base_url="https://127.0.0.1", client=("127.0.0.1", 1))
    assert "max-age" in secure.get("/").headers["strict-transport-security"]
    plain = started(base_url="http://127.0.0.1", client=("127.0.0.1", 1))
    assert "strict-transport-security" not in plain.get("/").headers
