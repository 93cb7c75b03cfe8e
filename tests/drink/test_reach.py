"""Backwards: what is found makes the glass that was asked for, and agrees with printed tables."""

from __future__ import annotations

import math
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import bisect, brentq

from service.bed import Bed, BedPriors
from service.drink import (
    Drink,
    Glass,
    Missed,
    Pour,
    Reached,
    Target,
    Way,
    glass_of,
    mixed,
    reach,
    read,
)
from service.drink.dial import scaled
from service.drink.glass import glasses_of
from service.ingredients.records import Role
from service.kit import BadData, Interval, OutOfRange
from service.liquid import (
    BuiltOnCube,
    Liquid,
    PreDiluted,
    Preparation,
    Stirring,
    Unchilled,
    abv,
    stir,
    volume_ml,
)
from service.taste import Band
from tests.drink.conftest import Mix, bottle

WATER_G_PER_ML = 0.998201  # OIML R 22 (1975), water at 20 °C


def spirit(strength: float, volume_ml: float = 100.0) -> Drink:
    """A sugar-free spirit by itself, kept at 20 °C."""
    one = bottle("spirit", role=Role.BASE, abv=Interval.exactly(strength))
    return Drink((Pour(one, volume_ml),), preparation=Unchilled())


def built(strength: float, sugar: float, volume_ml: float, made: Preparation, dose: float) -> Drink:
    base = bottle("base", role=Role.BASE, abv=Interval.exactly(strength))
    wine = bottle(
        "wine", abv=Interval.exactly(0.17), sugar=Interval.exactly(sugar),
        acid=Interval.exactly(4.0),
    )  # fmt: skip
    pours = (Pour(base, 0.7 * volume_ml), Pour(wine, 0.3 * volume_ml))
    return Drink(pours, made, Bed(dose_g=dose) if dose else None)


def water_ml(found: Reached | Missed) -> float:
    assert isinstance(found, Reached)
    made = found.drink.preparation
    assert isinstance(made, PreDiluted)
    return float(made.dilution) * float(volume_ml(mixed(found.drink)))


# --- against printed tables ----------------------------------------------------------------
@pytest.mark.parametrize(
    ("strong", "weak", "water"),
    [
        (95, 70, 39.1), (95, 60, 63.0), (95, 50, 95.9), (90, 70, 31.0), (90, 60, 53.6),
        (90, 50, 84.8), (90, 40, 131), (80, 40, 104), (70, 40, 77.6), (60, 40, 51.4),
        (55, 40, 38.5), (50, 40, 25.6), (50, 35, 43.6), (45, 30, 50.5), (40, 30, 33.5),
        (40, 25, 60.2), (40, 20, 100), (35, 25, 40.0), (30, 20, 49.9), (25, 20, 24.9),
    ],
)  # fmt: skip
def test_water_agrees_with_the_printed_reduction_table(
    strong: int, weak: int, water: float
) -> None:
    # Volumes of water to 100 volumes of spirit, worked from the respective volumes of the U.S.
    # Gauging Manual (reduction table of strengths by volume, read). Printed to three digits for
    # 60 °F, where this is 20 °C: 0.3 in 100, and 0.5 where the table has no decimals.
    found = reach(spirit(strong / 100), Target(abv=weak / 100), Way.WATER)
    assert water_ml(found) == pytest.approx(water, abs=0.5 if water > 100 else 0.3)


@pytest.mark.parametrize(
    ("weak", "of_spirit", "of_water"), [(70, 729.2, 297.2), (80, 833.3, 186.8), (90, 937.5, 72.4)]
)
def test_a_litre_agrees_with_the_pharmacopoeia(
    weak: int, of_spirit: float, of_water: float
) -> None:
    # Alcoholometric table of the State Pharmacopoeia (USSR, XI): mL of 96.0 % spirit and of water
    # that make 1000 mL at 20 °C (read in a reprint). Printed to 0.1 mL; its densities are older.
    target = Target(abv=weak / 100, volume_ml=1000.0)
    found = reach(spirit(0.96), target, Way.WATER)
    assert isinstance(found, Reached)
    assert found.drink.pours[0].volume_ml == pytest.approx(of_spirit, abs=0.1)
    assert water_ml(found) == pytest.approx(of_water, abs=0.4)


def test_alligation_by_mass_gives_the_same_cut() -> None:
    # Alligation on masses, exact by definition: parts of spirit as the wanted mass fraction, parts
    # of water as the rest. Mass fractions of OIML R 22 (1975): 33.2996 % at 40 % vol, 24.6071 %
    # at 30 % vol; density 948.05 kg/m3 at 40 % vol.
    grams = 94.805 * (33.2996 - 24.6071) / 24.6071
    found = reach(spirit(0.40), Target(abv=0.30), Way.WATER)
    assert water_ml(found) * WATER_G_PER_ML == pytest.approx(grams, abs=0.01)


# --- forward again -------------------------------------------------------------------------
MADE = (
    Stirring(), Stirring(ice_celsius=-12.0, seconds=20.0), BuiltOnCube(), PreDiluted(),
    PreDiluted(0.2, 4.0), Unchilled(),
)  # fmt: skip
drinks = st.builds(
    built,
    st.floats(0.3, 0.65),
    st.floats(0.0, 300.0),
    st.floats(60.0, 150.0),
    st.sampled_from(MADE),
    st.sampled_from([0.0, 10.0, 15.0, 20.0]),
)


@settings(max_examples=40)
@given(drinks, st.floats(0.02, 0.6), st.sampled_from(Way))
def test_a_strength_that_is_found_is_read_again_and_none_that_exists_is_missed(
    drink: Drink, strength: float, way: Way
) -> None:
    found = reach(drink, Target(abv=strength), way)
    if isinstance(found, Reached):
        assert glass_of(found.drink).abv == pytest.approx(strength, abs=1e-6)
        assert found.drink.bed == drink.bed
    else:
        assert found.quantity == "abv"
        assert found.low is not None
        assert found.high is not None
        assert not found.low <= strength <= found.high


@settings(max_examples=40)
@given(drinks, st.floats(30.0, 400.0), st.sampled_from(Way))
def test_a_volume_that_is_found_is_read_again_and_none_that_exists_is_missed(
    drink: Drink, volume: float, way: Way
) -> None:
    found = reach(drink, Target(volume_ml=volume), way)
    if isinstance(found, Reached):
        assert glass_of(found.drink).volume_ml == pytest.approx(volume, rel=1e-6)
    else:
        low, high = found.low, found.high
        assert way is not Way.AMOUNTS, "a drink can always be made larger or smaller"
        assert low is not None
        assert high is not None
        assert not low <= volume <= high


@settings(max_examples=12)
@given(drinks, st.floats(0.15, 0.35), st.floats(50.0, 250.0))
def test_both_at_once_are_met_together(drink: Drink, strength: float, volume: float) -> None:
    for way in (Way.STIRRING, Way.WATER):
        found = reach(drink, Target(strength, volume), way)
        if isinstance(found, Missed):
            assert found.low is not None
            assert found.high is not None
            assert not found.low <= strength <= found.high
            continue
        glass = glass_of(found.drink)
        assert glass.abv == pytest.approx(strength, abs=1e-6)
        assert glass.volume_ml == pytest.approx(volume, rel=1e-6)
        ratio = found.drink.pours[0].volume_ml / drink.pours[0].volume_ml
        assert ratio == pytest.approx(found.factor)


@pytest.mark.parametrize("way", [Way.STIRRING, Way.WATER])
@pytest.mark.parametrize("dose", [0.0, 15.0])
def test_size_and_setting_are_what_one_search_within_another_finds(way: Way, dose: float) -> None:
    # Brent's method twice, by scipy: for every size the setting, and the size that fills the glass.
    drink = built(0.45, 120.0, 90.0, PreDiluted(0.3, 0.0), dose)
    limit = 900.0 if way is Way.STIRRING else 3.0

    def made(times: float, setting: float) -> Drink:
        kind = Stirring(setting) if way is Way.STIRRING else PreDiluted(setting, 0.0)
        return replace(scaled(drink, times), preparation=kind)

    def setting_for(times: float) -> float:
        return brentq(lambda s: glass_of(made(times, s)).abv - 0.26, 0.0, limit, xtol=1e-11)

    def miss(times: float) -> float:
        return glass_of(made(times, setting_for(times))).volume_ml - 110.0

    times = brentq(miss, 0.7, 1.5, xtol=1e-11)
    found = reach(drink, Target(0.26, 110.0), way)
    assert isinstance(found, Reached)
    assert found.factor == pytest.approx(times, rel=1e-7)
    setting = getattr(found.drink.preparation, "seconds" if way is Way.STIRRING else "dilution")
    assert setting == pytest.approx(setting_for(times), rel=1e-6)


def test_many_glasses_at_once_are_each_the_one_alone() -> None:
    drinks = [built(0.45, 90.0, 60.0 + 9 * i, kind, 15.0) for i, kind in enumerate(MADE)]
    many = glasses_of(drinks)
    for drink, strength, volume in zip(drinks, many.abv, many.volume_ml, strict=True):
        alone = glass_of(drink)
        assert strength == pytest.approx(alone.abv, rel=1e-10)
        assert volume == pytest.approx(alone.volume_ml, rel=1e-10)


def test_both_at_once_takes_few_readings(monkeypatch: pytest.MonkeyPatch) -> None:
    read_again: list[Drink] = []

    def counted(drink: Drink, *, priors: BedPriors) -> Glass:
        read_again.append(drink)
        return glass_of(drink, priors=priors)

    for module in ("service.drink.reach", "service.drink.together"):
        monkeypatch.setattr(sys.modules[module], "glass_of", counted)
    drink = built(0.45, 120.0, 90.0, Stirring(), 15.0)
    for way in (Way.STIRRING, Way.WATER):
        for target in (Target(0.24, 110.0), Target(0.6, 110.0)):
            read_again.clear()
            assert isinstance(reach(drink, target, way), Missed) == (target.abv == 0.6)
            assert len(read_again) < 20


def test_the_glass_is_the_middle_of_the_reading(mix: Mix, band: Band) -> None:
    for bed in (Bed(), None):
        drink = mix(bed=bed, bourbon=50, sweet_vermouth=25)
        reading, glass = read(drink, band), glass_of(drink)
        assert reading.after.abv.mid == pytest.approx(glass.abv, rel=1e-12)
        assert reading.after.volume_ml.mid == pytest.approx(glass.volume_ml, rel=1e-12)


def test_without_a_bed_it_is_what_the_liquid_room_says_searched_by_halving() -> None:
    drink = built(0.45, 120.0, 90.0, Stirring(), 0.0)
    liquid = mixed(drink)

    def found(target: Target, way: Way) -> Drink:
        answer = reach(drink, target, way)
        assert isinstance(answer, Reached)
        return answer.drink

    def stirred(seconds: float) -> Liquid:
        return stir(liquid, Stirring(seconds=seconds)).liquid

    made = found(Target(abv=0.27), Way.STIRRING).preparation
    seconds = bisect(lambda s: float(abv(stirred(s))) - 0.27, 0.0, 900.0, xtol=1e-9)
    assert isinstance(made, Stirring)
    assert made.seconds == pytest.approx(seconds, abs=1e-6)
    made = found(Target(volume_ml=115.0), Way.STIRRING).preparation
    seconds = bisect(lambda s: float(volume_ml(stirred(s))) - 115.0, 0.0, 900.0, xtol=1e-9)
    assert isinstance(made, Stirring)
    assert made.seconds == pytest.approx(seconds, abs=1e-6)
    for target, miss in (
        (Target(abv=0.27), lambda w: float(abv(liquid.watered(w))) - 0.27),
        (Target(volume_ml=115.0), lambda w: float(volume_ml(liquid.watered(w))) - 115.0),
    ):
        grams = bisect(miss, 0.0, 100.0, xtol=1e-9)
        assert water_ml(reach(drink, target, Way.WATER)) * WATER_G_PER_ML == pytest.approx(
            grams, abs=1e-4
        )
    larger = found(Target(volume_ml=140.0), Way.AMOUNTS)
    times = bisect(
        lambda f: float(volume_ml(stir(liquid.scaled(f), Stirring()).liquid)) - 140.0,
        0.5, 2.0, xtol=1e-10,
    )  # fmt: skip
    assert larger.poured_ml == pytest.approx(drink.poured_ml * times, rel=1e-7)


def test_the_textbook_cut_of_a_spirit() -> None:
    # OIML R 22 (1975): 70 mL of 40 % and 30 mL of water (29.946 g) make 28.043 %, 99.845 mL.
    drink = spirit(0.40, 70.0)
    for target, near in ((Target(abv=0.28043), 0.02), (Target(volume_ml=99.845), 0.003)):
        grams = water_ml(reach(drink, target, Way.WATER)) * WATER_G_PER_ML
        assert grams == pytest.approx(29.946, abs=near)


def test_the_bed_is_made_up_for() -> None:
    with_bed, without = (built(0.45, 120.0, 90.0, Stirring(), dose) for dose in (15.0, 0.0))
    target = Target(volume_ml=110.0)
    sizes = []
    for drink in (with_bed, without):
        found = reach(drink, target, Way.AMOUNTS)
        assert isinstance(found, Reached)
        sizes.append(found.drink.poured_ml)
    assert sizes[0] > sizes[1] + 5.0


# --- what cannot be reached ----------------------------------------------------------------
def test_nothing_makes_a_drink_stronger_than_it_is_poured() -> None:
    drink = built(0.40, 100.0, 90.0, Stirring(), 15.0)
    poured = glass_of(Drink(drink.pours, PreDiluted(0.0, 0.0), drink.bed)).abv
    for way in Way:
        missed = reach(drink, Target(abv=0.5), way)
        assert isinstance(missed, Missed)
        assert missed.high is not None
        assert missed.high <= poured + 1e-9


@pytest.mark.parametrize("dose", [0.0, 15.0])
def test_a_drink_too_strong_for_the_ice_is_told_what_to_do(dose: float) -> None:
    drink = built(0.80, 0.0, 90.0, Stirring(), dose)
    drink = replace(drink, pours=drink.pours[:1])
    for way in (Way.STIRRING, Way.AMOUNTS):
        missed = reach(drink, Target(abv=0.4), way)
        assert isinstance(missed, Missed)
        assert "measure water into it" in missed.reason
        assert "g/g" not in missed.reason
    for target in (Target(abv=0.4), Target(0.4, 120.0)):
        found = reach(drink, target, Way.WATER)
        assert isinstance(found, Reached)
        assert glass_of(found.drink).abv == pytest.approx(0.4, abs=1e-6)


def test_water_that_would_freeze_is_kept_at_zero() -> None:
    drink = Drink(spirit(0.40).pours, Stirring())
    found = reach(drink, Target(abv=0.11), Way.WATER)
    assert isinstance(found, Reached)
    assert isinstance(found.drink.preparation, PreDiluted)
    assert found.drink.preparation.celsius == 0.0


def test_a_bed_that_drinks_the_glass_is_no_way() -> None:
    missed = reach(built(0.4, 0.0, 90.0, Stirring(), 15.0), Target(volume_ml=1.0), Way.STIRRING)
    assert isinstance(missed, Missed)
    assert missed.low is not None
    assert missed.low > 1.0


@pytest.mark.parametrize("strength", [0.0, -0.1, 0.0099, 0.951, 1.0, 28.0, math.nan, math.inf])
def test_a_strength_out_of_all_reach_is_refused(strength: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        Target(abv=strength)
    assert caught.value.field == "abv_percent"


@pytest.mark.parametrize("volume", [0.0, -10.0, 20_001.0, math.nan, math.inf])
def test_a_volume_out_of_all_reach_is_refused(volume: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        Target(volume_ml=volume)
    assert caught.value.field == "glass_ml"


def test_no_target_is_no_question() -> None:
    with pytest.raises(BadData):
        Target()


def test_scaling_leaves_ice_and_coffee_as_they_are() -> None:
    drink = built(0.45, 120.0, 90.0, Stirring(), 15.0)
    twice = scaled(drink, 2.0)
    assert (twice.bed, twice.preparation) == (drink.bed, drink.preparation)
    assert twice.poured_ml == pytest.approx(180.0)
