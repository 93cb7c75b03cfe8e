"""Scaling up, checked by pouring the scaled drink."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import Bed, interval, percolate, scale_up, yield_share
from service.kit import OutOfRange


@settings(max_examples=60, deadline=None)
@given(
    dose=st.floats(10, 20),
    volume=st.floats(80, 400),
    times=st.floats(0.5, 5),
    rinsed=st.booleans(),
    how=st.sampled_from(["fixed", "scaled"]),
)
def test_pouring_the_scaled_drink_gives_the_wanted_glass(dose, volume, times, rinsed, how):
    wanted = volume * times
    bed = Bed(dose_g=dose, paper_rinsed=rinsed)
    scaling = scale_up(bed, volume_ml=volume, wanted_ml=wanted, dose=how)
    poured = percolate(
        Bed(dose_g=scaling.dose_g, paper_rinsed=rinsed),
        volume_ml=scaling.volume_ml,
        density_kg_per_m3=997.0,
        viscosity_mpa_s=7.1,
        abv=0.28,
        celsius=0.0,
        draws=10,
    )
    assert float(poured.central.glass_ml) == pytest.approx(wanted, rel=1e-9)
    assert scaling.factor.low <= scaling.factor.mid <= scaling.factor.high


def test_a_fixed_dose_is_left_alone_and_a_scaled_one_grows():
    fixed = scale_up(Bed(dose_g=15), volume_ml=115, wanted_ml=970)
    scaled = scale_up(Bed(dose_g=15), volume_ml=115, wanted_ml=970, dose="scaled")
    assert fixed.dose_g == 15
    assert scaled.dose_g == pytest.approx(15 * scaled.factor.mid)
    assert scaled.factor.mid > fixed.factor.mid


def test_by_hand_for_the_house_drink():
    """97 mL wanted of 115 through 15 g: (97 - 1.5 + 19.5)/115 = 1."""
    assert scale_up(Bed(), volume_ml=115, wanted_ml=97).factor.mid == pytest.approx(1.0)


def test_coffee_that_would_drink_it_all_is_refused_with_advice():
    with pytest.raises(OutOfRange, match="less coffee or more drink"):
        scale_up(Bed(dose_g=60), volume_ml=100, wanted_ml=100, dose="scaled")


@pytest.mark.parametrize("wanted", [0.0, -10.0, 1e6, float("nan")])
def test_a_glass_of_no_size_is_refused(wanted):
    with pytest.raises(OutOfRange):
        scale_up(Bed(), volume_ml=115, wanted_ml=wanted)


def test_yield_is_near_nine_tenths_and_no_more_than_all_with_the_papers_water(house_drink):
    """Nine tenths: common practice, no source."""
    share = yield_share(percolate(Bed(), **house_drink))
    assert share.contains(0.90)
    assert share.high < 1.0
    glass = interval(percolate(Bed(), **house_drink), "glass_ml")
    assert glass.low / 115 == pytest.approx(share.low)
