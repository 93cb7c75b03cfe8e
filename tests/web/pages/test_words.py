"""Words that must be the same on every page: coffees, and bottles as they are sold and left."""

from __future__ import annotations

import pytest

from service.bar import Units
from service.kit import ServiceError
from service.web.pages.bottle_words import left_words, size_words, typed_size_ml
from tests.web.pages.conftest import Opener
from tests.web.pages.reading import Element


@pytest.mark.parametrize(
    ("stock_ml", "size_ml", "units", "words"),
    [
        (1_400, 700, Units.ML, "2 bottles of 700 mL"),
        (700, 700, Units.CL, "1 bottle of 70 cL"),
        (1_050, 700, Units.CL, "1.5 bottles left, 70 cL each"),
        (1_050, 700, Units.OZ, "1.5 bottles left, 700 mL each"),
        (280, 700, Units.ML, "0.4 of a bottle left, of 700 mL"),
        (690, 700, Units.ML, "about 1 bottle left, of 700 mL"),
        (720, 700, Units.ML, "about 1 bottle left, of 700 mL"),
        (10, 700, Units.ML, "hardly any left of a bottle of 700 mL"),
        (0, 700, Units.ML, "none left, bottles of 700 mL"),
    ],
)
def test_what_is_left_is_counted_in_bottles(
    stock_ml: float, size_ml: float, units: Units, words: str
) -> None:
    assert left_words(stock_ml, size_ml, units) == words


def test_a_size_is_said_as_labels_say_it() -> None:
    assert [size_words(750, units) for units in Units] == [
        "75 cL" if units is Units.CL else "750 mL" for units in Units
    ]


@pytest.mark.parametrize(
    ("text", "size_ml"),
    [("700", 700), ("70 cL", 700), ("1,5 l", 1500), ("750 ml", 750), ("", None), ("0,5 L", 500)],
)
def test_a_size_may_be_typed_with_its_unit(text: str, size_ml: float | None) -> None:
    assert typed_size_ml(text, "size_ml", 1, 100_000, 700) == size_ml


@pytest.mark.parametrize("text", ["lots", "70 g", "70 barrels", "900 l", "0"])
def test_what_is_no_size_is_refused_at_its_field(text: str) -> None:
    with pytest.raises(ServiceError) as refused:
        typed_size_ml(text, "size_ml", 1, 100_000, 700)
    assert refused.value.field == "size_ml"


@pytest.mark.parametrize("name", ["roast", "process", "species", "grind"])
def test_bag_and_first_page_use_the_same_words(opened: Opener, name: str) -> None:
    first, bag = opened("/").first(id="content"), opened("/coffees/new").first(id="content")
    assert words(first, name) == words(bag, name) != []


def words(page: Element, name: str) -> list[str]:
    """What a person reads beside each choice of a field."""
    radios = [e.text for e in page.every("label") if list(e.every("input", name=name))]
    chosen = page.every("select", name=name)
    return radios or [option.text for each in chosen for option in each.every("option")]


def test_a_coffee_is_read_back_in_the_words_it_was_chosen_by(opened: Opener) -> None:
    page = opened("/pairings", [("species", "canephora"), ("roast", "medium-dark")])
    assert "robusta (canephora)" in words(page, "species")
    said = page.first(class_="coffee-said").text
    assert "medium dark roast, washed robusta (canephora)" in said


def test_the_list_of_coffees_uses_the_same_words(opened: Opener) -> None:
    said = opened("/ingredients", [("role", "coffee")]).first(id="content").text
    assert said.count("canephora") == said.count("robusta (canephora)") > 0
