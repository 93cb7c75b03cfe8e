"""The measure itself, before anything is measured with it."""

from __future__ import annotations

import pytest

from tests.recommend.explain.readability import grade, syllables, words_of


def test_the_published_worked_example() -> None:
    """Thirteen words and twenty-four syllables in one sentence give 11.3: the example that is
    commonly printed with the formula (from memory, to be confirmed)."""
    text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    assert len(words_of(text)) == 13
    assert sum(syllables(word) for word in words_of(text)) == 24
    assert grade(text) == pytest.approx(11.3, abs=0.05)


def test_six_words_of_one_syllable_by_hand() -> None:
    """0.39 x 6 + 11.8 x 1 - 15.59 = -1.45."""
    assert grade("The cat sat on the mat.") == pytest.approx(-1.45)


@pytest.mark.parametrize(
    ("word", "count"),
    [("coffee", 2), ("smoke", 1), ("table", 2), ("liqueur", 2), ("cherry", 2), ("raspberry", 3),
     ("orange", 2), ("bitters", 2), ("molasses", 3), ("tastes", 1), ("peaches", 2), ("mixed", 1),
     ("vermouth", 2), ("bourbon", 2), ("leather", 2), ("chocolate", 3), ("pot-still", 2),
     ("caramel", 3), ("almond", 2), ("spices", 2), ("goes", 1), ("apricot", 3)],
)  # fmt: skip
def test_syllables_as_a_dictionary_parts_them(word: str, count: int) -> None:
    """From memory of any dictionary."""
    assert syllables(word) == count
