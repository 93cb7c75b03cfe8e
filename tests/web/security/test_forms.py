"""No form is taken that our own page did not give to that browser, and nothing from other sites."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from service.web.security import COOKIE
from tests.web.conftest import HERE
from tests.web.security.conftest import Starter, form_token, sign_in

ABOVE = {"x-csrf-token": ""}


@pytest.fixture
def here(started: Starter) -> TestClient:
    """On loopback, where no cookie lets anybody in, forms are guarded all the same."""
    return started(base_url=HERE, client=("127.0.0.1", 40000))


def switched(client: TestClient, **more: str) -> int:
    return client.post("/theme", data={"theme": "dark", **more}).status_code


def test_a_form_with_its_token_is_taken(here: TestClient) -> None:
    assert switched(here, csrf=form_token(here, "/")) == 303


def test_a_form_without_or_with_a_forged_token_is_refused(here: TestClient) -> None:
    token = form_token(here, "/")
    wrong = "0" * len(token)
    for given in ({}, {"csrf": ""}, {"csrf": wrong}, {"csrf": token[:-1]}, {"csrf": "é" * 64}):
        assert switched(here, **given) == 403
    answer = here.post("/theme", data={"theme": "dark"}, headers={"accept": "text/html"})
    assert "Open the page again" in answer.text


def test_what_was_typed_into_a_page_too_old_is_given_back(here: TestClient) -> None:
    """A page that lay open over a restart brings an old token; its text must not be lost."""
    typed = {"name": "Fog <Horn>", "method": "stir long\nthen pour", "reason": "", "version": "7"}
    answer = here.post(
        "/list/new", data={"csrf": "0" * 64, **typed}, headers={"accept": "text/html"}
    )
    assert answer.status_code == 403
    assert "<dt>name</dt><dd>Fog &lt;Horn&gt;</dd>" in answer.text
    assert "<dd>stir long<br>then pour</dd>" in answer.text
    for kept_back in ("<dt>csrf", "<dt>version", "<dt>reason", "0" * 64):
        assert kept_back not in answer.text


def test_a_passphrase_is_never_given_back(door: TestClient) -> None:
    data = {"csrf": "0" * 64, "passphrase": "not to be seen"}
    answer = door.post("/login", data=data, headers={"accept": "text/html"})
    assert answer.status_code == 403
    assert "not to be seen" not in answer.text
    assert "What you typed" not in answer.text


def test_a_token_belongs_to_one_browser(here: TestClient, started: Starter) -> None:
    token = form_token(here, "/")
    cookie = here.cookies[COOKIE]
    here.cookies.clear()
    assert switched(here, csrf=token) == 403
    form_token(here, "/")
    assert here.cookies[COOKIE] != cookie
    assert switched(here, csrf=token) == 403


def test_a_token_from_before_signing_in_is_worth_nothing_after(door: TestClient) -> None:
    token = form_token(door)
    sign_in(door)
    assert switched(door, csrf=token) == 403
    assert switched(door, csrf=form_token(door, "/")) == 303


def test_a_script_may_bring_the_token_in_a_header(here: TestClient) -> None:
    headers = {"x-csrf-token": form_token(here, "/")}
    answer = here.post("/theme", data={"theme": "dark"}, headers=headers)
    assert answer.status_code == 303


@pytest.mark.parametrize("content", [b"", b"{}", b"--x", b"\xff" * 100])
@pytest.mark.parametrize(
    "kind", ["application/json", "text/plain", "multipart/form-data; boundary=x", "nonsense"]
)
def test_what_is_no_form_is_refused(here: TestClient, content: bytes, kind: str) -> None:
    form_token(here, "/")
    answer = here.post("/theme", content=content, headers={"content-type": kind})
    assert answer.status_code in {400, 403, 422}


def test_the_same_browser_keeps_its_token_from_page_to_page(here: TestClient) -> None:
    assert form_token(here, "/") == form_token(here, "/dataset")


OTHER_SITES = [
    {"origin": "https://elsewhere.example"},
    {"origin": "null"},
    {"origin": "http://127.0.0.1:9999"},
    {"origin": ""},
    {"sec-fetch-site": "cross-site"},
    {"sec-fetch-site": "same-site"},
]
OUR_OWN = [
    {},
    {"origin": HERE},
    {"sec-fetch-site": "same-origin", "origin": HERE},
    {"sec-fetch-site": "none"},
]


@pytest.mark.parametrize("headers", OTHER_SITES)
def test_a_page_of_another_site_changes_nothing(here: TestClient, headers: dict[str, str]) -> None:
    token = form_token(here, "/")
    answer = here.post("/theme", data={"theme": "dark", "csrf": token}, headers=headers)
    assert answer.status_code == 403
    asked = here.post("/api/v1/pairings", json={}, headers=headers)
    assert asked.status_code == 403
    assert asked.json()["detail"].startswith("a page of another site")


@pytest.mark.parametrize("headers", OUR_OWN)
def test_our_own_pages_and_programs_are_answered(here: TestClient, headers: dict[str, str]) -> None:
    assert here.post("/api/v1/pairings", json={"limit": 1}, headers=headers).status_code == 200


def test_json_without_its_media_type_is_refused(here: TestClient) -> None:
    """A page of another site can send a body without a media type unasked, but no JSON."""
    for kind in ({}, {"content-type": "text/plain"}):
        answer = here.post("/api/v1/pairings", content=b'{"limit": 1}', headers=kind)
        assert answer.status_code == 422


@pytest.mark.parametrize(
    "back", ["//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example", "x\ny"]
)
def test_the_login_never_leads_away_from_here(door: TestClient, back: str) -> None:
    assert sign_in(door, back=back).headers["location"] == "/"
