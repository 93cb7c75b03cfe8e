"""Heat capacity, heat of mixing and latent heat against reference libraries."""

from __future__ import annotations

from collections.abc import Callable

import iapws
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import Liquid, heat, heat_capacity_j_per_g_k, heat_of_mixing_j, poured

Published = Callable[[str], list[dict[str, str]]]
ETHANOL, WATER = 46.069, 18.015  # g/mol


def by_mole(fraction: float) -> Liquid:
    """One mole of ethanol-water."""
    return Liquid((1.0 - fraction) * WATER, fraction * ETHANOL)


def test_heat_capacities_follow_the_published_values(published: Published) -> None:
    # Melinder (2010) by way of CoolProp, to two decimals; IAPWS-95 for water.
    rows = [r for r in published("heat") if r["quantity"] == "heat_capacity"]
    assert len(rows) == 10
    for row in rows:
        share = float(row["fraction"])
        ours = heat_capacity_j_per_g_k(Liquid(1.0 - share, share), float(row["celsius"]))
        assert ours == pytest.approx(float(row["value"]), abs=0.025), row


def test_heat_capacities_agree_with_a_reference_library_over_the_range() -> None:
    # CoolProp "MEA": our polynomial is fitted to it, to 0.03 J/g/K, from 5 to 60 % by mass.
    for share in np.arange(0.05, 0.60, 0.05).tolist():
        name = f"INCOMP::MEA[{share:.4f}]"
        line = PropsSI("T_freeze", "T", 293.15, "P", 101325, name) - 273.15
        for celsius in np.arange(max(-20.0, line + 0.5), 40.0, 5.0).tolist():
            theirs = PropsSI("C", "T", celsius + 273.15, "P", 101325, name) / 1000.0
            ours = heat_capacity_j_per_g_k(Liquid(1.0 - share, share), celsius)
            assert ours == pytest.approx(theirs, abs=0.03)


@pytest.mark.parametrize("celsius", [1.0, 10.0, 25.0, 39.0])
def test_water_holds_heat_as_in_the_steam_tables(celsius: float) -> None:
    theirs = iapws.IAPWS95(T=celsius + 273.15, P=0.101325).cp
    assert heat_capacity_j_per_g_k(Liquid(1.0), celsius) == pytest.approx(theirs, abs=0.001)


def test_spirit_and_water_warm_each_other_as_measured(published: Published) -> None:
    # Larkin (1975) at 25 °C by mole fraction: heat to mix one mole from the pure liquids. Our
    # functions end at 60 % by mass, so the pure ethanol's side is read from the enthalpy itself.
    for row in published("heat"):
        if row["quantity"] == "excess_enthalpy":
            mixed = by_mole(float(row["fraction"]))
            fraction = mixed.ethanol_g / mixed.mass_g
            per_mole = mixed.mass_g * heat.spirit_enthalpy(fraction, 25.0)
            assert per_mole == pytest.approx(float(row["value"]), abs=1.0), row


def test_the_strongest_heat_of_mixing_is_near_the_measured_one(published: Published) -> None:
    # Ott and others (1986), from memory: about -780 J/mol; Larkin's equation goes 4 % lower.
    (row,) = [r for r in published("heat") if r["quantity"] == "excess_enthalpy_lowest"]
    shares = np.linspace(0.02, 0.34, 100)
    moles = [by_mole(x) for x in shares.tolist()]
    lowest = min(m.mass_g * heat.spirit_enthalpy(m.ethanol_g / m.mass_g, 25.0) for m in moles)
    assert lowest == pytest.approx(float(row["value"]), rel=0.05)


def test_partial_heat_of_water_is_the_slope_of_the_whole() -> None:
    # Definition of a partial property; central difference on one gram.
    for ethanol, celsius in ((0.0, 10.0), (5.0, -3.0), (30.0, 20.0), (50.0, -10.0)):

        def whole(water: float, ethanol: float = ethanol, celsius: float = celsius) -> float:
            mass = water + ethanol
            return float(mass * heat.spirit_enthalpy(ethanol / mass, celsius))

        slope = (whole(70.001) - whole(69.999)) / 0.002
        assert heat.water_in_spirit(ethanol / (70.0 + ethanol), celsius) == pytest.approx(
            slope, abs=1e-4
        )


def test_heat_capacity_is_the_slope_of_heat() -> None:
    for fraction, celsius in ((0.0, 5.0), (0.2, -5.0), (0.5, 20.0)):
        warm, cold = (heat.spirit_enthalpy(fraction, celsius + d) for d in (0.01, -0.01))
        assert heat.spirit_capacity(fraction, celsius) == pytest.approx(
            (warm - cold) / 0.02, abs=1e-6
        )


def test_ice_takes_the_latent_heat_of_the_standard_to_melt(published: Published) -> None:
    # Feistel and Wagner (2006) ice against IAPWS-95 water, at 0 °C.
    (row,) = [r for r in published("heat") if r["quantity"] == "latent_heat"]
    latent = heat.water_enthalpy(0.0) - heat.ice_enthalpy(0.0)
    assert latent == pytest.approx(float(row["value"]), abs=0.01)
    water = iapws.IAPWS95(T=273.153, P=0.101325).h
    ice = iapws._iapws._Ice(273.152, 0.101325)["h"]
    assert latent == pytest.approx(water - ice, abs=0.05)
    # and 36.5 kJ/kg more cold in ice of -18 °C (same library)
    deeper = heat.ice_enthalpy(0.0) - heat.ice_enthalpy(-18.0)
    assert deeper == pytest.approx(ice - iapws._iapws._Ice(255.15, 0.101325)["h"], abs=0.8)


@given(st.floats(0.0, 0.65), st.floats(1.0, 500.0), st.floats(-15.0, 39.0))
def test_spirit_and_water_always_warm_each_other(
    abv: float, water_ml: float, celsius: float
) -> None:
    # Not so two strong spirits: beyond 40 % by mass the measured curve bends the other way.
    one, other = poured(60.0, abv=abv), poured(water_ml, abv=0.0)
    assert heat_of_mixing_j(one, other, celsius) >= -1e-9
    assert heat_of_mixing_j(one, other, celsius) == pytest.approx(
        heat_of_mixing_j(other, one, celsius), abs=1e-6
    )


@given(st.floats(0.0, 0.5), st.floats(0.0, 300.0), st.floats(-20.0, 40.0))
def test_a_drink_holds_less_heat_the_sweeter_it_is(
    abv: float, sugar: float, celsius: float
) -> None:
    plain = heat_capacity_j_per_g_k(poured(60, abv=abv), celsius)
    sweet = heat_capacity_j_per_g_k(poured(60, abv=abv, sugar_g_per_l=sugar), celsius)
    assert 2.5 < sweet <= plain + 0.25
    assert np.isfinite(plain)


def test_sugar_syrup_holds_heat_as_the_sugar_trade_says() -> None:
    # Bubnik and others (1995), from memory: 4.187 - 0.0251 Brix + 7.5e-5 Brix t kJ/kg/K.
    for brix in (10.0, 30.0, 50.0):
        theirs = 4.187 - 0.0251 * brix + 7.5e-5 * brix * 20.0
        ours = heat_capacity_j_per_g_k(Liquid(100.0 - brix, sucrose_g=brix), 20.0)
        assert ours == pytest.approx(theirs, rel=0.03)


@pytest.mark.parametrize(("abv", "celsius"), [(0.8, 20.0), (0.4, -20.5), (0.4, 40.5)])
def test_outside_the_published_heats_it_says_so(abv: float, celsius: float) -> None:
    with pytest.raises(OutOfRange):
        heat_capacity_j_per_g_k(poured(50, abv=abv), celsius)
    with pytest.raises(OutOfRange):
        heat_of_mixing_j(poured(50, abv=abv), poured(50, abv=0.0), celsius)
