"""Density of ethanol-water against printed tables, a handbook and two reference libraries."""

from __future__ import annotations

from collections.abc import Callable

import chemicals
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import ethanol_water_density_kg_per_m3 as density

Published = Callable[[str], list[dict[str, str]]]


def test_every_cell_of_the_international_table_holds(published: Published) -> None:
    # OIML R 22 (1975); cells to three decimals, mass fraction to four: 0.005 kg/m3.
    rows = [r for r in published("ethanol_water_density") if r["how"] == "computed"]
    assert len(rows) >= 70
    for row in rows:
        ours = density(float(row["percent_mass"]) / 100, float(row["celsius"]))
        assert ours == pytest.approx(float(row["density_kg_per_m3"]), abs=0.005), row


def test_the_printed_values_hold_to_their_last_digit(published: Published) -> None:
    # OIML R 22 (1975), Tables I and II, from memory: water, 40 %, 96 % and pure ethanol at 20 °C.
    for row in published("ethanol_water_density"):
        if row["how"] == "recalled":
            ours = density(float(row["percent_mass"]) / 100)
            assert ours == pytest.approx(float(row["density_kg_per_m3"]), abs=0.012), row


def test_an_older_handbook_agrees(published: Published) -> None:
    # Lange's Handbook, 15th edition, Table 5.13: measured before and apart from the formula.
    rows = [r for r in published("ethanol_water_density") if r["source_id"] == "dean-1999"]
    assert len(rows) == 6
    for row in rows:
        ours = density(float(row["percent_mass"]) / 100, float(row["celsius"]))
        assert ours == pytest.approx(float(row["density_kg_per_m3"]), abs=0.05), row


def coolprop_grid(coldest_celsius: float) -> list[tuple[float, float]]:
    """200 points within the limits of CoolProp's MEA: to 60 % by mass, above freezing, to 40 °C."""
    points: list[tuple[float, float]] = []
    for fraction in np.linspace(0.0, 0.598, 20).tolist():
        name = f"INCOMP::MEA[{fraction:.6f}]"
        line = PropsSI("T_freeze", "T", 293.15, "P", 101325, name) - 273.15
        coldest = max(coldest_celsius, line + 0.5)
        points += [(fraction, t) for t in np.linspace(coldest, 39.9, 10).tolist()]
    return points


@pytest.mark.parametrize(
    ("coldest_celsius", "within"),
    # CoolProp, incompressible "MEA" (Melinder 2010), a fit of measured mixtures: good to 0.55 kg/m3
    # from -5 to 40 °C; the two drift apart below, to 0.2 % at -20 °C, where R 22 is exact.
    [(-5.0, 0.55), (-20.0, 1.8)],
)
def test_a_grid_of_200_points_agrees_with_an_independent_library(
    coldest_celsius: float, within: float
) -> None:
    grid = coolprop_grid(coldest_celsius)
    assert len(grid) == 200
    for fraction, celsius in grid:
        name = f"INCOMP::MEA[{fraction:.6f}]"
        theirs = PropsSI("D", "T", celsius + 273.15, "P", 101325, name)
        assert density(fraction, celsius) == pytest.approx(theirs, abs=within)


@pytest.mark.parametrize("celsius", [0.01, 4.0, 10.0, 20.0, 30.0, 39.0])
def test_water_agrees_with_the_steam_tables(celsius: float) -> None:
    # IAPWS-95 by two libraries; R 22 uses older water, 0.007 kg/m3 lower at 20 °C.
    kelvin = celsius + 273.15
    assert density(0.0, celsius) == pytest.approx(chemicals.iapws95_rho(kelvin, 101325.0), abs=0.02)
    assert density(0.0, celsius) == pytest.approx(
        PropsSI("D", "T", kelvin, "P", 101325, "Water"), abs=0.02
    )


@pytest.mark.parametrize("celsius", [0.0, 20.0])
def test_pure_ethanol_agrees_with_its_equation_of_state(celsius: float) -> None:
    # CoolProp, ethanol (Schroeder and others 2014): 0.03 % apart from R 22.
    theirs = PropsSI("D", "T", celsius + 273.15, "P", 101325, "Ethanol")
    assert density(1.0, celsius) == pytest.approx(theirs, rel=3e-4)


@given(st.floats(0.0, 0.99), st.floats(1e-3, 0.01), st.floats(0.0, 40.0))
def test_more_ethanol_is_always_lighter(fraction: float, more: float, celsius: float) -> None:
    assert density(fraction + more, celsius) < density(fraction, celsius)


# Down to -15 °C: a mix of 20 % by mass freezes at -11 °C, and colder still the formula has the
# maximum of density that water has at 4 °C.
@given(st.floats(0.2, 1.0), st.floats(-15.0, 39.0), st.floats(0.01, 1.0))
def test_warm_spirit_is_lighter(fraction: float, celsius: float, warmer: float) -> None:
    assert density(fraction, celsius + warmer) < density(fraction, celsius)


def test_arrays_broadcast_and_agree_with_floats() -> None:
    fractions, degrees = np.linspace(0, 1, 7)[:, None], np.linspace(-20, 40, 5)
    table = density(fractions, degrees)
    assert isinstance(table, np.ndarray)
    assert table.shape == (7, 5)
    for i, fraction in enumerate(fractions[:, 0].tolist()):
        for j, celsius in enumerate(degrees.tolist()):
            assert table[i, j] == pytest.approx(density(fraction, celsius), rel=1e-14)


@pytest.mark.parametrize(
    ("fraction", "celsius", "field"),
    [
        (-0.001, 20.0, "mass_fraction"),
        (1.001, 20.0, "mass_fraction"),
        (float("nan"), 20.0, "mass_fraction"),
        (0.3, -20.1, "celsius"),
        (0.3, 40.1, "celsius"),
    ],
)
def test_outside_the_tables_it_says_so(fraction: float, celsius: float, field: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        density(fraction, celsius)
    assert caught.value.field == field
    assert "outside" in caught.value.message


def test_one_bad_drink_among_many_is_named() -> None:
    with pytest.raises(OutOfRange, match=r"1\.2 g/g is outside 0 to 1"):
        density(np.array([0.2, 1.2, 0.3]))
