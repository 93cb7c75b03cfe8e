"""Sugar in water against the sugar trade's standard and a handbook; acid and salt."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import (
    Liquid,
    density_kg_per_m3,
    salt_ml_per_g,
    sucrose_density_kg_per_m3,
    sugar_g_per_l,
    sugar_ml_per_g,
)

Published = Callable[[str], list[dict[str, str]]]


def test_syrup_density_follows_the_standard(published: Published) -> None:
    # ICUMSA SPS-4, evaluated elsewhere to two decimals, 0 to 40 °C.
    rows = [r for r in published("sucrose_density") if r["source_id"] == "icumsa-1998"]
    assert len(rows) == 14
    for row in rows:
        ours = sucrose_density_kg_per_m3(float(row["percent_mass"]) / 100, float(row["celsius"]))
        assert ours == pytest.approx(float(row["density_kg_per_m3"]), abs=0.05), row


def test_a_handbook_of_older_data_agrees(published: Published) -> None:
    # CRC Handbook: one decimal, and 0.15 to 0.2 lower above 50 % than the standard.
    for row in published("sucrose_density"):
        if row["source_id"] == "haynes-2016":
            strong = float(row["percent_mass"]) >= 50
            ours = sucrose_density_kg_per_m3(float(row["percent_mass"]) / 100)
            theirs = float(row["density_kg_per_m3"])
            assert ours == pytest.approx(theirs, abs=0.25 if strong else 0.06), row


def test_grams_per_litre_of_a_syrup(published: Published) -> None:
    # ICUMSA SPS-4 and CRC Handbook: 20 Brix is 216.2 g/L, 40 Brix 470.6 g/L.
    for row in published("sucrose_density"):
        if row["g_per_l"]:
            brix = float(row["percent_mass"])
            ours = sugar_g_per_l(Liquid(water_g=100.0 - brix, sucrose_g=brix))
            assert ours == pytest.approx(float(row["g_per_l"]), abs=0.2), row


def test_a_liquid_of_sugar_and_water_is_the_syrup_itself() -> None:
    for brix in (1.0, 20.0, 50.0, 66.7):
        syrup = Liquid(water_g=100.0 - brix, sucrose_g=brix)
        for celsius in (0.0, 20.0, 30.0):
            table = sucrose_density_kg_per_m3(brix / 100, celsius)
            assert density_kg_per_m3(syrup, celsius) == pytest.approx(table, rel=1e-12)


@pytest.mark.parametrize(
    ("brix", "ml_per_g"), [(5, 0.6159), (20, 0.6182), (40, 0.6222), (60, 0.6275)]
)
def test_room_of_a_gram_of_sugar(brix: float, ml_per_g: float) -> None:
    # Apparent specific volume from ICUMSA SPS-4, and within 0.002 of the CRC Handbook's.
    assert sugar_ml_per_g(brix / 100) == pytest.approx(ml_per_g, abs=6e-5)


@pytest.mark.parametrize(
    ("percent", "density"),
    # CRC Handbook, Concentrative properties, sodium chloride at 20 °C, from memory.
    [(1, 1005.3), (5, 1034.0), (10, 1070.7), (20, 1147.8)],
)
def test_brine_weighs_what_the_handbook_says(percent: float, density: float) -> None:
    brine = Liquid(water_g=100.0 - percent, salt_g=percent)
    assert density_kg_per_m3(brine) == pytest.approx(density, rel=1e-3)


def test_tartaric_acid_weighs_what_the_handbook_says() -> None:
    # CRC Handbook, Concentrative properties, tartaric acid 10 % at 20 °C 1.0449, from memory.
    sour = Liquid(water_g=90.0, acid_g=10.0)
    assert density_kg_per_m3(sour) == pytest.approx(1044.9, rel=1e-3)


@given(st.floats(0.0, 0.84), st.floats(1e-3, 0.01), st.floats(0.0, 40.0))
def test_more_sugar_is_always_denser(brix: float, more: float, celsius: float) -> None:
    low, high = (sucrose_density_kg_per_m3(b, celsius) for b in (brix, brix + more))
    assert high > low


@pytest.mark.parametrize(
    ("brix", "celsius", "field"),
    [(0.86, 20.0, "mass_fraction"), (-0.1, 20.0, "mass_fraction"), (0.2, 41.0, "celsius")],
)
def test_outside_the_standard_it_says_so(brix: float, celsius: float, field: str) -> None:
    for function in (sucrose_density_kg_per_m3, sugar_ml_per_g):
        with pytest.raises(OutOfRange) as caught:
            function(brix, celsius)
        assert caught.value.field == field


def test_more_salt_than_dissolves_is_refused() -> None:
    with pytest.raises(OutOfRange, match="does not dissolve"):
        salt_ml_per_g(0.27)
