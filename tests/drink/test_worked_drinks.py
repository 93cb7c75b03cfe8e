"""Fifteen public drinks against sums done by hand, and the stirred-drink rule of Arnold 2014."""

from __future__ import annotations

import pytest

from service.drink import Drink, read_many
from service.kit import Interval
from service.liquid import PreDiluted, Stirring


def arnold_dilution(abv: float) -> float:
    """Water per volume of drink: Arnold 2014, Liquid Intelligence (from memory)."""
    return -1.21 * abv**2 + 1.246 * abv + 0.145


@pytest.fixture(scope="module")
def diluted(worked, band):
    drinks = [
        Drink(
            w.pours,
            PreDiluted(dilution=arnold_dilution(w.printed["abv_percent_before"] / 100), celsius=4),
            name=w.name,
        )
        for w in worked
    ]
    return list(zip(worked, read_many(drinks, band, draws=0), strict=True))


def test_the_table_holds_fifteen_drinks(worked):
    assert len(worked) == 15


@pytest.mark.parametrize(
    ("ours", "printed", "factor", "tolerance"),
    [
        # The hand sums add up volumes; ours contract by up to 0.7 %, which is what the
        # tolerances beyond the last printed figure are for.
        ("volume_ml", "volume_ml", 1.0, 1.5),
        ("abv", "abv_percent", 100.0, 0.25),
        ("sugar_g_per_l", "sugar_g_per_100ml", 0.1, 0.12),
        ("acid_g_per_l", "acid_g_per_100ml", 0.1, 0.008),
        ("qhe_mg_per_l", "qhe_mg_per_l", 1.0, 0.9),
        ("ethanol_g", "ethanol_g", 1.0, 0.06),
    ],
)
def test_worked_drinks_come_out(diluted, ours, printed, factor, tolerance):
    """Public specifications, amounts from memory; sums by hand (reference/worked_drinks.csv)."""
    for w, reading in diluted:
        if ours == "acid_g_per_l" and any(p.ingredient.id == "fernet" for p in w.pours):
            continue  # the printed table gives a fernet type no acid of its own, yet counts some
        value = getattr(reading.before, ours).mid * factor
        assert value == pytest.approx(w.printed[printed], abs=tolerance), w.name


def test_dilution_by_the_rule_is_as_printed(worked):
    for w in worked:
        printed = w.printed["dilution_percent"]
        by_rule = 100.0 * arnold_dilution(w.printed["abv_percent_before"] / 100)
        assert by_rule == pytest.approx(printed, abs=0.7)


def test_stirring_lands_within_the_handbook_strength(worked, band):
    """Arnold 2014 (from memory): 21 to 29 % vol after stirring, for drinks of 29 to 43 before."""
    drinks = [Drink(w.pours, Stirring(), name=w.name) for w in worked]
    for w, reading in zip(worked, read_many(drinks, band, draws=0), strict=True):
        if 29.0 <= w.printed["abv_percent_before"] <= 43.0:
            assert 0.20 <= reading.before.abv.mid <= 0.295, w.name
        # The rule is for 90 mL or so; with less drink in the same glass more ice melts by share.
        assert reading.before.abv.mid * 100 == pytest.approx(w.printed["abv_percent"], abs=2.0)


def test_a_bottle_that_is_known_exactly_leaves_only_the_hand_uncertain(worked, band):
    reading = read_many([Drink(worked[0].pours)], band, draws=200)[0]
    assert reading.before.ethanol_g.width == pytest.approx(0.0, abs=1e-9)
    assert reading.before.volume_ml.width > 1.0
    assert isinstance(reading.before.volume_ml, Interval)
