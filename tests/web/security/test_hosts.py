"""By which name, and from where, the service is asked."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from tests.web.security.conftest import HASH, OUTSIDE, Starter

OURS = ["127.0.0.1:8017", "localhost:8017", "localhost", "[::1]:8017", "127.0.0.1"]
OTHERS = ["elsewhere.example", "127.0.0.1.example", "localhost.example:8017", "192.0.2.1", "a@b"]


@pytest.mark.parametrize("host", OURS)
def test_on_loopback_its_own_names_are_answered(client: TestClient, host: str) -> None:
    assert client.get("/api/v1/health", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("host", OTHERS)
@pytest.mark.parametrize("path", ["/api/v1/health", "/", "/nowhere", "/static/x/y"])
def test_a_name_that_was_led_here_is_refused(client: TestClient, host: str, path: str) -> None:
    """DNS rebinding: a page of elsewhere.example reads the answer if it gets one."""
    answer = client.get(path, headers={"host": host})
    assert answer.status_code == 421
    assert answer.headers["content-type"] == "application/problem+json"
    assert "MARC_HOSTS" in answer.json()["detail"]


@pytest.mark.parametrize("name", ["Forwarded", "Via", "X-Forwarded-For", "X-Real-IP"])
def test_on_loopback_without_login_nobody_may_stand_between(client: TestClient, name: str) -> None:
    answer = client.get("/api/v1/health", headers={name: "192.0.2.9"})
    assert answer.status_code == 403
    assert "MARC_PASSPHRASE" in answer.json()["detail"]


@pytest.mark.parametrize(
    ("address", "status"),
    [("127.0.0.1", 200), ("::1", 200), ("192.0.2.7", 403), ("2001:db8::7", 403), ("10.0.0.1", 403)],
)
def test_without_login_only_this_machine_is_answered_whatever_it_listens_on(
    started: Starter, address: str, status: int
) -> None:
    """Started by hand with another address than MARC_HOST says, it is still shut."""
    worker = started(base_url="http://127.0.0.1", client=(address, 40000))
    assert worker.get("/api/v1/health").status_code == status


def test_with_a_login_a_proxy_may_stand_between(started: Starter) -> None:
    worker = started(passphrase=HASH, hosts=("bar.example",))
    forwarded = {"X-Forwarded-For": "198.51.100.1"}
    assert worker.get("/api/v1/health", headers=forwarded).status_code == 200
    other = worker.get("/api/v1/health", headers={"host": "other.example"})
    assert other.status_code == 421


def test_beyond_loopback_any_name_is_answered_where_none_is_listed(started: Starter) -> None:
    worker = started(host="0.0.0.0", passphrase=HASH)
    assert worker.get("/api/v1/health").status_code == 200
    assert str(worker.base_url) == OUTSIDE
