"""Explanations at the counter, and their JSON."""

from __future__ import annotations

import json

import pytest

from service.counter.coffees import Coffee
from service.counter.explain import (
    Poured,
    explain_pair,
    explain_poured,
    explain_with_coffee,
    explanation_json,
    what_if_changed,
    what_if_json,
    why_not_json,
    why_not_suggested,
)
from service.counter.known import Known
from service.kit import BadData, NotFound

COFFEE = Coffee(notes="dark chocolate, dried cherry and a bit of smoke")
POURS = [("bourbon", 50.0), ("rosso", 20.0), ("bitters", 1.6)]


def test_a_pairing_is_told_in_three_lengths(known: Known) -> None:
    body = explanation_json(known, explain_with_coffee(known, COFFEE, "smoky scotch"))
    assert "smoke" in body["guest"]["text"]
    assert len(body["staff"]["text"]) > len(body["guest"]["text"])
    pair = body["evidence"]["pairs"][0]
    total = sum(one["amount"] for one in pair["contributions"])
    assert total == pytest.approx(pair["score"], abs=1e-5)
    json.dumps(body, allow_nan=False)


def test_every_fact_that_a_sentence_names_is_in_the_answer(known: Known) -> None:
    body = explanation_json(known, explain_poured(known, Poured(POURS, COFFEE)))
    facts = {fact["id"] for fact in body["facts"]}
    for length in ("guest", "staff"):
        for sentence in body[length]["sentences"]:
            assert sentence["facts"]
            assert set(sentence["facts"]) <= facts
    assert set(body["evidence"]["readings"]) <= facts


def test_two_bottles_are_explained_the_same_whichever_is_named_first(known: Known) -> None:
    one, other = (explain_pair(known, *pair) for pair in (("gin", "rosso"), ("rosso", "gin")))
    assert one.guest == other.guest


def test_a_coffee_can_be_one_of_two_bottles_of_a_pair(known: Known) -> None:
    told = explain_pair(known, "coffee-dark-washed-arabica", "cognac")
    assert any("coffee" in one.text for one in told.guest)


def test_a_coffee_is_no_bottle_to_go_with_a_coffee(known: Known) -> None:
    with pytest.raises(BadData, match="is a coffee"):
        explain_with_coffee(known, COFFEE, "coffee-dark-washed-arabica")


def test_a_drink_without_coffee_is_explained_too(known: Known) -> None:
    told = explain_poured(known, Poured(POURS, None))
    assert told.guest
    assert told.evidence.pairs == ()


def test_why_not_tells_place_gap_and_what_is_lacking(known: Known) -> None:
    body = why_not_json(why_not_suggested(known, COFFEE, "absinthe"))
    assert body["place"] <= body["candidates"]
    assert sum(body["gaps"].values()) == pytest.approx(body["gap"], abs=5e-6)
    assert body["text"]
    json.dumps(body, allow_nan=False)


def test_why_not_knows_the_shelf(known: Known) -> None:
    body = why_not_json(why_not_suggested(known, COFFEE, "absinthe", among=["gin", "rye"]))
    assert not body["candidate"]
    with pytest.raises(NotFound):
        why_not_suggested(known, COFFEE, "absinthe", among=["qqqq"])


def test_what_if_tells_words_and_numbers(known: Known) -> None:
    sweeter = [*POURS[:1], ("rosso", 30.0), POURS[2]]
    body = what_if_json(what_if_changed(known, Poured(POURS, COFFEE), Poured(sweeter, COFFEE)))
    assert body["lines"] == [{"ingredient": "sweet-vermouth", "was_ml": 20.0, "now_ml": 30.0}]
    numbers = {one["name"]: one for one in body["numbers"]}
    assert numbers["sugar"]["difference"] > 0
    assert "sweeter" in body["text"]
    json.dumps(body, allow_nan=False)


def test_what_if_without_the_coffee_takes_the_caffeine_away(known: Known) -> None:
    body = what_if_json(what_if_changed(known, Poured(POURS, COFFEE), Poured(POURS, None)))
    numbers = {one["name"]: one for one in body["numbers"]}
    assert numbers["caffeine"]["now"] == 0
    assert "Caffeine" in body["text"]
