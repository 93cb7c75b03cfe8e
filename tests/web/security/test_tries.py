"""Nobody tries many passphrases, at whichever worker."""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from fastapi.testclient import TestClient
from starlette.requests import Request

from service.bar import Bar, audit_lines, note_sign_in, note_try
from service.bar.logins import MOST_FROM_ALL, MOST_FROM_ONE, WINDOW
from service.web.pages.login import _from
from tests.bar.databases import database_url, kind
from tests.web.security.conftest import HASH, Starter, form_token, sign_in

__all__ = ["database_url", "kind"]  # the count is kept in the records, so on either database


def test_after_ten_wrong_tries_even_the_right_words_have_to_wait(door: TestClient) -> None:
    for _ in range(MOST_FROM_ONE):
        assert sign_in(door, "wrong").status_code == 403
    answer = sign_in(door)
    assert answer.status_code == 429
    wait = int(answer.headers["retry-after"])
    assert 0 < wait <= WINDOW.total_seconds()
    assert "Wait 15 minutes" in answer.text


def test_workers_count_together_and_addresses_apart(started: Starter) -> None:
    workers = [started(host="0.0.0.0", passphrase=HASH) for _ in range(2)]
    for number in range(MOST_FROM_ONE):
        assert sign_in(workers[number % 2], "wrong").status_code == 403
    assert {sign_in(worker).status_code for worker in workers} == {429}
    elsewhere = started(host="0.0.0.0", passphrase=HASH, client=("198.51.100.9", 1))
    assert sign_in(elsewhere).status_code == 303


@pytest.mark.parametrize(
    ("client", "counted_as"),
    [
        (("192.0.2.7", 1), "192.0.2.7"),
        (("2001:db8:1:2::9", 1), "2001:db8:1:2::/64"),
        (("2001:db8:1:2:ffff::1", 1), "2001:db8:1:2::/64"),
        (("2001:db8:1:3::1", 1), "2001:db8:1:3::/64"),
        (None, "this machine"),
    ],
)
def test_one_household_has_one_count_in_ipv6(
    client: tuple[str, int] | None, counted_as: str
) -> None:
    """RFC 6177: a site has a network of at least /64; addresses within cost it nothing."""
    assert _from(Request({"type": "http", "client": client})) == counted_as


def test_many_tries_at_once_are_no_more_than_ten(door: TestClient) -> None:
    token = form_token(door)
    said = {"passphrase": "wrong", "csrf": token}
    with ThreadPoolExecutor(16) as hands:
        answers = hands.map(lambda _: door.post("/login", data=said).status_code, range(24))
    assert Counter(answers) == {403: MOST_FROM_ONE, 429: 24 - MOST_FROM_ONE}


def test_signing_in_forgets_earlier_slips(door: TestClient) -> None:
    for _ in range(MOST_FROM_ONE - 1):
        sign_in(door, "wrong")
    assert sign_in(door).status_code == 303
    assert sign_in(door, "wrong").status_code == 403


def test_tries_are_forgotten_after_a_while_and_the_wait_says_when(bar: Bar) -> None:
    with bar.unit("login page") as unit:
        for _ in range(MOST_FROM_ONE):
            assert note_try(unit, "192.0.2.7") is None
        refused = note_try(unit, "192.0.2.7")
        assert refused is not None
        assert abs(refused.wait_seconds - WINDOW.total_seconds()) <= 1
    with bar.unit("login page") as unit:
        object.__setattr__(unit, "at", unit.at + WINDOW - timedelta(seconds=60))
        refused = note_try(unit, "192.0.2.7")
        assert refused is not None
        assert 50 <= refused.wait_seconds <= 61
        object.__setattr__(unit, "at", unit.at + timedelta(seconds=62))
        assert note_try(unit, "192.0.2.7") is None


def test_from_all_addresses_together_there_are_not_many_either(bar: Bar) -> None:
    with bar.unit("login page") as unit:
        for number in range(MOST_FROM_ALL):
            assert note_try(unit, f"192.0.2.{number}") is None
        assert note_try(unit, "198.51.100.1") is not None


def test_a_refused_try_leaves_no_line(bar: Bar) -> None:
    """Or whoever is refused could fill the disk."""
    with bar.unit("login page") as unit:
        for _ in range(MOST_FROM_ONE + 5):
            note_try(unit, "192.0.2.7")
        note_sign_in(unit, "192.0.2.7")
        assert len(audit_lines(unit, noun="sign-in")) == MOST_FROM_ONE + 1
