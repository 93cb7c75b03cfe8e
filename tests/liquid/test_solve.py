"""From the glass that is wanted back to water, seconds and pours."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.kit import BadData, OutOfRange
from service.liquid import (
    BuiltOnCube,
    PreDiluted,
    Preparation,
    Stirring,
    Unchilled,
    abv,
    poured,
    prepare,
    scale_for_volume,
    stir,
    stirring_for_abv,
    stirring_for_volume,
    volume_ml,
    water_for_abv_g,
    water_for_volume_g,
)

SPIRIT = poured(90.0, abv=0.33, sugar_g_per_l=20.0)


def test_the_textbook_cut_of_a_spirit() -> None:
    # OIML R 22 (1975): 70 mL of 40 % and 30 mL of water (29.946 g) make 28.043 %.
    assert water_for_abv_g(poured(70, abv=0.40), 0.28043) == pytest.approx(29.946, abs=0.02)
    assert water_for_volume_g(poured(70, abv=0.40), 99.845) == pytest.approx(29.946, abs=0.003)


@given(st.floats(0.1, 0.9), st.floats(0.0, 100.0), st.floats(0.05, 1.0))
def test_water_brings_the_strength_that_was_asked(
    strength: float, sugar: float, share: float
) -> None:
    drink = poured(100.0, abv=strength, sugar_g_per_l=sugar)
    target = strength * share
    water = water_for_abv_g(drink, target)
    assert water >= 0.0
    assert abv(drink.watered(water)) == pytest.approx(target, rel=1e-8)


@given(st.floats(0.0, 0.9), st.floats(1.0, 8.0))
def test_water_brings_the_volume_that_was_asked(strength: float, times: float) -> None:
    drink = poured(100.0, abv=strength)
    water = water_for_volume_g(drink, 100.0 * times)
    assert volume_ml(drink.watered(water)) == pytest.approx(100.0 * times, rel=1e-8)


def test_water_for_many_targets_at_once() -> None:
    targets = np.array([0.30, 0.25, 0.20])
    water = water_for_abv_g(SPIRIT, targets)
    assert np.allclose(abv(SPIRIT.watered(water)), targets, rtol=1e-8)


def test_water_cannot_strengthen_or_shrink_a_drink() -> None:
    with pytest.raises(OutOfRange, match="no stronger") as caught:
        water_for_abv_g(SPIRIT, 0.40)
    assert caught.value.field == "target_abv"
    with pytest.raises(OutOfRange, match="fills more") as caught:
        water_for_volume_g(SPIRIT, 60.0)
    assert caught.value.field == "target_ml"
    with pytest.raises(OutOfRange):
        water_for_abv_g(SPIRIT, 0.0)


@settings(max_examples=20)
@given(st.floats(0.22, 0.32))
def test_seconds_bring_the_strength_that_was_asked(target: float) -> None:
    found = stirring_for_abv(SPIRIT, Stirring(), target)
    assert abv(stir(SPIRIT, found).liquid) == pytest.approx(target, abs=1e-8)


def test_seconds_bring_the_volume_that_was_asked() -> None:
    found = stirring_for_volume(SPIRIT, Stirring(), 120.0)
    assert volume_ml(stir(SPIRIT, found).liquid) == pytest.approx(120.0, abs=1e-6)
    assert found.ice_g == Stirring().ice_g


def test_what_no_stirring_reaches_is_said_with_what_it_does_reach() -> None:
    with pytest.raises(OutOfRange, match="stirring brings this drink from") as caught:
        stirring_for_abv(SPIRIT, Stirring(), 0.10)
    assert caught.value.field == "target_abv"
    with pytest.raises(OutOfRange, match="mL, not to") as caught:
        stirring_for_volume(SPIRIT, Stirring(), 300.0)
    assert caught.value.field == "target_ml"
    with pytest.raises(BadData, match="one drink at a time"):
        stirring_for_abv(poured(90.0, abv=np.array([0.3, 0.4])), Stirring(), 0.25)


@pytest.mark.parametrize("preparation", [Stirring(), BuiltOnCube(), PreDiluted(), Unchilled()])
@pytest.mark.parametrize("target", [80.0, 120.0, 150.0])
def test_scaled_pours_fill_the_glass(preparation: Preparation, target: float) -> None:
    factor = scale_for_volume(SPIRIT, preparation, target)
    ready = prepare(SPIRIT.scaled(factor), preparation)
    assert volume_ml(ready.liquid) == pytest.approx(target, rel=1e-8)


def test_an_impossible_glass_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        scale_for_volume(SPIRIT, Unchilled(), 0.5)
    assert caught.value.field == "target_ml"
