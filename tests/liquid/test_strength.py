"""Strength by volume, mass and density; contraction."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import (
    abv_at_celsius,
    abv_of_density,
    abv_of_mass_fraction,
    ethanol_water_density_kg_per_m3,
    mass_fraction_of_abv,
    mixed_volume_ml,
)

Published = Callable[[str], list[dict[str, str]]]


def test_strength_by_mass_follows_the_international_table(published: Published) -> None:
    # OIML R 22 (1975): % mass to four decimals for % volume.
    for row in published("ethanol_water_density"):
        if row["how"] == "computed":
            ours = mass_fraction_of_abv(float(row["percent_volume"]) / 100)
            assert ours == pytest.approx(float(row["percent_mass"]) / 100, abs=6e-7), row


def test_strength_by_volume_agrees_with_an_older_handbook(published: Published) -> None:
    # Lange's Handbook, Table 5.13, to three figures.
    for row in published("ethanol_water_density"):
        if row["source_id"] == "dean-1999":
            ours = abv_of_mass_fraction(float(row["percent_mass"]) / 100)
            assert ours == pytest.approx(float(row["percent_volume"]) / 100, abs=7e-4), row


@given(st.floats(0.0, 1.0))
def test_mass_and_volume_turn_into_each_other_and_back(abv: float) -> None:
    fraction = mass_fraction_of_abv(abv)
    assert 0.0 <= fraction <= 1.0 + 1e-15
    assert abv_of_mass_fraction(min(fraction, 1.0)) == pytest.approx(abv, abs=1e-11)


@given(st.floats(0.0, 1.0), st.floats(-20.0, 40.0))
def test_a_density_at_any_temperature_tells_the_label_strength(abv: float, celsius: float) -> None:
    density = ethanol_water_density_kg_per_m3(min(mass_fraction_of_abv(abv), 1.0), celsius)
    assert abv_of_density(density, celsius) == pytest.approx(abv, abs=1e-8)


def test_densities_read_warm_and_cold_in_one_call() -> None:
    # OIML R 22 (1975): 40 % vol weighs 960.629 at 0, 954.517 at 10 and 944.665 at 25 °C.
    read = abv_of_density(np.array([960.629, 954.517, 944.665]), np.array([0.0, 10.0, 25.0]))
    assert np.allclose(read, 0.40, atol=1e-5)


def test_a_cold_spirit_is_a_little_weaker_by_volume() -> None:
    # By hand from OIML R 22: mass fraction 0.332996 x 960.629 / 806.215 at 0 °C.
    assert abv_at_celsius(0.40, 0.0) == pytest.approx(0.332996 * 960.629 / 806.215, abs=2e-6)
    assert abv_at_celsius(0.40, 20.0) == pytest.approx(0.40, abs=1e-12)


@pytest.mark.parametrize(
    ("ethanol_ml", "water_ml", "volume_ml"),
    # OIML R 22 (1975), mass kept and density read: 50 mL + 50 mL make 96.46 mL.
    [(50.0, 50.0, 96.463), (0.0, 50.0, 50.0), (50.0, 0.0, 50.0)],
)
def test_spirit_and_water_shrink_when_mixed(
    ethanol_ml: float, water_ml: float, volume_ml: float
) -> None:
    assert mixed_volume_ml(ethanol_ml, water_ml) == pytest.approx(volume_ml, abs=0.02)


def test_the_largest_shrinkage_is_where_the_tables_have_it() -> None:
    # From OIML R 22: 3.55 % at 52.5 % ethanol by unmixed volume.
    share = np.linspace(0.01, 0.99, 99)
    shrinks = 1.0 - mixed_volume_ml(share, 1.0 - share)
    assert shrinks.max() == pytest.approx(0.0355, abs=2e-4)
    assert share[shrinks.argmax()] == pytest.approx(0.525, abs=0.02)


@given(st.floats(0.0, 1e4), st.floats(0.0, 1e4), st.floats(0.0, 40.0))
def test_mixing_never_gives_more_than_the_sum(
    ethanol_ml: float, water_ml: float, celsius: float
) -> None:
    if ethanol_ml + water_ml < 1e-6:
        return
    mixed = mixed_volume_ml(ethanol_ml, water_ml, celsius)
    assert mixed <= (ethanol_ml + water_ml) * (1 + 1e-12)
    assert mixed > 0.96 * (ethanol_ml + water_ml)


@pytest.mark.parametrize("abv", [-0.01, 1.01, 40.0, float("nan")])
def test_a_strength_in_percent_is_sent_back_with_advice(abv: float) -> None:
    with pytest.raises(OutOfRange, match=r"40 % vol is 0\.40") as caught:
        mass_fraction_of_abv(abv)
    assert caught.value.field == "abv"


def test_a_reading_denser_than_water_is_no_strength() -> None:
    with pytest.raises(OutOfRange, match="holds sugar or salt") as caught:
        abv_of_density(1012.0)
    assert caught.value.field == "density_kg_per_m3"
    with pytest.raises(OutOfRange, match="lighter than pure ethanol"):
        abv_of_density(700.0)


def test_nothing_poured_is_no_mixture() -> None:
    with pytest.raises(OutOfRange, match="pour something"):
        mixed_volume_ml(0.0, 0.0)
    with pytest.raises(OutOfRange):
        mixed_volume_ml(-1.0, 5.0)
