"""The spoken tables: complete, and of ids that exist."""

from __future__ import annotations

import csv
from importlib.resources import files
from itertools import pairwise

import pytest

from service.counter.known import Known
from service.recommend.explain import build_speech, listed
from service.recommend.explain.differences import TasteDifference, difference_words
from service.recommend.explain.voice import Voice


def table(name: str) -> dict[str, str]:
    text = (files("service.recommend.explain") / f"spoken_{name}.csv").read_text(encoding="utf-8")
    return {row[0]: row[1] for row in list(csv.reader(text.splitlines()))[1:]}


def test_every_spoken_word_is_of_something_in_the_dataset(known: Known) -> None:
    assert table("notes").keys() <= known.catalogue.descriptors.keys()
    assert table("families").keys() <= known.catalogue.families.keys()
    assert table("names").keys() <= known.catalogue.ingredients.keys()


def test_no_two_bottles_are_called_the_same(known: Known) -> None:
    names = list(build_speech(known.catalogue).names.values())
    assert len(names) == len(set(names))


def test_most_notes_have_a_word(known: Known) -> None:
    notes = build_speech(known.catalogue).notes
    assert sum(bool(word) for word in notes.values()) >= 0.8 * len(notes)


def test_any_coffee_is_called_coffee(known: Known) -> None:
    speech = build_speech(known.catalogue)
    assert speech.name("coffee-medium-dark-natural-arabica") == "coffee"
    assert speech.name("coffee-liqueur") == "coffee liqueur"


def test_an_own_bottle_is_called_by_its_own_name(known: Known) -> None:
    from dataclasses import replace

    own = replace(known.catalogue.ingredients["fino-sherry"], id="own", name="pier sherry",
                  aliases=())  # fmt: skip
    assert build_speech(known.catalogue.extended([own])).name("own") == "pier sherry"


def test_lists_are_joined_as_people_do() -> None:
    assert [listed(list(letters)) for letters in ("", "a", "ab", "abc")] == [
        "", "a", "a and b", "a, b and c",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.5, "a touch sweeter"),
        (1.5, "sweeter"),
        (3.0, "much sweeter"),
        (-0.5, "a touch less sweet"),
    ],
)
def test_differences_have_three_sizes(value: float, words: str) -> None:
    assert difference_words("sweet", value) == words


def test_what_is_too_small_to_notice_is_not_said_and_the_largest_comes_first() -> None:
    found = TasteDifference(sweet=0.1, bitter=-2.6, sour=0.0, strength=1.2)
    assert found.words == ("much less bitter", "a touch stronger")


def test_neighbours_in_a_list_never_choose_the_same_way() -> None:
    ways = ("a", "b", "c")
    chosen = [Voice.in_list("coffee", turn).choose(ways) for turn in range(9)]
    assert all(one != other for one, other in pairwise(chosen))


def test_the_voice_of_a_drink_does_not_depend_on_the_order_of_its_parts() -> None:
    assert Voice.of(["a", "b"]) == Voice.of(["b", "a"])
