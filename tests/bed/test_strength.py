"""Yield and immersion against the published equilibrium and the classic mass balance."""

from __future__ import annotations

import pytest

from service.bed.strength import IMMERSION_YIELD, extraction_yield, immersion_strength_percent


def test_the_classic_brew_has_the_classic_yield():
    """Lockhart 1957: 55 g/L, 1.25 %, 2 g/g kept: (1000 - 110) g + dissolved = 890.9 g; 20.2 %."""
    assert extraction_yield(1.25, 890.9, 55.0) == pytest.approx(0.202, abs=0.0005)


def test_immersion_at_sixteen_to_one_rests_at_the_published_strength():
    """Liang et al. 2021, eq. 11: 0.215/(16 + 0.215) = 1.33 %."""
    assert immersion_strength_percent(16.0) == pytest.approx(1.33, abs=0.005)


def test_measured_strong_immersion_lies_on_the_curve(published):
    """Liang et al. 2021, Fig. 2a: 4.07 ± 0.15 % at five to one."""
    row = published("coffee_extraction")["immersion-strength-r5"]
    assert float(row["low"]) < immersion_strength_percent(5.0) < float(row["high"])


def test_measured_thin_immersion_lies_below_the_curve(published):
    """The same figure at 25 to one: 0.75 ± 0.04 %; the paper's own model is 12 % high there."""
    row = published("coffee_extraction")["immersion-strength-r25"]
    assert immersion_strength_percent(25.0) == pytest.approx(float(row["value"]), rel=0.15)
    assert immersion_strength_percent(25.0) > float(row["high"])


@pytest.mark.parametrize("water", [3.0, 8.0, 16.0, 25.0])
def test_yield_does_not_depend_on_the_water(water):
    """Liang et al. 2021, eq. 15: the share that dissolves is the same at every ratio."""
    strength = immersion_strength_percent(water)
    drink_g = water + IMMERSION_YIELD
    assert extraction_yield(strength, drink_g, 1.0) == pytest.approx(IMMERSION_YIELD)


def test_the_model_and_the_measured_yield_agree_within_their_errors(published):
    """Liang et al. 2021: 20.7 ± 1.1 % measured without a fit, 21.5 % fitted."""
    row = published("coffee_extraction")["immersion-yield-measured"]
    assert float(row["low"]) < IMMERSION_YIELD < float(row["high"])
