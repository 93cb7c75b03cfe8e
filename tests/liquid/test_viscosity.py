"""Viscosity against the standard substances of 1918, a handbook and reference libraries."""

from __future__ import annotations

from collections.abc import Callable

import chemicals
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import Liquid, poured, viscosity_mpa_s

Published = Callable[[str], list[dict[str, str]]]


def of_row(row: dict[str, str]) -> Liquid:
    ethanol, sucrose = float(row["percent_mass_ethanol"]), float(row["percent_mass_sucrose"])
    return Liquid(100.0 - ethanol - sucrose, ethanol, sucrose)


def test_spirits_are_as_thick_as_the_standard_substances(published: Published) -> None:
    # Bingham and Jackson (1918), Bulletin of the Bureau of Standards 14, 59: 0 to 60 %, 0 to 30 °C.
    rows = [r for r in published("viscosity") if r["how"] == "read"]
    assert len(rows) == 28
    for row in rows:
        ours = viscosity_mpa_s(of_row(row), float(row["celsius"]))
        assert ours == pytest.approx(float(row["viscosity_mpa_s"]), rel=0.04), row


def test_syrups_are_as_thick_as_published(published: Published) -> None:
    # Bingham and Jackson (1918) and CRC Handbook; one value is a slip of the copy and stays out.
    rows = [r for r in published("viscosity") if float(r["percent_mass_sucrose"]) > 0]
    good = [r for r in rows if "slip" not in r["note"]]
    assert len(good) == len(rows) - 1
    for row in good:
        ours = viscosity_mpa_s(of_row(row), float(row["celsius"]))
        assert ours == pytest.approx(float(row["viscosity_mpa_s"]), rel=0.03), row


@pytest.mark.parametrize("celsius", [0.5, 5.0, 10.0, 20.0, 29.0])
def test_water_is_as_thick_as_the_international_formulation(celsius: float) -> None:
    kelvin = celsius + 273.15
    rho = chemicals.iapws95_rho(kelvin, 101325.0)
    theirs = 1000.0 * chemicals.mu_IAPWS(kelvin, rho)
    assert viscosity_mpa_s(Liquid(1.0), celsius) == pytest.approx(theirs, rel=2e-3)


def test_cold_spirits_agree_with_a_reference_library() -> None:
    # CoolProp "MEA" (Melinder 2010), which is 3.5 % off Bingham and Jackson where they meet.
    for fraction in np.arange(0.10, 0.60, 0.05).tolist():
        name = f"INCOMP::MEA[{fraction:.4f}]"
        line = PropsSI("T_freeze", "T", 293.15, "P", 101325, name) - 273.15
        for celsius in np.arange(max(-20.0, line + 0.5), 30.0, 2.5).tolist():
            theirs = 1000.0 * PropsSI("V", "T", celsius + 273.15, "P", 101325, name)
            ours = viscosity_mpa_s(Liquid(1.0 - fraction, fraction), celsius)
            assert ours == pytest.approx(theirs, rel=0.045), (fraction, celsius)


@pytest.mark.parametrize(
    ("celsius", "low", "high", "times_water"),
    # Bingham and Jackson (1918): the maximum lies near 40 % by mass at 0 °C, four times water,
    # and near 43 to 45 % at 20 °C, 2.9 times.
    [(0.0, 0.35, 0.48, 4.0), (20.0, 0.38, 0.48, 2.9)],
)
def test_spirit_is_thickest_in_the_middle(
    celsius: float, low: float, high: float, times_water: float
) -> None:
    fraction = np.linspace(0.0, 0.6, 601)
    curve = np.asarray(viscosity_mpa_s(Liquid(1.0 - fraction, fraction), celsius))
    assert low <= fraction[curve.argmax()] <= high
    assert curve.max() / curve[0] == pytest.approx(times_water, rel=0.03)


@pytest.mark.parametrize(
    ("celsius", "mpa_s"), [(-5.0, 9.75), (0.0, 7.25), (5.0, 5.55), (10.0, 4.3), (20.0, 2.8)]
)
def test_a_sweet_drink_as_worked_out_from_both_tables(celsius: float, mpa_s: float) -> None:
    # 28 % vol with 60 g/L: spirit by Bingham and Jackson or Melinder, times sucrose's effect in
    # water at the same share (assumption, 10 %); the two routes differ by up to 3 %.
    drink = poured(90, abv=0.28, sugar_g_per_l=60)
    assert viscosity_mpa_s(drink, celsius) == pytest.approx(mpa_s, rel=0.03)


@given(st.floats(0.0, 0.5), st.floats(0.0, 300.0), st.floats(-5.0, 24.0), st.floats(0.1, 1.0))
def test_colder_and_sweeter_is_thicker(
    abv: float, sugar: float, celsius: float, step: float
) -> None:
    drink = poured(90, abv=abv, sugar_g_per_l=sugar)
    here = viscosity_mpa_s(drink, celsius)
    assert np.isfinite(here)
    assert viscosity_mpa_s(drink, celsius + step) < here
    assert viscosity_mpa_s(poured(90, abv=abv, sugar_g_per_l=sugar + 5.0), celsius) > here
    assert here >= viscosity_mpa_s(Liquid(1.0), celsius) * (1 - 1e-12)


@given(st.floats(0.0, 0.3), st.floats(0.001, 0.01), st.floats(-5.0, 25.0))
def test_up_to_a_third_by_mass_more_alcohol_is_thicker(
    fraction: float, more: float, celsius: float
) -> None:
    low, high = (viscosity_mpa_s(Liquid(1.0 - f, f), celsius) for f in (fraction, fraction + more))
    assert high > low


def test_outside_the_published_values_it_says_so() -> None:
    for liquid, celsius in (
        (poured(50, abv=0.75), 20.0),
        (poured(50, abv=0.4), -20.5),
        (poured(50, abv=0.4), 30.5),
        (Liquid(40.0, sucrose_g=60.0), 20.0),
        (Liquid(0.0), 20.0),
    ):
        with pytest.raises(OutOfRange) as caught:
            viscosity_mpa_s(liquid, celsius)
        assert caught.value.field in {"liquid", "celsius"}
