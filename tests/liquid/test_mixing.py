"""Liquids as masses: adding up, volume and density."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import (
    Liquid,
    abv,
    density_kg_per_m3,
    ethanol_water_density_kg_per_m3,
    poured,
    volume_ml,
)

grams = st.floats(0.0, 1e3)
liquids = st.builds(
    Liquid,
    water_g=st.floats(1.0, 1e3),
    ethanol_g=grams,
    sucrose_g=grams,
    invert_g=grams,
    acid_g=st.floats(0.0, 20.0),
    salt_g=st.floats(0.0, 20.0),
    qhe_mg=grams,
    caffeine_mg=grams,
    coffee_solids_g=st.floats(0.0, 20.0),
)
drinks = st.builds(
    poured,
    st.floats(1.0, 1000.0),
    abv=st.floats(0.0, 0.75),
    sugar_g_per_l=st.floats(0.0, 350.0),
    acid_g_per_l=st.floats(0.0, 20.0),
    salt_g_per_l=st.floats(0.0, 20.0),
)


def parts(liquid: Liquid) -> list[float]:
    return [float(getattr(liquid, f.name)) for f in dataclasses.fields(liquid)]


@given(liquids, liquids)
def test_mass_is_conserved_and_order_does_not_matter(one: Liquid, other: Liquid) -> None:
    together = one + other
    assert together.mass_g == pytest.approx(one.mass_g + other.mass_g, rel=1e-12, abs=1e-9)
    assert parts(together) == parts(other + one)


@given(liquids, liquids, liquids)
def test_it_does_not_matter_what_is_mixed_first(a: Liquid, b: Liquid, c: Liquid) -> None:
    assert parts((a + b) + c) == pytest.approx(parts(a + (b + c)), rel=1e-12, abs=1e-9)


@given(liquids, st.floats(0.0, 100.0))
def test_more_of_the_same_has_more_mass_and_volume(liquid: Liquid, factor: float) -> None:
    if liquid.sugar_g > 0.85 * liquid.mass_g:
        return
    more = liquid.scaled(factor)
    assert more.mass_g == pytest.approx(liquid.mass_g * factor, rel=1e-12, abs=1e-9)
    assert volume_ml(more) == pytest.approx(factor * volume_ml(liquid), rel=1e-9, abs=1e-9)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_two_spirits_fill_hardly_more_than_apart(
    first_abv: float, second_abv: float, first_ml: float, second_ml: float
) -> None:
    # Pure ethanol and water always shrink (test_strength). Two weak spirits may swell a little:
    # the partial volume of ethanol has its minimum near 20 % by mass (Mitchell and Wynne-Jones
    # 1953); by R 22 at most 0.15 %, for water with 29 % vol.
    mixed = poured(first_ml, abv=first_abv) + poured(second_ml, abv=second_abv)
    assert volume_ml(mixed) <= (first_ml + second_ml) * 1.0016
    assert volume_ml(mixed) >= 0.96 * (first_ml + second_ml)


@given(st.floats(0.65, 1.0), st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_a_strong_spirit_and_water_shrink(strength: float, spirit: float, water: float) -> None:
    mixed = poured(spirit, abv=strength) + poured(water, abv=0.0)
    assert volume_ml(mixed) <= spirit + water


@given(drinks, drinks)
def test_strength_of_a_mixture_lies_near_and_between(one: Liquid, other: Liquid) -> None:
    low, high = sorted((float(abv(one)), float(abv(other))))
    # contraction raises strength by volume by up to 3.7 % of itself, swelling lowers it by 0.15 %
    assert low * 0.998 - 1e-9 <= abv(one + other) <= 1.04 * high + 1e-9


@given(liquids, st.floats(-20.0, 40.0))
def test_volume_is_a_positive_number(liquid: Liquid, celsius: float) -> None:
    if liquid.sugar_g > 0.85 * liquid.mass_g:
        return
    volume = float(volume_ml(liquid, celsius))
    assert np.isfinite(volume)
    assert volume > 0.0


def test_a_worked_mixture() -> None:
    # OIML R 22 (1975): 60 mL of 40 % and 30 mL of 17 % make 89.856 mL of 32.385 %;
    # 70 mL of 40 % and 30 mL of water 99.845 mL of 28.043 %;
    # 50 mL of 96 % and 50 mL of water 96.961 mL of 49.50 %.
    for pours, volume, strength in (
        (((60, 0.40), (30, 0.17)), 89.856, 0.32385),
        (((70, 0.40), (30, 0.0)), 99.845, 0.28043),
        (((50, 0.96), (50, 0.0)), 96.961, 0.4950),
        (((50, 1.0), (50, 0.0)), 96.463, 0.5183),
    ):
        (a, a_abv), (b, b_abv) = pours
        mixed = poured(a, abv=a_abv) + poured(b, abv=b_abv)
        assert volume_ml(mixed) == pytest.approx(volume, abs=0.002)
        assert abv(mixed) == pytest.approx(strength, abs=6e-5)


def test_density_of_a_sweet_drink() -> None:
    # 28 % vol with 60 g/L: spirit of R 22 and 0.62 mL per gram of sugar give 987.7 at 20 °C and
    # 996.7 at 0 °C; no ternary table was found, 0.3 % is the model's error.
    drink = poured(90, abv=0.28, sugar_g_per_l=60)
    assert density_kg_per_m3(drink) == pytest.approx(987.7, abs=0.3)
    assert density_kg_per_m3(drink, 0.0) == pytest.approx(996.7, abs=0.5)


@pytest.mark.parametrize(
    ("strength", "sugar"), [(0.11, 20.0), (0.16, 160.0), (0.24, 250.0), (0.28, 60.0)]
)
def test_wine_law_finds_the_sugar_by_density(strength: float, sugar: float) -> None:
    # OIV-MA-AS2-03B, Tabarié's formula: density of the drink, less that of its alcohol alone in
    # water, plus that of water, is the density of what stays when the alcohol is driven off
    # and the volume made up again with water. Formula from memory; it is an approximation itself.
    drink = poured(1000, abv=strength, sugar_g_per_l=sugar)
    residue = poured(1000, abv=0.0, sugar_g_per_l=sugar)
    alone = density_kg_per_m3(poured(1000, abv=strength))
    water = ethanol_water_density_kg_per_m3(0.0)
    tabarie = density_kg_per_m3(drink) - alone + water
    assert tabarie == pytest.approx(density_kg_per_m3(residue), rel=3e-3)


def test_arrays_of_drinks_agree_with_single_ones() -> None:
    volumes, strengths = np.array([30.0, 60.0, 90.0]), np.array([[0.2], [0.4]])
    many = poured(volumes, abv=strengths, sugar_g_per_l=25.0, acid_g_per_l=3.0)
    table = volume_ml(many, -2.0)
    assert isinstance(table, np.ndarray)
    assert table.shape == (2, 3)
    one = poured(60.0, abv=0.4, sugar_g_per_l=25.0, acid_g_per_l=3.0)
    assert table[1, 1] == pytest.approx(volume_ml(one, -2.0), rel=1e-12)


def test_an_empty_glass_has_no_volume_and_no_density() -> None:
    assert volume_ml(Liquid(0.0)) == 0.0
    assert np.array_equal(volume_ml(Liquid(np.array([0.0, 10.0])))[:1], [0.0])
    with pytest.raises(OutOfRange, match="pour something first"):
        density_kg_per_m3(Liquid(0.0))


def test_outside_the_tables_it_says_so() -> None:
    drink = poured(90, abv=0.3)
    for celsius in (-20.5, 40.5):
        with pytest.raises(OutOfRange) as caught:
            volume_ml(drink, celsius)
        assert caught.value.field == "celsius"
    with pytest.raises(OutOfRange, match="undissolved"):
        volume_ml(Liquid(water_g=10.0, sucrose_g=90.0))
