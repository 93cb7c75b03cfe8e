"""Sweetness of sugars against handbook tables; sugar words against the law."""

from __future__ import annotations

import numpy as np
import pytest

from service.kit import NotFound, OutOfRange
from service.taste import (
    aromatised_wine_class,
    relative_sweetness,
    sucrose_equivalent_g_per_l,
    sucrose_from_invert_g_per_l,
)


def test_relative_sweetness_is_that_of_the_handbooks(published):
    """Handbook tables as named row by row in reference/taste_sweetness.csv."""
    for row in published("taste_sweetness"):
        ours = relative_sweetness(row["sugar"])
        stated = [float(row[f"relative{end}"]) for end in ("_low", "", "_high")]
        assert [ours.low, ours.mid, ours.high] == pytest.approx(stated)


def test_invert_sugar_is_half_glucose_and_half_fructose():
    halves = 0.5 * relative_sweetness("glucose").mid + 0.5 * relative_sweetness("fructose").mid
    assert relative_sweetness("invert").mid == pytest.approx(halves)


def test_eu_limits_as_invert_sugar_are_five_percent_less_as_sucrose():
    """Molar masses 342.30 and 360.31 g/mol."""
    assert sucrose_from_invert_g_per_l(1000.0) == pytest.approx(950.0, abs=0.1)


def test_aromatised_wine_words_are_those_of_the_regulation(published):
    """Regulation (EU) No 251/2014, Article 6(1)."""
    rows = published("legal_aromatised_wine")
    assert len(rows) == 10
    for row in rows:
        assert aromatised_wine_class(float(row["g_per_l_invert"])) == row["word"]


def test_sweetness_adds_up_over_arrays():
    sucrose = np.array([0.0, 30.0])
    assert sucrose_equivalent_g_per_l(sucrose, 20.0) == pytest.approx([19.0, 49.0])


def test_impossible_sugar_is_refused_by_name():
    with pytest.raises(OutOfRange, match="sucrose_g_per_l"):
        sucrose_equivalent_g_per_l(-1.0)
    with pytest.raises(OutOfRange, match="invert_g_per_l"):
        sucrose_equivalent_g_per_l(10.0, float("nan"))
    with pytest.raises(NotFound, match="stevia"):
        relative_sweetness("stevia")
