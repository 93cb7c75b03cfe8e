"""Saying what the coffee is: what stands in the address stands in the form, faults included."""

from __future__ import annotations

import pytest
from starlette.datastructures import QueryParams

from service.counter.coffees import Coffee
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species
from service.web.pages.coffee_form import address, coffee_asked, coffee_fields
from tests.web.pages.conftest import Opener

USUAL = {"roast": "medium", "process": "washed", "species": "arabica", "grind": "medium-fine"}
UNUSUAL = Coffee(
    CoffeeProfile(Roast.DARK, Process.NATURAL, Species.CANEPHORA),
    "fig, 70 % cocoa & smoke",
    12.5,
    Grind.COARSE,
    decaf=True,
)


def test_the_empty_form_stands_on_medium_washed_arabica(opened: Opener) -> None:
    page = opened("/")
    for name, value in USUAL.items():
        ticked = [e for e in page.every("input", name=name) if "checked" in e.attributes]
        assert [e.attributes["value"] for e in ticked] == [value]
    assert page.first("form", class_="coffee-form").attributes["method"] == "get"


def test_a_coffee_survives_the_way_through_its_address() -> None:
    asked = coffee_asked(QueryParams(coffee_fields(UNUSUAL)))
    assert asked.coffee == UNUSUAL
    assert not asked.errors


def test_the_usual_coffee_has_the_shortest_address() -> None:
    assert address("/pairings", coffee_fields(Coffee())) == "/pairings"


def test_a_deep_link_fills_the_form(opened: Opener) -> None:
    page = opened("/", coffee_fields(UNUSUAL))
    assert page.first("textarea").text == "fig, 70 % cocoa & smoke"
    assert page.first("input", id="dose_g").attributes["value"] == "12.5"
    assert "open" in page.first("details").attributes


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("dose_g", "much", "is no number"),
        ("dose_g", "0", "is outside 2 to 1000 g"),
        ("roast", "burnt", "choose one of light, medium-light"),
        ("grind", "dust", "choose one of fine"),
        ("notes", "fig " * 600, "shorten them to 2000"),
        ("novelty", "9", "is outside 0 to 1"),
    ],
)
def test_a_fault_says_what_to_do_and_keeps_what_was_typed(
    opened: Opener, field: str, value: str, said: str
) -> None:
    page = opened("/pairings", [("notes", "quince"), (field, value)], status=422)
    assert said in page.first(class_="problem").text
    if field in {"dose_g", "notes"}:
        typed = page.first(id=field)
        assert typed.attributes["aria-invalid"] == "true"
        assert (typed.attributes.get("value") or typed.text) == value.strip()
    if field != "notes":
        assert page.first("textarea").text == "quince"


def test_a_dose_may_be_written_with_a_comma() -> None:
    assert coffee_asked(QueryParams("dose_g=12,5")).coffee.dose_g == 12.5


def test_the_examples_are_called_invented_and_lead_to_pairings(opened: Opener) -> None:
    page = opened("/")
    assert "invented" in page.text
    links = [a for a in page.every("a") if a.attributes["href"].startswith("/pairings?")]
    assert len(links) == 3
