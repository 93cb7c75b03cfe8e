"""Mixtures against worked values and the published size of suppression."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.taste import perceive, salted_share
from service.taste.suppression import cold_share, sodium_mmol_per_l


def test_worked_mixtures_come_out(published):
    """Plain arithmetic on the same form, done by hand (no cold, salt or acid)."""
    rows = published("taste_mixtures")
    assert len(rows) == 6
    for row in rows:
        tasted = perceive(
            sugar_g_per_l=float(row["sugar_g_per_l"]), qhe_mg_per_l=float(row["qhe_mg_per_l"])
        )
        assert tasted.sweet == pytest.approx(float(row["sweet"]), abs=0.0006)
        assert tasted.bitter == pytest.approx(float(row["bitter"]), abs=0.0006)


def test_the_strongest_published_suppression_of_bitterness_is_met():
    """Schiffman et al. 1994: bitterness (denatonium) down by 87 % at 2.13 mol/L sucrose."""
    alone = perceive(sugar_g_per_l=0.0, qhe_mg_per_l=50.0).bitter
    sweetened = perceive(sugar_g_per_l=2.13 * 342.30, qhe_mg_per_l=50.0).bitter
    assert 1.0 - sweetened / alone == pytest.approx(0.87, abs=0.03)


def test_moderate_sugar_takes_a_third_to_two_thirds_of_the_bitterness():
    """Lawless 1979, Calviño 1990, Keast & Breslin 2003 (from memory): 30-60 % at 0.3-0.5 mol/L."""
    alone = perceive(sugar_g_per_l=0.0, qhe_mg_per_l=40.0).bitter
    for molar in (0.3, 0.4, 0.5):
        cut = 1.0 - perceive(sugar_g_per_l=molar * 342.30, qhe_mg_per_l=40.0).bitter / alone
        assert 0.30 <= cut <= 0.65


def test_bitterness_mutes_sweetness_less_than_the_reverse():
    """Lawless 1979 (from memory): 10-40 % of the sweetness."""
    plain = perceive(sugar_g_per_l=100.0).sweet
    cut = 1.0 - perceive(sugar_g_per_l=100.0, qhe_mg_per_l=40.0).sweet / plain
    assert 0.10 <= cut <= 0.40


def test_acid_and_sugar_mute_each_other():
    """Schifferstein & Frijters 1991."""
    both = perceive(sugar_g_per_l=60.0, acid_g_per_l=2.0)
    assert both.sweet < perceive(sugar_g_per_l=60.0).sweet
    assert both.sour < perceive(sugar_g_per_l=0.0, acid_g_per_l=2.0).sour


def test_salt_lowers_modelled_bitterness():
    """Common practice, no source for drinks; direction from Keast, Breslin & Beauchamp 2001."""
    plain = perceive(sugar_g_per_l=30.0, qhe_mg_per_l=30.0)
    salted = perceive(sugar_g_per_l=30.0, qhe_mg_per_l=30.0, salt_g_per_l=1.0)
    assert salted.bitter < plain.bitter


def test_a_pinch_of_salt_does_less_than_one_percent():
    """0.1 mL of 20 % saline in 100 mL: 0.2 g/L, 3.4 mmol/L; below recognition (0.9 g/L)."""
    assert sodium_mmol_per_l(0.2) == pytest.approx(3.4, abs=0.05)
    assert 0.0 < 1.0 - salted_share(0.2) < 0.01


def test_salt_frees_sweetness_only_where_there_was_bitterness():
    """Breslin & Beauchamp 1997 (sodium acetate in sucrose with and without urea)."""
    salt = 0.1 * 58.44
    assert (
        perceive(sugar_g_per_l=120.0, salt_g_per_l=salt).sweet
        == perceive(sugar_g_per_l=120.0).sweet
    )
    bitter = {"sugar_g_per_l": 120.0, "qhe_mg_per_l": 60.0}
    assert perceive(**bitter, salt_g_per_l=salt).sweet > perceive(**bitter).sweet


def test_salt_never_takes_more_than_urea_lost():
    """Keast, Breslin & Beauchamp 2001: 70 % or more is the largest seen, for urea."""
    assert 0.3 <= salted_share(300.0) < 1.0


def test_cold_mutes_sweet_and_bitter_but_not_acid_or_salt():
    """Bartoshuk et al. 1982; Green & Nachtigal 2015 (holds at 21 °C, falls at 5-12 °C)."""
    amounts = {
        "sugar_g_per_l": 40.0,
        "qhe_mg_per_l": 20.0,
        "acid_g_per_l": 1.0,
        "salt_g_per_l": 1.0,
        "abv": 0.2,
    }
    warm, cold = perceive(**amounts, celsius=21.0), perceive(**amounts, celsius=2.0)
    assert cold.sweet < warm.sweet
    assert cold.bitter < warm.bitter
    assert (cold.sour, cold.salt, cold.heat) == (warm.sour, warm.salt, warm.heat)
    assert cold_share(36.0, 0.8) == 1.0


def test_very_sweet_drinks_do_not_lose_sweetness_in_the_cold():
    """Bartoshuk et al. 1982: the effect of temperature vanishes near 0.5 mol/L sucrose."""
    cold, warm = (perceive(sugar_g_per_l=171.2, celsius=c).sweet for c in (0.0, 21.0))
    assert cold == pytest.approx(warm)


amounts = st.fixed_dictionaries(
    {
        "sugar_g_per_l": st.floats(0.0, 900.0),
        "qhe_mg_per_l": st.floats(0.0, 3000.0),
        "acid_g_per_l": st.floats(0.0, 60.0),
        "salt_g_per_l": st.floats(0.0, 50.0),
        "abv": st.floats(0.0, 1.0),
        "celsius": st.floats(-25.0, 60.0),
    }
)


@given(amounts=amounts, more=st.floats(0.1, 200.0))
def test_each_taste_rises_with_its_own_stimulus_and_never_fails(amounts, more):
    """More of a stimulus is more of its taste; every value finite and not below zero."""
    before = perceive(**amounts)
    for taste, stimulus, most in (
        ("sweet", "sugar_g_per_l", 1500.0),
        ("bitter", "qhe_mg_per_l", 1e5),
        ("sour", "acid_g_per_l", 200.0),
        ("salt", "salt_g_per_l", 360.0),
    ):
        after = perceive(**{**amounts, stimulus: min(amounts[stimulus] + more, most)})
        assert getattr(after, taste) >= getattr(before, taste) - 1e-9
    for taste in ("sweet", "bitter", "sour", "salt", "heat"):
        assert 0.0 <= getattr(before, taste) < np.inf


@given(amounts=amounts, more=st.floats(1.0, 300.0))
def test_sugar_never_raises_bitterness_or_sourness(amounts, more):
    before = perceive(**amounts)
    after = perceive(**{**amounts, "sugar_g_per_l": amounts["sugar_g_per_l"] + more})
    assert after.bitter <= before.bitter
    assert after.sour <= before.sour


@pytest.mark.parametrize(
    ("field", "value"),
    [("sugar_g_per_l", -1.0), ("abv", 1.2), ("celsius", float("nan")), ("salt_g_per_l", 900.0)],
)
def test_what_cannot_be_poured_is_refused_by_name(field, value):
    with pytest.raises(OutOfRange, match=field):
        perceive(**{"sugar_g_per_l": 10.0, field: value})


def test_one_bad_draw_among_many_is_found():
    sugar = np.full((3, 5), 40.0)
    sugar[1, 2] = np.nan
    with pytest.raises(OutOfRange, match="sugar_g_per_l"):
        perceive(sugar_g_per_l=sugar)
