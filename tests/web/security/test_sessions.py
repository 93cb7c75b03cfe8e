"""Signing in, staying in, and being out again."""

from __future__ import annotations

import time
from http.cookies import SimpleCookie

import pytest
from fastapi.testclient import TestClient

from service.bar import Bar, audit_lines
from service.settings import hashed
from service.web.security import COOKIE
from tests.web.pages.reading import read_page
from tests.web.security.conftest import HASH, WORDS, Starter, form_token, sign_in

INSIDE = "/api/v1/ingredients"


def test_the_right_words_open_everything(door: TestClient) -> None:
    assert door.get(INSIDE).status_code == 401
    assert sign_in(door).status_code == 303
    assert door.get(INSIDE).status_code == 200


@pytest.mark.parametrize("words", ["", "kelp lantern quarry ", "KELP LANTERN QUARRY", "x" * 4000])
def test_wrong_words_open_nothing_and_say_so(door: TestClient, words: str) -> None:
    answer = sign_in(door, words, initials="MB")
    assert answer.status_code == 403
    page = read_page(answer.text)
    assert page.first(class_="problem", role="alert").text.startswith("That is not the passphrase")
    assert page.first("input", name="initials").attributes["value"] == "MB"
    assert words == "" or words not in answer.text
    assert door.get(INSIDE).status_code == 401


def test_the_cookie_is_for_this_service_alone(door: TestClient, started: Starter) -> None:
    cookie = SimpleCookie(sign_in(door).headers["set-cookie"])[COOKIE]
    assert cookie["httponly"]
    assert cookie["samesite"].lower() == "lax"
    assert cookie["path"] == "/"
    assert not cookie["domain"]
    assert not cookie["secure"]
    secure = started(base_url="https://bar.example", host="0.0.0.0", passphrase=HASH)
    assert SimpleCookie(sign_in(secure).headers["set-cookie"])[COOKIE]["secure"]


def test_signing_in_gives_a_new_cookie(door: TestClient) -> None:
    """A cookie that somebody planted before is worth nothing after (session fixation)."""
    form_token(door)
    planted = door.cookies[COOKIE]
    sign_in(door)
    assert door.cookies[COOKIE] != planted
    assert door.get(INSIDE, headers={"cookie": f"{COOKIE}={planted}"}).status_code == 401


def test_signing_out_forgets_the_browser(door: TestClient) -> None:
    sign_in(door)
    page = read_page(door.get("/", headers={"accept": "text/html"}).text)
    form = page.first("form", action="/logout")
    token = form.first("input", name="csrf").attributes["value"]
    answer = door.post("/logout", data={"csrf": token})
    assert (answer.status_code, answer.headers["location"]) == (303, "/login")
    assert COOKIE not in door.cookies
    assert door.get(INSIDE).status_code == 401


def sign_out(client: TestClient) -> None:
    page = read_page(client.get("/", headers={"accept": "text/html"}).text)
    token = page.first("form", action="/logout").first("input", name="csrf").attributes["value"]
    assert client.post("/logout", data={"csrf": token}).status_code == 303


def copied(client: TestClient) -> dict[str, str]:
    return {"cookie": f"{COOKIE}={client.cookies[COOKIE]}"}


def test_signing_out_ends_every_copy_of_the_cookie_and_no_other_visit(
    started: Starter, monkeypatch: pytest.MonkeyPatch, bar: Bar
) -> None:
    """Session management, OWASP ASVS 4.0.3, V3.3.1: logout invalidates the token (recalled)."""
    tablet, other = (started(host="0.0.0.0", passphrase=HASH) for _ in range(2))
    sign_in(tablet, initials="MB")
    sign_in(other, initials="MB")
    stolen, kept = copied(tablet), copied(other)
    for worker in (tablet, other):
        assert worker.get(INSIDE, headers=stolen).status_code == 200
    sign_out(tablet)
    assert tablet.get(INSIDE, headers=stolen).status_code == 401
    monkeypatch.setattr("service.web.security.ended.LOOK_AGAIN_S", 0.0)
    assert other.get(INSIDE, headers=stolen).status_code == 401
    assert other.get(INSIDE, headers=kept).status_code == 200
    with bar.look() as unit:
        line = audit_lines(unit, noun="visit")[0]
    assert (line.what, line.who) == ("signed out", "staff MB")
    assert line.record not in stolen["cookie"]


def test_the_records_are_not_asked_for_every_page(
    door: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    monkeypatch.setattr(
        "service.web.security.ended.ended_visits", lambda *_: asked.append(1) or frozenset()
    )
    monkeypatch.setattr("service.web.security.ended.LOOK_AGAIN_S", 3600.0)
    sign_in(door)
    for _ in range(5):
        assert door.get(INSIDE).status_code == 200
    assert len(asked) == 1


def test_a_cookie_that_we_did_not_sign_is_none(door: TestClient, started: Starter) -> None:
    sign_in(door)
    good = door.cookies[COOKIE]
    other = started(host="0.0.0.0", passphrase="another passphrase")
    sign_in(other, "another passphrase")
    said, moment, signature = good.rsplit(".", 2)
    forged = [
        other.cookies[COOKIE],
        f"{said}.{moment}.{signature[::-1]}",
        f"{other.cookies[COOKIE].split('.')[0]}.{moment}.{signature}",
        f"{said}.{moment}",
        "eyJpZCI6ICJ4IiwgInN0YWZmIjogIk1CIn0",
        "",
        "\u00e9".encode().decode("latin-1"),
    ]
    door.cookies.clear()
    for cookie in forged:
        headers = {"cookie": f"{COOKIE}={cookie}".encode("latin-1")}
        assert door.get(INSIDE, headers=headers).status_code == 401, cookie
    assert door.get(INSIDE, headers={"cookie": f"{COOKIE}={good}"}).status_code == 200


def test_a_visit_ends_after_a_day(door: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    sign_in(door)
    cookie = {"cookie": f"{COOKIE}={door.cookies[COOKIE]}"}
    door.cookies.clear()
    now = time.time()
    monkeypatch.setattr("itsdangerous.timed.time.time", lambda: now + 23.9 * 3600)
    assert door.get(INSIDE, headers=cookie).status_code == 200
    monkeypatch.setattr("itsdangerous.timed.time.time", lambda: now + 24.1 * 3600)
    assert door.get(INSIDE, headers=cookie).status_code == 401


def test_a_visit_is_good_at_every_worker_and_for_one_passphrase_only(started: Starter) -> None:
    hash_text = hashed(WORDS)
    first = started(host="0.0.0.0", passphrase=hash_text)
    second = started(host="0.0.0.0", passphrase=hash_text)
    changed = started(host="0.0.0.0", passphrase=hashed(WORDS))
    sign_in(first)
    cookie = {"cookie": f"{COOKIE}={first.cookies[COOKIE]}"}
    assert second.get(INSIDE, headers=cookie).status_code == 200
    assert changed.get(INSIDE, headers=cookie).status_code == 401


def test_the_initials_are_what_the_audit_says(door: TestClient, bar: Bar) -> None:
    sign_in(door, initials=" MB<script>\n1234567890")
    with bar.look() as unit:
        line = audit_lines(unit, noun="sign-in")[0]
    assert (line.what, line.who, line.record) == ("signed in", "staff MBscript1234", "192.0.2.7")
    page = read_page(door.get("/", headers={"accept": "text/html"}).text)
    assert "Signed in as staff MBscript1234" in page.first("form", action="/logout").text
