"""Curves over time: integrated apart from the quick steps, and agreeing with them."""

from __future__ import annotations

import numpy as np
import pytest

from service.kit import BadData, OutOfRange
from service.liquid import Stirring, poured, stir, stir_curve

SPIRIT = poured(90.0, abv=0.33, sugar_g_per_l=20.0)


@pytest.mark.parametrize(
    ("strength", "stirring"),
    [
        (0.33, Stirring()),
        (0.15, Stirring()),
        (0.50, Stirring()),
        (0.33, Stirring(seconds=10.0)),
        (0.33, Stirring(seconds=90.0)),
        (0.33, Stirring(ice_celsius=-18.0, surface_water_g=0.0)),
        (0.33, Stirring(vessel_celsius=22.0, vessel_j_per_k=400.0)),
        (0.33, Stirring(start_celsius=-10.0)),
        (0.33, Stirring(cube_mm=50.0, turns_per_second=0.5, seconds=60.0)),
        (0.00, Stirring()),
    ],
)
def test_six_quick_steps_agree_with_step_control(strength: float, stirring: Stirring) -> None:
    # The same rates by an independent integrator (LSODA, tolerance 1e-7): 0.15 g and 0.06 K.
    drink = poured(90.0, abv=strength)
    seconds = float(stirring.seconds)
    curve = stir_curve(drink, stirring, until_seconds=seconds, points=5)
    quick = stir(drink, stirring)
    assert quick.melt_g == pytest.approx(curve.melt_g[-1], abs=0.15)
    assert quick.celsius == pytest.approx(curve.celsius[-1], abs=0.06)


def test_crushed_ice_is_the_hardest_and_still_near() -> None:
    crushed = Stirring(cube_mm=5.0, ice_celsius=-18.0)
    curve = stir_curve(SPIRIT, crushed, until_seconds=30.0, points=3)
    quick = stir(SPIRIT, crushed)
    assert quick.melt_g == pytest.approx(curve.melt_g[-1], abs=1.0)
    assert quick.celsius == pytest.approx(curve.celsius[-1], abs=0.25)


def test_curves_fall_and_rise_without_wiggles() -> None:
    curve = stir_curve(SPIRIT, Stirring(), until_seconds=300.0, points=151)
    assert (np.diff(curve.celsius) < 1e-6).all()
    assert (np.diff(curve.melt_g) > -1e-6).all()
    assert (np.diff(curve.abv) < 1e-9).all()
    assert (np.diff(curve.volume_ml) > -1e-6).all()
    assert (curve.celsius >= curve.freezing_celsius - 1e-9).all()
    assert curve.seconds[0] == 0.0
    assert curve.seconds[-1] == 300.0


def test_dilution_counts_water_by_volume_over_the_drink_before() -> None:
    curve = stir_curve(SPIRIT, Stirring(), points=3)
    assert curve.dilution[-1] == pytest.approx(curve.melt_g[-1] / 0.9982 / 90.0, rel=1e-4)


def test_a_curve_follows_one_drink_and_a_sensible_time() -> None:
    with pytest.raises(BadData, match="one drink at a time"):
        stir_curve(poured(90.0, abv=np.array([0.2, 0.3])), Stirring())
    for until, points, field in ((0.0, 5, "until_seconds"), (60.0, 1, "points")):
        with pytest.raises(OutOfRange) as caught:
            stir_curve(SPIRIT, Stirring(), until_seconds=until, points=points)
        assert caught.value.field == field
