"""Stirred, built on a cube, pre-diluted, unchilled."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import (
    BuiltOnCube,
    PreDiluted,
    Preparation,
    Stirring,
    Unchilled,
    cube_g,
    freezing_celsius,
    poured,
    prepare,
    stir,
    volume_ml,
)

DRINK = poured(90.0, abv=0.33, sugar_g_per_l=30.0)


@pytest.mark.parametrize(
    "preparation",
    [Stirring(), BuiltOnCube(), PreDiluted(), Unchilled(), Unchilled(celsius=-3.0)],
)
def test_every_preparation_keeps_mass_and_only_adds_water(preparation: Preparation) -> None:
    ready = prepare(DRINK, preparation)
    assert ready.liquid.mass_g == pytest.approx(DRINK.mass_g + ready.melt_g, abs=1e-9)
    assert ready.liquid.ethanol_g == DRINK.ethanol_g
    assert ready.liquid.sugar_g == DRINK.sugar_g
    assert ready.celsius >= freezing_celsius(ready.liquid)


def test_a_stirred_drink_is_what_stir_says() -> None:
    ready, stirred = prepare(DRINK, Stirring()), stir(DRINK, Stirring())
    assert ready.celsius == stirred.celsius
    assert ready.melt_g == stirred.melt_g


def test_a_large_cube_dilutes_less_and_leaves_the_drink_warmer() -> None:
    # Less surface for the same ice (six sides of one cube), a slower spoon: common practice.
    built, stirred = prepare(DRINK, BuiltOnCube()), prepare(DRINK, Stirring())
    assert 2.0 < built.melt_g < 0.6 * stirred.melt_g
    assert built.celsius > stirred.celsius


def test_a_cube_of_50_mm_weighs_what_ice_weighs() -> None:
    # Ice at 0 °C, 917 kg/m3: 125 mL.
    assert cube_g(50.0) == pytest.approx(114.6, abs=0.1)
    with pytest.raises(OutOfRange):
        cube_g(0.0)


@given(st.floats(0.0, 1.0), st.floats(0.1, 0.5))
def test_pre_dilution_is_water_by_volume(dilution: float, abv: float) -> None:
    drink = poured(1000.0, abv=abv)
    ready = prepare(drink, PreDiluted(dilution=dilution, celsius=2.0))
    water = poured(1000.0 * dilution, abv=0.0)
    assert ready.melt_g == pytest.approx(water.mass_g, abs=1e-9)
    assert volume_ml(ready.liquid) == pytest.approx(volume_ml(drink + water), rel=1e-12)


def test_a_batch_that_would_turn_to_slush_is_refused() -> None:
    with pytest.raises(OutOfRange, match="slush") as caught:
        prepare(poured(700.0, abv=0.20), PreDiluted(dilution=0.4, celsius=-12.0))
    assert caught.value.field == "celsius"
    kept = prepare(poured(700.0, abv=0.40), PreDiluted(dilution=0.2, celsius=-12.0))
    assert kept.celsius == -12.0


def test_unchilled_is_the_drink_as_poured() -> None:
    ready = prepare(DRINK, Unchilled(celsius=21.0))
    assert ready.melt_g == 0.0
    assert ready.celsius == 21.0
    assert ready.liquid.mass_g == DRINK.mass_g
    with pytest.raises(OutOfRange):
        prepare(DRINK, Unchilled(celsius=60.0))


def test_many_drinks_go_through_each_preparation_at_once() -> None:
    many = poured(90.0, abv=np.linspace(0.2, 0.4, 5))
    for preparation in (Stirring(), BuiltOnCube(), PreDiluted(), Unchilled()):
        ready = prepare(many, preparation)
        assert np.asarray(volume_ml(ready.liquid)).shape == (5,)


@pytest.mark.parametrize("dilution", [-0.1, 3.5])
def test_impossible_dilution_is_refused(dilution: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        prepare(DRINK, PreDiluted(dilution=dilution))
    assert caught.value.field == "dilution"
