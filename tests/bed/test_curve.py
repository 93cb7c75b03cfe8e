"""The picture of extraction against time."""

from __future__ import annotations

import numpy as np
import pytest

from service.bed import Bed, extraction_curve, interval, percolate


def test_the_curve_starts_at_nothing_rises_and_keeps_its_band_in_order(house_drink):
    times = np.linspace(0, 1800, 61)
    curve = extraction_curve(Bed(), contact_seconds=times, **house_drink)
    for name in ("caffeine_mg", "solids_g", "qhe_mg", "extracted_share"):
        low, middle, high = getattr(curve, name)
        assert low[0] == middle[0] == high[0] == 0.0
        assert np.all(np.diff(middle) > 0)
        assert np.all(np.diff(low) > 0)
        assert np.all(np.diff(high) > 0)
        assert np.all((low <= middle) & (middle <= high))


def test_a_point_of_the_curve_is_the_drink_held_that_long(house_drink):
    curve = extraction_curve(Bed(), contact_seconds=np.array([240.0]), **house_drink, draws=300)
    held = interval(
        percolate(Bed(), **house_drink, contact_seconds=240.0, draws=300), "caffeine_mg"
    )
    assert curve.caffeine_mg[:, 0] == pytest.approx([held.low, held.mid, held.high])


def test_hot_water_comes_to_rest_in_minutes(house_drink):
    """Maille 2024: at 91.5 °C the samples at 300 and 600 s differ by no more than 5 %."""
    hot = house_drink | {"celsius": 91.5, "viscosity_mpa_s": 0.312, "abv": 0.0}
    curve = extraction_curve(
        Bed(particle_um=900.0), contact_seconds=np.array([300.0, 600.0]), **hot
    )
    early, late = curve.caffeine_mg[1]
    assert early / late > 0.95
