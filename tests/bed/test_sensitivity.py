"""What matters most, against the order worked out by hand."""

from __future__ import annotations

import pytest

from service.bed import Bed, Poured, handles, sensitivity
from service.bed.priors import PRIOR_NAMES
from service.bed.sensitivity import LABELS
from service.kit import NotFound

HOUSE = Poured(15.0, 115.0, 996.7, 7.1, 0.28, 0.0)


def names(swings):
    return [swing.name for swing in swings]


def test_yield_hangs_on_what_the_coffee_keeps():
    assert names(sensitivity(Bed(), HOUSE, "glass_ml"))[0] == "retention_ml_per_g"


def test_time_hangs_on_the_filter():
    assert names(sensitivity(Bed(), HOUSE, "drain_seconds"))[0] == "drain_factor"


def test_bitterness_hangs_on_the_coffee_and_the_time():
    assert set(names(sensitivity(Bed(), HOUSE, "qhe_mg"))[:2]) == {"gamma_factor", "drain_factor"}


def test_caffeine_does_not_hang_on_bitterness_or_canephora_in_an_arabica():
    moving = names(sensitivity(Bed(), HOUSE, "caffeine_mg"))
    for still in ("gamma_factor", "caffeine_canephora", "caffeine_decaf", "solids_share"):
        assert still not in moving
    assert "caffeine_arabica" in moving


def test_the_sign_of_the_swing_and_of_the_rank_correlation_agree():
    for amount in ("glass_ml", "drain_seconds", "caffeine_mg", "qhe_mg"):
        for swing in sensitivity(Bed(), HOUSE, amount, draws=4000):
            if abs(swing.correlation) > 0.05:
                assert (swing.at_high > swing.at_low) == (swing.correlation > 0)


def test_grind_is_the_first_handle_on_time_bitterness_and_caffeine():
    """Permeability goes with the square of the diameter (Kozeny-Carman), viscosity only once."""
    for amount in ("drain_seconds", "qhe_mg", "caffeine_mg"):
        assert names(handles(Bed(), HOUSE, amount))[0] == "grind"


def test_more_drink_fills_the_glass_and_more_coffee_empties_it():
    swings = {swing.name: swing for swing in handles(Bed(), HOUSE, "glass_ml")}
    assert swings["volume_ml"].at_low < swings["volume_ml"].middle < swings["volume_ml"].at_high
    assert swings["dose_g"].at_low > swings["dose_g"].middle > swings["dose_g"].at_high
    assert "grind" not in swings


def test_swings_are_sorted_widest_first():
    widths = [swing.width for swing in sensitivity(Bed(), HOUSE, "solids_g")]
    assert widths == sorted(widths, reverse=True)


def test_every_unknown_has_a_label_in_plain_words():
    assert set(PRIOR_NAMES) <= set(LABELS)
    assert all("_" not in label for label in LABELS.values())


@pytest.mark.parametrize("picture", [sensitivity, handles])
def test_an_unknown_amount_is_refused(picture):
    with pytest.raises(NotFound):
        picture(Bed(), HOUSE, "fun")
