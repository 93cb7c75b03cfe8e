"""What sugar hides from a hydrometer."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import abv, apparent_abv, density_kg_per_m3, obscuration, poured, true_abv

Published = Callable[[str], list[dict[str, str]]]


@pytest.mark.parametrize("strength", [0.40, 0.45, 0.50])
def test_a_gram_of_sugar_hides_what_the_law_says(strength: float) -> None:
    # 27 CFR 30.32: 0.1 g of solids per 100 mL hides 0.4 degrees of proof, 0.20 % vol per g/L.
    hidden = 100.0 * obscuration(poured(100.0, abv=strength, sugar_g_per_l=1.0))
    assert hidden == pytest.approx(0.20, abs=0.04)


def test_sweeter_and_weaker_spirits_hide_more(published: Published) -> None:
    # R 22 with 0.62 mL per gram of sugar, worked out elsewhere; ours takes ICUMSA's 0.616-0.62.
    rows = [r for r in published("obscuration") if r["kind"] == "model"]
    assert len(rows) == 4
    for row in rows:
        drink = poured(100.0, abv=float(row["abv"]), sugar_g_per_l=float(row["sugar_g_per_l"]))
        hidden = 100.0 * obscuration(drink)
        assert hidden == pytest.approx(float(row["hidden_percent_volume"]), rel=0.01), row


@pytest.mark.parametrize(
    ("strength", "sugar", "density"), [(0.20, 100.0, 1012.1), (0.24, 300.0, 1084.5)]
)
def test_a_liqueur_denser_than_water_has_no_reading(
    strength: float, sugar: float, density: float
) -> None:
    # Densities from R 22 with 0.62 mL per gram of sugar; model error 0.3 %.
    liqueur = poured(100.0, abv=strength, sugar_g_per_l=sugar)
    assert density_kg_per_m3(liqueur) == pytest.approx(density, rel=1e-3)
    with pytest.raises(OutOfRange, match="distil it"):
        apparent_abv(liqueur)


@given(st.floats(0.05, 0.75), st.floats(0.0, 30.0))
def test_the_true_strength_comes_back_from_the_reading(strength: float, sugar: float) -> None:
    drink = poured(100.0, abv=strength, sugar_g_per_l=sugar)
    if density_kg_per_m3(drink) >= density_kg_per_m3(poured(100.0, abv=0.0)):
        return
    reading = apparent_abv(drink)
    assert 0.0 <= reading <= strength + 1e-9
    assert abv(drink) == pytest.approx(strength, abs=1e-9)
    assert true_abv(reading, sugar) == pytest.approx(strength, abs=1e-7)


def test_many_readings_in_one_call() -> None:
    true = true_abv(np.array([0.3758, 0.40]), np.array([10.0, 0.0]))
    assert np.allclose(true, [0.40, 0.40], atol=1e-4)


def test_impossible_readings_are_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        true_abv(0.99, 300.0)
    assert caught.value.field == "sugar_g_per_l"
    with pytest.raises(OutOfRange) as caught:
        true_abv(0.4, 600.0)
    assert caught.value.field == "sugar_g_per_l"
    with pytest.raises(OutOfRange) as caught:
        true_abv(37.6, 10.0)
    assert caught.value.field == "abv"
