"""Stirring against worked energy balances, the published rule, and what must always hold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import (
    Liquid,
    Stirring,
    abv,
    analysis,
    equilibrium,
    freezing_celsius,
    heat,
    melting,
    poured,
    stir,
    volume_ml,
)
from service.liquid.stirring import filled
from tests.liquid.strategies import drinks, stirrings

Published = Callable[[str], list[dict[str, str]]]
# The worked balances: 90 mL of 33 % vol from 22 °C, dry ice, no vessel.
WORKED = Stirring(ice_g=200.0, surface_water_g=0.0, vessel_j_per_k=0.0)
SPIRIT = poured(90.0, abv=0.33)
WATER_G_PER_ML = 0.9982


def case(published: Published, name: str) -> dict[str, str]:
    return next(r for r in published("stirring") if r["case"] == name)


def test_the_simplest_balance_comes_out_as_worked_by_hand(published: Published) -> None:
    # No heat of mixing, no vessel, only the ice that melts: m (333.43 + 4.22 t) =
    # 86.251 x 4.24 (22 - t) on the CRC freezing line. Ours has Melinder's line, 0.13 K colder here.
    row = case(published, "A-no-mixing-heat")
    done = equilibrium(SPIRIT, WORKED, core_celsius=0.0, mixing=False)
    assert done.melt_g == pytest.approx(float(row["melt_g"]), abs=0.4)
    assert done.celsius == pytest.approx(float(row["celsius"]), abs=0.2)
    assert abv(done.liquid) == pytest.approx(0.2285, abs=0.001)
    residual = done.melt_g * (333.43 + 4.22 * done.celsius) - 86.251 * 4.24 * (22 - done.celsius)
    assert abs(float(residual)) < 0.01 * 86.251 * 4.24 * 32


def test_heat_of_mixing_raises_the_melt_by_what_was_measured(published: Published) -> None:
    # Between the heat of mixing as at 25 °C and as extrapolated to 0 °C (Larkin 1975): ours is
    # brought to temperature by the heat capacities instead.
    without = equilibrium(SPIRIT, WORKED, core_celsius=0.0, mixing=False)
    with_heat = equilibrium(SPIRIT, WORKED, core_celsius=0.0)
    low = float(case(published, "B-mixing-heat-25")["melt_g"])
    high = float(case(published, "B2-mixing-heat-0")["melt_g"])
    assert without.melt_g < low < with_heat.melt_g < high


@pytest.mark.parametrize(
    ("name", "change", "core"),
    [
        ("C-ice-minus-1", {"ice_celsius": -1.0}, -1.0),
        ("G-warm-glass", {"vessel_j_per_k": 168.0, "vessel_celsius": 22.0}, 0.0),
    ],
)
def test_ice_and_glass_count_as_in_the_worked_cases(
    published: Published, name: str, change: dict[str, float], core: float
) -> None:
    # Worked with heat of mixing extrapolated to 0 °C, a little more than ours: 1.5 %.
    row = case(published, name)
    done = equilibrium(SPIRIT, replace(WORKED, **change), core_celsius=core)
    assert done.melt_g == pytest.approx(float(row["melt_g"]), rel=0.015)
    assert done.celsius == pytest.approx(float(row["celsius"]), abs=0.2)


@pytest.mark.parametrize(("name", "ice"), [("D-all-ice", 0.0), ("E-all-ice-minus-18", -18.0)])
def test_all_ice_brought_to_the_end_counts_as_in_the_worked_cases(
    published: Published, name: str, ice: float
) -> None:
    # The worked cases let all 200 g take part; a stir of ours only the ice that the drink wets.
    row = case(published, name)
    glass, now = filled(SPIRIT, replace(WORKED, ice_celsius=ice))
    added = 200.0 - float(glass.ice_g)
    glass = replace(glass, ice_g=200.0, energy_j=glass.energy_j + added * heat.ice_enthalpy(ice))
    done = melting.settled(glass, 0.0, None, now.melt_g)
    assert done.melt_g == pytest.approx(float(row["melt_g"]), rel=0.015)
    assert done.celsius == pytest.approx(float(row["celsius"]), abs=0.2)


@pytest.mark.parametrize("sugar", [0.0, 30.0, 60.0])
@pytest.mark.parametrize("volume", [60.0, 90.0, 120.0])
def test_dilution_follows_the_published_rule(
    published: Published, sugar: float, volume: float
) -> None:
    # Arnold (2014), from memory: D = -1.21 q^2 + 1.246 q + 0.145. One constant of ours was fitted
    # to it at 90 mL: this is calibration, not validation. 8 % there; 10 % for 60 and 120 mL.
    rows = [r for r in published("stirring") if r["case"] == "rule"]
    q = np.array([float(r["abv"]) for r in rows if 0.2 <= float(r["abv"]) <= 0.4])
    rule = np.array([float(r["dilution"]) for r in rows if 0.2 <= float(r["abv"]) <= 0.4])
    assert len(q) == 6
    done = stir(poured(volume, abv=q, sugar_g_per_l=sugar), Stirring())
    dilution = done.melt_g / WATER_G_PER_ML / volume
    within = 0.08 if volume == 90.0 else 0.10
    assert np.abs(dilution / rule - 1.0).max() < within
    assert (np.asarray(done.celsius) >= np.asarray(freezing_celsius(done.liquid))).all()


def test_stirring_needs_about_two_minutes_to_settle() -> None:
    # Arnold (2010), Cocktail science in general, part 1: more than two minutes of stirring do
    # what a shake does in 15 s, and nobody waits for it. Nothing of ours was fitted to that.
    rest = float(equilibrium(SPIRIT, Stirring()).celsius)
    at = {s: float(stir(SPIRIT, Stirring(seconds=s)).celsius) for s in (15.0, 30.0, 120.0, 240.0)}
    assert at[15.0] > 0.0
    assert at[30.0] - rest > 4.0
    assert 0.3 < at[120.0] - rest < 1.5
    assert at[240.0] - rest < 0.3


def test_more_ice_than_the_drink_wets_changes_nothing() -> None:
    # Arnold (2009), The science of shaking, part 2: the gain from more ice levels off, and too
    # little ice leaves the drink warmer.
    enough, more = (stir(SPIRIT, Stirring(ice_g=g)) for g in (150.0, 600.0))
    little = stir(SPIRIT, Stirring(ice_g=50.0))
    assert more.celsius == pytest.approx(enough.celsius, abs=1e-9)
    assert little.celsius > enough.celsius + 1.0


@pytest.mark.parametrize(
    ("change", "wetter", "colder"),
    [
        ({"seconds": 60.0}, True, True),
        ({"cube_mm": 15.0}, True, True),
        ({"turns_per_second": 4.0}, True, True),
        ({"ice_celsius": -18.0, "surface_water_g": 0.0}, False, True),
        ({"surface_water_g": 8.0}, True, True),
        ({"vessel_celsius": 22.0}, True, False),
        ({"start_celsius": 4.0}, False, True),
    ],
)
def test_each_lever_works_the_way_bartenders_know(
    change: dict[str, float], wetter: bool, colder: bool
) -> None:
    usual, changed = stir(SPIRIT, Stirring()), stir(SPIRIT, replace(Stirring(), **change))
    assert bool(changed.melt_g > usual.melt_g) is wetter
    assert bool(changed.celsius < usual.celsius) is colder


@settings(max_examples=150)
@given(drinks, stirrings)
def test_a_stir_keeps_mass_and_stays_above_its_freezing_line(
    liquid: Liquid, stirring: Stirring
) -> None:
    done = stir(liquid, stirring)
    assert np.isfinite([done.celsius, done.melt_g]).all()
    assert done.liquid.mass_g == pytest.approx(liquid.mass_g + done.melt_g, abs=1e-9)
    assert done.liquid.ethanol_g == liquid.ethanol_g
    assert done.liquid.sucrose_g == liquid.sucrose_g
    assert done.celsius >= freezing_celsius(done.liquid) - 1e-9
    assert done.melt_g <= stirring.ice_g + stirring.surface_water_g + 1e-9
    assert done.celsius <= max(stirring.start_celsius, stirring.vessel_celsius) + 6.0


@settings(max_examples=60)
@given(drinks, stirrings, st.floats(1.0, 60.0))
def test_stirring_longer_is_never_warmer(liquid: Liquid, stirring: Stirring, more: float) -> None:
    seconds = min(float(stirring.seconds), 600.0)
    first = stir(liquid, replace(stirring, seconds=seconds))
    later = stir(liquid, replace(stirring, seconds=seconds + more))
    # six fixed steps are good to about 0.2 K with very small or very cold ice
    assert later.celsius <= first.celsius + 0.25


@settings(max_examples=60)
@given(drinks, stirrings)
def test_stirring_for_ever_ends_on_the_freezing_line(liquid: Liquid, stirring: Stirring) -> None:
    rest = equilibrium(liquid, stirring)
    line = freezing_celsius(rest.liquid)
    ice_left = stirring.ice_g + stirring.surface_water_g - rest.melt_g
    if ice_left > 1e-6:
        wetted = 1.375 * volume_ml(liquid.watered(stirring.surface_water_g))
        if rest.melt_g - stirring.surface_water_g < wetted - 1e-6:
            assert rest.celsius == pytest.approx(line, abs=1e-6)
    assert rest.celsius >= line - 1e-9


def test_too_little_ice_melts_away_and_the_drink_stays_warmer() -> None:
    # By hand: 10 g of ice take 3.3 kJ, 90 mL of drink gives that in about 9 K.
    done = stir(SPIRIT, Stirring(ice_g=10.0, surface_water_g=0.0, vessel_j_per_k=0.0, seconds=900))
    assert done.melt_g == pytest.approx(10.0, abs=0.05)
    assert done.celsius == pytest.approx(12.0, abs=1.0)


def test_no_time_is_no_stir() -> None:
    done = stir(SPIRIT, replace(WORKED, seconds=0.0))
    assert done.melt_g == pytest.approx(0.0, abs=1e-6)
    assert done.celsius == pytest.approx(22.0, abs=1e-6)


def test_thirty_drinks_in_one_call_agree_with_one_at_a_time() -> None:
    strengths, sugars = np.linspace(0.1, 0.5, 30), np.linspace(0, 90, 30)
    seconds = np.linspace(10.0, 60.0, 30)
    many = stir(poured(90.0, abv=strengths, sugar_g_per_l=sugars), Stirring(seconds=seconds))
    for i in range(0, 30, 7):
        one = stir(
            poured(90.0, abv=float(strengths[i]), sugar_g_per_l=float(sugars[i])),
            Stirring(seconds=float(seconds[i])),
        )
        assert np.asarray(many.celsius)[i] == pytest.approx(one.celsius, abs=1e-6)
        assert np.asarray(many.melt_g)[i] == pytest.approx(one.melt_g, abs=1e-6)


def test_drinks_by_draws_broadcast() -> None:
    drinks_by_one = poured(np.array([[80.0], [100.0]]), abv=0.3)
    done = stir(drinks_by_one, Stirring(seconds=np.array([20.0, 30.0, 40.0])))
    assert np.asarray(done.celsius).shape == (2, 3)
    assert np.asarray(analysis(done.liquid).abv).shape == (2, 3)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"seconds": -1.0}, "seconds"),
        ({"seconds": 1000.0}, "seconds"),
        ({"ice_g": 5.0}, "ice_g"),
        ({"cube_mm": 1.0}, "cube_mm"),
        ({"ice_celsius": 1.0}, "ice_celsius"),
        ({"surface_water_g": -1.0}, "surface_water_g"),
        ({"vessel_j_per_k": -1.0}, "vessel_j_per_k"),
        ({"vessel_celsius": 60.0}, "vessel_celsius"),
        ({"turns_per_second": 9.0}, "turns_per_second"),
        ({"start_celsius": 50.0}, "start_celsius"),
        ({"start_celsius": float("nan")}, "start_celsius"),
    ],
)
def test_an_impossible_stir_names_its_field(change: dict[str, float], field: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        stir(SPIRIT, replace(Stirring(), **change))
    assert caught.value.field == field


def test_a_drink_already_frozen_or_too_strong_is_refused() -> None:
    with pytest.raises(OutOfRange, match="frozen before the stir"):
        stir(poured(90, abv=0.10), Stirring(start_celsius=-10.0))
    with pytest.raises(OutOfRange):
        stir(poured(90, abv=0.80), Stirring())
