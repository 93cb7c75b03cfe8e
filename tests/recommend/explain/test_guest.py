"""What a guest is told: short, plain, honest, varied, and nothing without a fact."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from service.counter.known import Known
from service.recommend.explain import Explaining, Explanation, Said, Voice, pairing_said
from service.recommend.explain.guest import FAINT
from tests.recommend.explain.readability import grade, words_of

VOCABULARY = Path(__file__).parent / "vocabulary.txt"
HIGHEST_GRADE = 8.0
SMALL = frozenset(
    words_of(
        "you get from and then once more both smell of picks pick up in look for find that there "
        "is brings bring it what ties to first starts with meet at point like think a bit way on "
        "too have has share one thing next go long top after"
    )
)
MOST_WORDS = 32
# Words that one side of the ocean writes otherwise.
TWO_SPELLINGS = re.compile(
    r"colou?r|flavou?r|savou?r|favou?r|odou?r|vapou?r|li[cq]u?orice|chill?[iey]\b|yogh?urt|"
    r"sul(ph|f)ur|mou?ld|gr[ae]y\b|cent(er|re)|lit(er|re)\b|fib(er|re)|\w+i[sz]ation|\w+ising\b|"
    r"\w+izing\b|aluminium|treacle|aubergine|courgette|cilantro"
)
HEALTH = re.compile(
    r"health|good for you|sober|wake|awake|energy|boost|detox|digest|cure|heal|medicine|safe\b|"
    r"vitamin|antioxidant|calm|relax|hangover|sleep|tonic\b|remedy"
)


def texts(explanations: list[Explanation]) -> list[str]:
    return [" ".join(one.text for one in e.guest) for e in explanations if e.guest]


def test_one_or_two_sentences_that_can_be_said_in_one_breath(
    everything: list[Explanation],
) -> None:
    for explanation in everything:
        assert len(explanation.guest) <= 2
    for text in texts(everything):
        assert len(words_of(text)) <= 2 * MOST_WORDS
        for sentence in re.split(r"(?<=[.])\s", text):
            assert len(words_of(sentence)) <= MOST_WORDS
            assert sentence[0].isupper()
            assert sentence.endswith(".")


def test_nearly_every_pairing_has_something_to_say(pairings: list[Explanation]) -> None:
    silent = [e for e in pairings if not e.guest]
    assert len(silent) <= 0.03 * len(pairings)


def test_every_drink_has_two_sentences(whole_drinks: list[Explanation]) -> None:
    assert all(len(e.guest) == 2 for e in whole_drinks)


def test_reading_grade_is_eight_at_most(everything: list[Explanation]) -> None:
    for text in texts(everything):
        assert grade(text) <= HIGHEST_GRADE, text


def test_only_words_that_a_guest_knows(everything: list[Explanation]) -> None:
    known = set(VOCABULARY.read_text(encoding="utf-8").split())
    for text in texts(everything):
        assert set(words_of(text)) <= known, text


def test_the_list_of_words_is_in_order_and_without_chemistry_or_promises(known: Known) -> None:
    lines = VOCABULARY.read_text(encoding="utf-8").split()
    assert lines == sorted(set(lines))
    odorants = {word for o in known.catalogue.odorants.values() for word in words_of(o.name)}
    chemistry = {w for w in odorants if len(w) > 5} - {"raspberry", "jasmine"}
    assert not chemistry & set(lines)
    for word in lines:
        assert not TWO_SPELLINGS.fullmatch(word), word
        assert not HEALTH.fullmatch(word), word


def test_no_chemistry_no_promise_no_numbers(everything: list[Explanation], known: Known) -> None:
    odorants = [o.name.lower() for o in known.catalogue.odorants.values() if len(o.name) > 7]
    for text in texts(everything):
        lower = text.lower()
        assert not HEALTH.search(lower), text
        assert not re.search(r"\d|compound|molecule|odorant|ester|acid\b|phenol", lower), text
        assert not any(name in lower for name in odorants), text


def test_neither_spelling_is_used_where_there_are_two(everything: list[Explanation]) -> None:
    for text in texts(everything):
        assert not TWO_SPELLINGS.search(text.lower()), text


def test_taste_is_called_taste_and_smell_smell(whole_drinks: list[Explanation]) -> None:
    """The second sentence speaks of what the tongue finds, the first of what the nose does."""
    for explanation in whole_drinks:
        smell, taste = explanation.guest
        assert all(f.startswith(("taste:", "amount:strength")) for f in taste.facts)
        assert not any(f.startswith("taste:") for f in smell.facts)


def test_five_in_a_row_are_all_said_differently(pairings: list[Explanation]) -> None:
    """With their notes and names taken out, neighbours of a list are never built alike."""
    shapes = [_shape(e.guest[0]) for e in pairings[:80] if e.guest]
    for place in range(len(shapes) - 4):
        assert len(set(shapes[place : place + 5])) >= 4


def _shape(said: Said) -> str:
    """The bones of a sentence: only the words of its template stay."""
    return " ".join(word for word in words_of(said.text) if word in SMALL)


def test_the_same_pairing_is_always_told_the_same(
    explaining: Explaining, everything: list[Explanation]
) -> None:

    one = everything[0]
    pair = (one.evidence.pairs[0].a, one.evidence.pairs[0].b)
    from service.ingredients import load_catalogue
    from service.recommend.explain import build_speech

    speech = build_speech(load_catalogue())
    told = [pairing_said(one.facts, pair, speech, Voice.of(pair)).guest for _ in range(2)]
    assert told[0] == told[1]


def test_without_coffee_no_coffee_is_spoken_of(whole_drinks: list[Explanation]) -> None:
    assert "coffee" not in texts(whole_drinks)[-1]
    assert "coffee" not in " ".join(one.text for one in whole_drinks[-1].staff).lower()


@pytest.mark.parametrize("word", ["bitters", "beans"])
def test_verbs_agree_with_their_bottle(pairings: list[Explanation], word: str) -> None:
    for text in texts(pairings):
        assert not re.search(rf"{word} (has|brings|picks|answers|adds|sets|smells)\b", text), text


def test_a_coffee_and_a_bottle_that_share_next_to_nothing_are_told_side_by_side(
    pairings: list[Explanation],
) -> None:
    told = 0
    for explanation in pairings:
        echo = next(f for f in explanation.facts if f.id.endswith(":part:echo"))
        kinds = {fact.split(":")[0] for said in explanation.guest for fact in said.facts}
        told += "note" in kinds
        if echo.value < FAINT:
            assert not any(":echo:" in fact for said in explanation.guest for fact in said.facts)
        else:
            assert "note" not in kinds
    assert told > 0.05 * len(pairings)


def test_a_third_bottle_is_named_only_where_there_is_nothing_nearer(
    pairings: list[Explanation],
) -> None:
    for explanation in pairings:
        facts = [fact for said in explanation.guest for fact in said.facts]
        if any(":bridge:" in fact for fact in facts):
            assert not any(part in fact for fact in facts for part in (":echo:", ":custom:"))
