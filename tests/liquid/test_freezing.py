"""The freezing line against handbooks and a reference library."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import assume, example, given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import Liquid, freezing_celsius, poured

Published = Callable[[str], list[dict[str, str]]]


def of_row(row: dict[str, str]) -> Liquid:
    ethanol, sucrose, salt = (
        float(row[f"percent_mass_{name}"]) for name in ("ethanol", "sucrose", "salt")
    )
    return Liquid(100.0 - ethanol - sucrose - salt, ethanol, sucrose, salt_g=salt)


def test_spirits_freeze_where_the_handbook_says(published: Published) -> None:
    # CRC Handbook, Concentrative properties of aqueous solutions, from memory.
    rows = [r for r in published("freezing") if r["source_id"] == "haynes-2016"]
    spirits = [r for r in rows if float(r["percent_mass_ethanol"]) > 0]
    assert len(spirits) == 11
    for row in spirits:
        assert freezing_celsius(of_row(row)) == pytest.approx(float(row["celsius"]), abs=0.35), row


def test_an_older_handbook_is_near(published: Published) -> None:
    # Lange's Handbook, Table 5.13: old data, up to 1.5 K warmer near 28 % by mass.
    for row in published("freezing"):
        if row["source_id"] == "dean-1999":
            ours = freezing_celsius(of_row(row))
            assert ours == pytest.approx(float(row["celsius"]), abs=1.6), row


@pytest.mark.parametrize("percent", [2, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 59])
def test_spirits_freeze_where_a_reference_library_says(percent: float) -> None:
    # CoolProp, "MEA" (Melinder 2010); our line is fitted to it, to 0.03 K above 2 %.
    theirs = PropsSI("T_freeze", "T", 293.15, "P", 101325, f"INCOMP::MEA[{percent / 100}]")
    ours = freezing_celsius(Liquid(100.0 - percent, float(percent)))
    assert ours == pytest.approx(theirs - 273.15, abs=0.05)


@pytest.mark.parametrize(("percent", "celsius"), [(10, -4.4), (20, -11.0), (30, -20.3)])
def test_three_anchors_of_the_line(percent: float, celsius: float) -> None:
    # Midway between the CRC Handbook (from memory) and Melinder (2010).
    ours = freezing_celsius(Liquid(100.0 - percent, float(percent)))
    assert ours == pytest.approx(celsius, abs=0.35)


def test_sugar_and_salt_freeze_where_the_handbook_says(published: Published) -> None:
    # CRC Handbook, from memory: sucrose 10, 20, 30 %; salt 5 and 10 %.
    for row in published("freezing"):
        if float(row["percent_mass_ethanol"]) == 0:
            assert freezing_celsius(of_row(row)) == pytest.approx(
                float(row["celsius"]), abs=0.12
            ), row


def test_water_freezes_at_zero() -> None:
    assert freezing_celsius(Liquid(100.0)) == 0.0


@given(st.floats(0.0, 0.5), st.floats(0.0, 300.0), st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_a_drink_never_freezes_warmer_than_water(
    abv: float, sugar: float, acid: float, salt: float
) -> None:
    drink = poured(100, abv=abv, sugar_g_per_l=sugar, acid_g_per_l=acid, salt_g_per_l=salt)
    if drink.dissolved_g > 2.0 * drink.water_g:
        return
    line = freezing_celsius(drink)
    assert np.isfinite(line)
    assert line <= 0.0
    thinner = freezing_celsius(drink.watered(1.0))
    assert thinner >= line


@example(0.59375, 0.046875, 89.0, 1.0)  # beyond the line: passed over
@given(st.floats(0.0, 0.6), st.floats(1e-3, 0.05), st.floats(0.0, 200.0), st.floats(1.0, 50.0))
def test_more_alcohol_or_sugar_freezes_colder(
    abv: float, stronger: float, sugar: float, sweeter: float
) -> None:
    plain, strong, sweet = (
        poured(100, abv=a, sugar_g_per_l=s)
        for a, s in ((abv, sugar), (abv + stronger, sugar), (abv, sugar + sweeter))
    )
    # Sugar takes the place of water: where little is left, the published line (to 0.6 g/g) ends.
    for drink in (plain, strong, sweet):
        assume(drink.ethanol_g <= 0.6 * (drink.ethanol_g + drink.water_g))
    line = freezing_celsius(plain)
    assert freezing_celsius(strong) < line
    assert freezing_celsius(sweet) < line


def test_outside_the_published_line_it_says_so() -> None:
    with pytest.raises(OutOfRange, match="does not freeze in a bar"):
        freezing_celsius(poured(50, abv=0.75))
    with pytest.raises(OutOfRange, match="thin the syrup"):
        freezing_celsius(Liquid(20.0, sucrose_g=80.0))
    with pytest.raises(OutOfRange, match="pour something first"):
        freezing_celsius(Liquid(0.0))
