"""Colour words."""

from __future__ import annotations

import numpy as np

from service.bed import colour_word
from service.ingredients.records import Roast


def test_filter_coffee_is_dark_brown():
    """1.25 % is the strength of filter coffee (Lockhart 1957); its colour: common practice."""
    assert colour_word(12.5) == "dark brown"


def test_more_coffee_is_never_paler():
    words = [colour_word(grams) for grams in np.linspace(0, 40, 200)]
    seen = list(dict.fromkeys(words))
    assert seen == [
        "barely tinted",
        "pale gold",
        "amber",
        "chestnut",
        "dark brown",
        "near black",
    ]


def test_a_dark_roast_colours_more_than_a_light_one():
    assert colour_word(9.0, Roast.LIGHT) == "chestnut"
    assert colour_word(9.0, Roast.DARK) == "dark brown"
