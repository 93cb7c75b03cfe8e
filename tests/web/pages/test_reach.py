"""Backwards on the page: the counter's answer, what was typed kept, a tap from the drink."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest
from fastapi.testclient import TestClient

from tests.web.pages.conftest import Fields, Opener
from tests.web.pages.reading import Element

POURS: Fields = [("pour", "bourbon=50ml"), ("pour", "sweet-vermouth=25ml"),
                 ("pour", "aromatic-bitters=1.6ml")]  # fmt: skip
ASKED = {
    "pours": [
        {"ingredient": "bourbon", "volume_ml": 50},
        {"ingredient": "sweet-vermouth", "volume_ml": 25},
        {"ingredient": "aromatic-bitters", "volume_ml": 1.6},
    ]
}


def way(page: Element, name: str) -> Element:
    return next(li for li in page.every("li") if li.attributes.get("id") == f"way-{name}")


def test_the_drink_leads_here_and_the_form_asks(opened: Opener) -> None:
    drink = opened("/drink", POURS)
    links = [a.attributes["href"] for a in drink.every("a")]
    (address,) = (link for link in links if link.startswith("/reach?"))
    page = opened(address)
    assert page.first("h1").text == "Set the strength or the volume"
    assert not list(page.every("h3"))


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ([("strength", "24")], {"abv_percent": 24, "coffee": {}}),
        ([("strength", "24,5 % vol")], {"abv_percent": 24.5, "coffee": {}}),
        ([("glass", "4 oz"), ("coffee", "none")], {"glass_ml": 118.29411825}),
        # An address made where the bar wrote ounces, opened where it writes mL.
        ([("glass", "4"), ("glass_unit", "oz"), ("coffee", "none")], {"glass_ml": 118.29411825}),
        (
            [("strength", "25"), ("glass", "110")],
            {"abv_percent": 25, "glass_ml": 110, "coffee": {}},
        ),
        ([("strength", "60")], {"abv_percent": 60, "coffee": {}}),
    ],
)
def test_the_page_says_what_the_api_answers(
    opened: Opener, client: TestClient, typed: Fields, asked: dict[str, object]
) -> None:
    body = {**ASKED, **asked, "among": "everything"}
    answer = client.post("/api/v1/reach", json=body).json()
    page = opened("/reach", [*POURS, *typed])
    assert answer["ways"]
    for told in answer["ways"]:
        card = way(page, told["way"])
        words = told["words"]
        assert f"{words[0].upper()}{words[1:]}." in card.text
        assert ("To the last digit" in card.text) is told["reaches"]
        if told["reaches"]:
            exact = told["exact"]["glass"]
            for name in ("abv_percent", "glass_ml"):
                if name in asked:
                    read = exact["volume_ml" if name == "glass_ml" else name]["mid"]
                    assert read == pytest.approx(asked[name], rel=1e-6)


def test_a_way_leads_to_the_drink_that_it_makes(opened: Opener) -> None:
    page = opened("/reach", [*POURS, ("strength", "24")])
    address = way(page, "stirring").first("a", class_="button").attributes["href"]
    query = parse_qs(urlsplit(address).query)
    assert 5 < float(query["seconds"][0]) < 90
    strength = next(
        f for f in opened(address).every("div", class_="figure") if "strength" in f.text
    )
    assert "24 % vol" in strength.text


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ([("strength", "strong")], "is no number"),
        ([("strength", "0")], "is outside 1 to 95 % vol"),
        ([("strength", "-5")], "is outside 1 to 95 % vol"),
        ([("strength", "nan")], "is no number"),
        ([("glass", "90 g")], "is a weight; give a volume"),
        ([("glass", "-3")], "is not an amount"),
        ([("glass", "0 ml")], "is outside 1 to 20000 mL"),
        ([("glass", "900 l")], "is outside 1 to 20000 mL"),
        ([("strength", ""), ("glass", " ")], "write a strength, a volume"),
    ],
)
def test_what_cannot_be_read_keeps_its_place_and_says_why(
    opened: Opener, typed: Fields, reason: str
) -> None:
    page = opened("/reach", [*POURS, *typed], status=422)
    assert reason in page.first("p", class_="field-error").text
    name, value = typed[0]
    field = next(i for i in page.every("input") if i.attributes.get("id") == name)
    assert field.attributes["value"] == value.strip()
    assert not list(page.every("h3"))


def test_both_faults_are_told_at_once(opened: Opener) -> None:
    page = opened("/reach", [*POURS, ("strength", "0.2"), ("glass", "90g")], status=422)
    assert len(list(page.every("p", class_="field-error"))) == 2


def test_a_coffee_that_cannot_be_read_is_refused(client: TestClient) -> None:
    answer = client.get("/reach", params=[*POURS, ("dose_g", "much"), ("strength", "24")])
    assert answer.status_code == 422


def test_the_address_carries_the_unit_of_a_bare_number(opened: Opener) -> None:
    for asked, unit in (("", "ml"), ("oz", "oz"), ("furlong", "ml")):
        page = opened("/reach", [*POURS, ("glass", "4 oz"), ("glass_unit", asked)])
        kept = next(i for i in page.every("input") if i.attributes.get("name") == "glass_unit")
        assert kept.attributes["value"] == unit
