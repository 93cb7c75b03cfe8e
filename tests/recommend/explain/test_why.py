"""One line for each suggestion, why not, and what if."""

from __future__ import annotations

import time

import pytest

from service.aroma import Aroma
from service.counter.known import Known
from service.drink import read_many
from service.ingredients.records import Role
from service.kit import BadData
from service.recommend import Affinity, Part, Reason, of_role, rank
from service.recommend.explain import Explaining, build_speech, what_if, why_line, why_not
from tests.recommend.explain.conftest import Told


def made(score: float, *reasons: Reason) -> Affinity:
    parts = {part: sum(r.amount for r in reasons if r.part is part) for part in Part}
    return Affinity("coffee-dark-washed-arabica", "maraschino", score, parts, reasons, 0.5)


def test_shared_notes_are_named_strongest_first(known: Known) -> None:
    line = why_line(
        made(0.6, Reason(Part.ECHO, ("cherry",), 0.4), Reason(Part.ECHO, ("almond",), 0.2)),
        build_speech(known.catalogue),
    )
    assert line == "shares cherry and almond"


def test_a_note_without_a_word_is_passed_over(known: Known) -> None:
    line = why_line(
        made(0.6, Reason(Part.ECHO, ("fusel",), 0.4), Reason(Part.ECHO, ("almond",), 0.2)),
        build_speech(known.catalogue),
    )
    assert line == "shares almond"


def test_each_of_the_other_ways_is_named(known: Known) -> None:
    speech = build_speech(known.catalogue)
    bridge = made(0.2, Reason(Part.BRIDGE, ("aged-rum",), 0.2))
    assert why_line(bridge, speech) == "meets it by way of aged rum"
    contrast = made(0.2, Reason(Part.CONTRAST, ("roast", "citrus"), 0.2))
    assert why_line(contrast, speech) == "sets citrus against roast"
    itself = made(0.2, Reason(Part.CUSTOM, ("coffee", "maraschino"), 0.2))
    assert why_line(itself, speech) == "an old pair"
    like = made(0.2, Reason(Part.CUSTOM, ("coffee", "curacao"), 0.2))
    assert why_line(like, speech) == "close to an old pair: coffee with orange curaçao"


def test_the_part_that_carries_most_comes_first_and_small_ones_are_left_out(known: Known) -> None:
    line = why_line(
        made(
            1.0,
            Reason(Part.CUSTOM, ("coffee", "maraschino"), 0.55),
            Reason(Part.ECHO, ("cherry",), 0.4),
            Reason(Part.BRIDGE, ("aged-rum",), 0.05),
        ),
        build_speech(known.catalogue),
    )
    assert line == "an old pair; shares cherry"


def test_where_nothing_can_be_named_that_is_said(known: Known) -> None:
    speech = build_speech(known.catalogue)
    assert why_line(made(0.1, Reason(Part.ECHO, (), 0.1)), speech) == "little is known of the two"


def test_a_line_takes_less_than_thirty_microseconds(
    known: Known, explaining: Explaining, aromas: list[Aroma]
) -> None:
    found = rank(
        known.knowledge, aromas[0], of_role(known.catalogue, Role.MODIFIER),
        known.knowledge.weights, 50,
    )  # fmt: skip

    def seconds() -> float:
        start = time.perf_counter()
        for affinity in found:
            why_line(affinity, explaining.speech)
        return (time.perf_counter() - start) / len(found)

    assert min(seconds() for _ in range(20)) < 30e-6


def test_why_not_says_where_it_comes_and_what_it_lacks(
    known: Known, explaining: Explaining, aromas: list[Aroma]
) -> None:
    weights = known.knowledge.weights
    modifiers = of_role(known.catalogue, Role.MODIFIER)
    ranked = rank(known.knowledge, aromas[0], modifiers, weights, len(modifiers))
    last, poor = ranked[9], ranked[-1]
    found = why_not(explaining, aromas[0], poor.b, modifiers, weights)
    assert not found.suggested
    assert found.candidate
    assert (found.place, found.candidates) == (len(modifiers), len(modifiers))
    assert found.last.b == last.b
    assert found.gap == pytest.approx(last.score - poor.score)
    assert sum(found.gaps.values()) == pytest.approx(found.gap, abs=1e-9)
    shared = {r.names[0] for r in poor.reasons if r.part is Part.ECHO and r.names}
    assert not set(found.lacks) & shared
    assert found.said
    assert all(one.facts for one in found.said)


def test_why_not_of_what_is_suggested_says_so(
    known: Known, explaining: Explaining, aromas: list[Aroma]
) -> None:
    bases = of_role(known.catalogue, Role.BASE)
    best = rank(known.knowledge, aromas[0], bases, known.knowledge.weights, 1)[0]
    found = why_not(explaining, aromas[0], best.b, bases, known.knowledge.weights)
    assert found.suggested
    assert found.said[0].text.startswith("It is suggested")


def test_why_not_of_what_is_not_on_the_shelf_says_so(
    known: Known, explaining: Explaining, aromas: list[Aroma]
) -> None:
    found = why_not(
        explaining, aromas[0], "fernet", ["triple-sec", "ruby-port"], known.knowledge.weights, 2
    )
    assert not found.candidate
    assert "not among the bottles" in found.said[0].text


def test_why_not_of_a_coffee_or_of_nothing_is_refused(
    explaining: Explaining, aromas: list[Aroma], known: Known
) -> None:
    with pytest.raises(BadData, match="no bottle"):
        why_not(explaining, aromas[0], "coffee-dark-washed-arabica", ["bourbon"],
                known.knowledge.weights)  # fmt: skip
    with pytest.raises(BadData, match="nothing to compare"):
        why_not(explaining, aromas[0], "bourbon", [], known.knowledge.weights)


def test_what_if_tells_the_difference_of_two_readings(
    known: Known, explaining: Explaining, drinks: list[Told]
) -> None:
    one, other = drinks[0], drinks[4]
    was, now = read_many([one.drink, other.drink], known.band)
    found = what_if(known.knowledge.space, explaining.speech, (one.drink, was), (other.drink, now))
    numbers = {number.name: number for number in found.numbers}
    assert numbers["strength"].amount == pytest.approx(
        100 * (now.after.abv.mid - was.after.abv.mid)
    )
    assert numbers["caffeine"].was == was.after.caffeine_mg.mid
    assert {line.ingredient for line in found.lines} >= {"bourbon", "mezcal"}
    assert "smoke" in found.gained
    assert all(one.facts for one in found.said)


def test_what_if_nothing_changes_says_that(
    known: Known, explaining: Explaining, drinks: list[Told]
) -> None:
    same = (drinks[0].drink, drinks[0].reading)
    found = what_if(known.knowledge.space, explaining.speech, same, same)
    assert found.lines == ()
    assert [one.text for one in found.said] == ["Nothing changes."]


def test_what_if_more_syrup_says_sweeter(
    known: Known, explaining: Explaining, drinks: list[Told]
) -> None:
    from service.drink import with_volume

    old = drinks[5].drink
    new = with_volume(old, known.catalogue.ingredients["simple-syrup"], 12.5)
    was, now = read_many([old, new], known.band)
    found = what_if(known.knowledge.space, explaining.speech, (old, was), (new, now))
    assert any("sweeter" in words for words in found.taste.words)
    assert "12.5 instead of 5 ml of sugar syrup" in found.said[0].text
