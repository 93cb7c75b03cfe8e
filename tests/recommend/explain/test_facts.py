"""No statement without a fact: take one away and every sentence that rests on it goes."""

from __future__ import annotations

import pytest

from service.recommend.explain import (
    Explaining,
    Explanation,
    Fact,
    FactKind,
    Facts,
    Said,
    Voice,
    drink_said,
    pairing_said,
)
from tests.recommend.explain.conftest import Told

STRIDE = 23


def said(explanation: Explanation) -> list[Said]:
    return [*explanation.guest, *explanation.staff]


def test_every_sentence_rests_on_facts_that_are_there(everything: list[Explanation]) -> None:
    for explanation in everything:
        ids = {fact.id for fact in explanation.facts}
        for one in said(explanation):
            assert one.facts, one.text
            assert set(one.facts) <= ids, one.text


def test_fact_ids_are_unique(everything: list[Explanation]) -> None:
    for explanation in everything:
        ids = [fact.id for fact in explanation.facts]
        assert len(ids) == len(set(ids))


def test_take_away_a_fact_of_a_pairing_and_its_sentences_go(
    explaining: Explaining, pairings: list[Explanation], bottle_pairs: list[Explanation]
) -> None:
    for explanation in (*pairings[::STRIDE], *bottle_pairs[::3]):
        pair = (explanation.evidence.pairs[0].a, explanation.evidence.pairs[0].b)
        voice = Voice.of(pair)
        whole = pairing_said(explanation.facts, pair, explaining.speech, voice)
        for one in said(whole):
            for fact in one.facts:
                less = pairing_said(whole.facts.without(fact), pair, explaining.speech, voice)
                _gone(one, less)


def test_take_away_a_fact_of_a_drink_and_its_sentences_go(
    explaining: Explaining, whole_drinks: list[Explanation], drinks: list[Told]
) -> None:
    for explanation, told in zip(whole_drinks, drinks, strict=True):
        pairs = [(a.a, a.b) for a in told.affinities]
        whole = drink_said(explanation.facts, pairs, explaining.speech, Voice(3))
        for one in said(whole):
            for fact in one.facts:
                less = drink_said(whole.facts.without(fact), pairs, explaining.speech, Voice(3))
                _gone(one, less)


def _gone(one: Said, less: Explanation) -> None:
    """The sentence went, or another fact that was not used before says the very same."""
    for other in said(less):
        if other.text == one.text:
            assert set(other.facts) - set(one.facts), one.text


def test_without_any_fact_nothing_is_said(explaining: Explaining) -> None:
    pair = ("coffee-medium-washed-arabica", "bourbon")
    assert said(pairing_said(Facts(()), pair, explaining.speech, Voice(0))) == []
    assert said(drink_said(Facts(()), [pair], explaining.speech, Voice(0))) == []


def test_of_facts_with_one_id_the_first_stays() -> None:
    first, second = (Fact("x", FactKind.SCORE, ("a", "b"), value) for value in (1.0, 2.0))
    assert list(Facts.gathered([first], [second])) == [first]


def test_facts_are_found_by_kind_and_what_they_are_about() -> None:
    facts = Facts((
        Fact("1", FactKind.ECHO, ("a", "b", "oak")),
        Fact("2", FactKind.ECHO, ("a", "c", "oak")),
        Fact("3", FactKind.SCORE, ("a", "b")),
    ))  # fmt: skip
    assert [f.id for f in facts.of(FactKind.ECHO, "a", "b")] == ["1"]
    assert facts.one(FactKind.SCORE, "a", "c") is None
    assert [f.id for f in facts.without("2")] == ["1", "3"]


@pytest.mark.parametrize("moment", ["before", "after"])
def test_a_drink_tells_its_reading_before_and_after(
    whole_drinks: list[Explanation], drinks: list[Told], moment: str
) -> None:
    for explanation, told in zip(whole_drinks, drinks, strict=True):
        state = getattr(told.reading, moment)
        fact = explanation.facts.one(FactKind.TASTE, "bitter", moment)
        assert fact is not None
        assert fact.value == state.bitter.mid
