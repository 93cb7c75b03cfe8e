from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from service.web.pages.frame import Theme, own_address
from tests.web.pages.reading import read_page


def token(client: TestClient) -> str:
    """The token that the switch on the first page brings along."""
    page = read_page(client.get("/").text)
    return page.first("input", name="csrf").attributes["value"]


def test_dark_is_the_default_and_the_device_may_prefer_light(client: TestClient) -> None:
    page = client.get("/").text
    assert 'css/daylight.css" media="print, (prefers-color-scheme: light)"' in page


@pytest.mark.parametrize(("theme", "media"), [("dark", "print"), ("light", "all")])
def test_the_switch_keeps_a_theme_and_comes_back(
    client: TestClient, theme: str, media: str
) -> None:
    answer = client.post(
        "/theme",
        data={"theme": theme, "back": "/ingredients?role=base", "csrf": token(client)},
        follow_redirects=False,
    )
    assert answer.status_code == 303
    assert answer.headers["location"] == "/ingredients?role=base"
    cookie = answer.headers["set-cookie"].lower()
    assert f"theme={theme}" in cookie
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    page = client.get("/", headers={"cookie": f"theme={theme}"}).text
    assert f'css/daylight.css" media="{media}"' in page
    client.cookies.clear()


def test_a_second_tap_on_the_chosen_theme_lets_go_of_it(client: TestClient) -> None:
    page = client.get("/", headers={"cookie": "theme=light"}).text
    assert 'value="auto" aria-pressed="true"' in page
    fields = {"theme": "auto", "csrf": token(client)}
    answer = client.post("/theme", data=fields, follow_redirects=False)
    assert "max-age=0" in answer.headers["set-cookie"].lower()


def test_a_theme_that_nobody_knows_counts_as_none() -> None:
    assert set(Theme) == {"auto", "dark", "light"}


def test_an_unknown_theme_in_a_cookie_is_ignored(client: TestClient) -> None:
    page = client.get("/", headers={"cookie": "theme=purple"}).text
    assert "(prefers-color-scheme: light)" in page


@pytest.mark.parametrize(
    "address",
    ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "drink", "",
     "/a\nb"],
)  # fmt: skip
def test_the_switch_never_leads_away_from_here(address: str) -> None:
    assert own_address(address) == "/"


def test_an_address_of_ours_is_kept() -> None:
    assert own_address("/drink?pour=bourbon=50ml#top") == "/drink?pour=bourbon=50ml#top"


def test_every_section_exists(client: TestClient) -> None:
    from service.web.pages.frame import SECTIONS

    for section in SECTIONS:
        page = client.get(section.address)
        assert page.status_code == 200
        assert f'href="{section.address}" aria-current="page"' in page.text
