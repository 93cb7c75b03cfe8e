"""Whole drinks for a coffee: from the shelf, with amounts, and honest about the proof."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest

from service.counter.known import Known
from tests.web.pages.reading import Element
from tests.web.pages_records.conftest import Desk

ASKED = "/compose?notes=dried+fig"


def poured(page: Element) -> list[list[str]]:
    """The ids that each drink of the page pours."""
    links = (
        a.attributes["href"] for a in page.every("a") if "button" in a.attributes.get("class", "")
    )
    asked = (parse_qs(urlsplit(link).query).get("pour", []) for link in links)
    return [[pour.partition("=")[0] for pour in pours] for pours in asked if pours]


def test_drinks_are_poured_from_what_stands_on_the_shelf(desk: Desk) -> None:
    lines = desk.client.get("/api/v1/shelf").json()["items"]
    standing = {line["ingredient"] for line in lines if not line["out"]}
    drinks = poured(desk.get(ASKED))
    assert len(drinks) == 8
    assert {i for pours in drinks for i in pours} <= standing


def test_every_bottle_of_the_dataset_may_be_asked_for(desk: Desk, known: Known) -> None:
    page = desk.get(f"{ASKED}&from=everything")
    assert {i for pours in poured(page) for i in pours} <= set(known.catalogue.ingredients)
    assert "proved to be the best" in page.text


def test_when_time_is_up_nothing_is_called_proved(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.counter.compose.MOST_SECONDS", 0.0)
    assert "proved" not in desk.get(ASKED).text
