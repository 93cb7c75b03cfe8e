from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from service.web.pages.frame import Theme, own_address
from tests.web.pages.reading import read_page


def token(client: TestClient) -> str:
    """The token that the switch on the first page brings along."""
    page = read_page(client.get("/").text)
    return page.first("input", name="csrf").attributes["value"]


def test_dark_is_the_default_whatever_the_device_prefers(client: TestClient) -> None:
    page = read_page(client.get("/").text)
    assert page.first("meta", name="color-scheme").attributes["content"] == "dark"
    assert page.first("button", value="dark").attributes["aria-pressed"] == "true"
    assert page.first("button", value="light").attributes["aria-pressed"] == "false"
    for link in page.every("link", rel="stylesheet"):
        assert link.attributes.get("media", "all") in {"all", "print"}
        if "daylight" in link.attributes["href"]:
            assert link.attributes["media"] == "print"


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
    assert f'name="color-scheme" content="{theme}"' in page
    client.cookies.clear()


@pytest.mark.parametrize("kept", ["purple", "auto", ""])
def test_an_unknown_theme_in_a_cookie_counts_as_none_chosen(client: TestClient, kept: str) -> None:
    assert kept not in set(Theme)
    page = client.get("/", headers={"cookie": f"theme={kept}"}).text
    assert 'css/daylight.css" media="print"' in page


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
