"""Swaps at the counter: names, specs as they are written down, and the JSON."""

from __future__ import annotations

import json

import pytest

from service.counter.known import Known
from service.counter.swap import SwapQuestion, bottle_named, pours_of_text, swap
from service.counter.swap_json import amount_words, swap_json
from service.kit import BadData, NotFound
from service.recommend.swap import Rescue, StandIns


@pytest.mark.parametrize(
    ("said", "meant"),
    [("oloroso-sherry", "oloroso-sherry"), ("oloroso", "oloroso-sherry"),
     ("out of oloroso", "oloroso-sherry"), ("We're out of the oloroso", "oloroso-sherry"),
     ("no more red bitter", "red-bitter-aperitif"),
     ("86 triple sec", "triple-sec"), ("the amaretto type", "almond-liqueur"),
     ("out of nocino", "walnut-liqueur"), ("OUT OF: Fino!", "fino-sherry")],
)  # fmt: skip
def test_a_bottle_is_known_by_what_a_bartender_calls_it(
    known: Known, said: str, meant: str
) -> None:
    assert bottle_named(known, said).id == meant


@pytest.mark.parametrize(
    ("said", "style"),
    [("sherry", "sherry"), ("out of amaro", "amaro"), ("whisky", "whisky"), ("rum", "rum"),
     ("herb liqueurs", "herb liqueur")],
)  # fmt: skip
def test_a_whole_style_stands_for_its_most_poured_member(
    known: Known, said: str, style: str
) -> None:
    assert bottle_named(known, said).style == style


def test_an_unknown_word_gets_the_nearest_names(known: Known) -> None:
    with pytest.raises(NotFound, match="nearest"):
        bottle_named(known, "out of olorosso sherri")


@pytest.mark.parametrize(
    "text",
    ["bourbon=45ml, sweet-vermouth=1 oz, aromatic-bitters=2 dashes",
     "bourbon=45ml sweet-vermouth=1oz aromatic-bitters=2 dashes",
     "bourbon = 45 ml\nsweet-vermouth = 1 oz\naromatic-bitters = 2 dashes\n"],
)  # fmt: skip
def test_a_spec_can_be_written_in_a_line_or_in_lines(text: str) -> None:
    pours = pours_of_text(text)
    assert [name for name, _ in pours] == ["bourbon", "sweet-vermouth", "aromatic-bitters"]
    assert [ml for _, ml in pours] == pytest.approx([45, 29.5735, 1.6], abs=1e-3)


@pytest.mark.parametrize("text", ["bourbon", "bourbon=", "=45ml", "bourbon=45ml gin"])
def test_what_is_no_pour_is_said_to_be_none(text: str) -> None:
    with pytest.raises(BadData, match="write it like"):
        pours_of_text(text)


def test_an_empty_spec_is_refused() -> None:
    with pytest.raises(NotFound):
        pours_of_text(" \n")


def test_without_a_drink_the_answer_is_a_ranked_list(known: Known) -> None:
    answer = swap(known, SwapQuestion("bourbon", limit=4))
    assert isinstance(answer, StandIns)
    body = swap_json(known, answer)
    assert body["replacements"][0]["ingredient"] == "rye-whiskey"
    assert len(body["replacements"]) == 4
    assert body["missing"]["ingredient"] == "bourbon"
    assert not body["nothing_does_it"]
    json.dumps(body, allow_nan=False)


def test_with_a_drink_each_replacement_has_amounts_and_tolerances(known: Known) -> None:
    pours = [("bourbon", 50.0), ("sweet vermouth", 20.0), ("bitters", 1.6)]
    answer = swap(known, SwapQuestion("rosso", pours))
    assert isinstance(answer, Rescue)
    body = swap_json(known, answer)
    for one in (*body["replacements"], *body["two_bottles"]):
        assert one["drink"]["pours"]
        assert one["changes"]
        assert {t["measure"] for t in one["tolerances"]} == {
            "sweetness", "bitterness", "acid", "strength", "salt",
        }  # fmt: skip
        assert one["in_tolerance"] == all(t["within"] for t in one["tolerances"])
    json.dumps(body, allow_nan=False)


def test_flags_are_the_first_key_and_the_first_words(known: Known) -> None:
    for pours in ([], [("bourbon", 50.0), ("maraschino", 10.0)]):
        answer = swap(known, SwapQuestion("maraschino", pours, shelf=["amaretto", "cherry brandy"]))
        body = swap_json(known, answer)
        nutty = next(r for r in body["replacements"] if r["ingredient"] == "almond-liqueur")
        assert next(iter(nutty)) == "flags"
        assert nutty["flags"][0]["code"] == "nuts"
        assert nutty["words"].startswith("adds nuts")


def test_nothing_on_the_shelf_is_said_plainly_with_what_to_buy(known: Known) -> None:
    body = swap_json(known, swap(known, SwapQuestion("px", shelf=["gin", "vodka"])))
    assert body["nothing_does_it"]
    assert body["replacements"] == []
    assert body["words"].startswith("nothing on this shelf stands in for Pedro Ximénez sherry")
    assert body["to_buy"][0]["ingredient"] == "cream-sherry"
    assert "cream sherry" in body["words"]


def test_parts_of_a_replacement_sum_to_its_score(known: Known) -> None:
    body = swap_json(known, swap(known, SwapQuestion("triple sec")))
    for one in body["replacements"]:
        assert sum(one["parts"].values()) == pytest.approx(one["score"], abs=5e-6)


def test_the_shelf_may_be_named_as_people_do_and_a_slip_names_its_field(known: Known) -> None:
    with pytest.raises(NotFound) as raised:
        swap(known, SwapQuestion("triple sec", shelf=["curaçao", "qqqq"]))
    assert raised.value.field == "shelf"


def test_amounts_are_said_in_the_bars_words(known: Known) -> None:
    i = known.catalogue.ingredients
    assert amount_words(i["bourbon"], 45) == "45 ml"
    assert amount_words(i["orange-bitters"], 1.6) == "2 dashes"
    assert amount_words(i["orange-bitters"], 0.8) == "1 dash"
    assert amount_words(i["saline"], 0.2) == "4 drops"
