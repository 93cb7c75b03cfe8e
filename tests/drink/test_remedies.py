"""Remedies: the smallest change on each lever, read again, or plainly that none helps."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from service.bed import Bed
from service.drink import (
    FIRST_LEVERS,
    Larder,
    Lever,
    knobs_of,
    larder_of,
    no_lever_reaches,
    read,
    read_many,
    remedies_for,
    turned,
)
from service.drink.lattice import ANY_JIGGER, FIVE_ML, QUARTER_OUNCES, Lattice
from service.ingredients.records import Grind
from service.liquid import BuiltOnCube, PreDiluted, Stirring, Unchilled
from service.taste import Verdict

LATTICES = [ANY_JIGGER, FIVE_ML, QUARTER_OUNCES]


@pytest.fixture(scope="module")
def larder(catalogue):
    return larder_of(catalogue.ingredients)


@pytest.fixture(scope="module")
def off_balance(mix):
    """Drinks that are off in all directions, with and without coffee."""
    return [
        mix(bourbon=50, simple_syrup=20, aromatic_bitters=1.6),
        mix(Bed(), rye_whiskey=50, sweet_vermouth=10, aromatic_bitters=3.2),
        mix(Bed(), london_gin=45, walnut_liqueur=30),
        mix(None, Stirring(seconds=12.0), overproof_rum=50, sweet_vermouth=20),
        mix(None, PreDiluted(dilution=0.75, celsius=0.0), cognac=50, sweet_vermouth=20),
        mix(Bed(dose_g=22), BuiltOnCube(), blended_scotch=50, honey_herb_liqueur=25),
        mix(Bed(), bourbon=45, banana_liqueur=30, chocolate_bitters=1.6),
    ]


def knob_of(drink, remedy, larder):
    knobs = [k for k in knobs_of(drink, 0, larder) if k.lever is remedy.lever]
    return next(
        k for k in knobs if (k.ingredient.id if k.ingredient else "") == remedy.ingredient_id
    )


def test_what_a_remedy_promises_is_what_a_new_reading_finds(off_balance, band, larder):
    """Every remedy of every drink, applied and read again from the start."""
    promised = remedies_for(off_balance, band, larder=larder)
    checked = 0
    for drink, remedies in zip(off_balance, promised, strict=True):
        for remedy in remedies:
            changed = turned(drink, knob_of(drink, remedy, larder), remedy.then)
            again = read(changed, band, draws=0).balance_after
            assert again.distance.mid == pytest.approx(remedy.distance, abs=1e-6), remedy.words
            assert (again.verdict is Verdict.INSIDE) == remedy.reaches, remedy.words
            checked += 1
    assert checked > 40


def test_most_off_balance_drinks_have_a_remedy(off_balance, band, larder):
    promised = remedies_for(off_balance, band, larder=larder)
    assert sum(not no_lever_reaches(remedies) for remedies in promised) >= 5


@pytest.mark.parametrize("lattice", LATTICES)
def test_no_smaller_change_would_do(off_balance, band, larder, lattice):
    """Against a walk through all smaller settings in the bar's own steps, most levers."""
    larder = replace(larder, lattice=lattice)
    promised = remedies_for(off_balance, band, larder=larder)
    checked = 0
    for drink, remedies in zip(off_balance, promised, strict=True):
        for remedy in remedies:
            if not remedy.reaches or remedy.lever is Lever.GRIND:
                continue
            knob = knob_of(drink, remedy, larder)
            turned_by = abs(remedy.then - knob.now)
            smaller = [v for v in knob.settings if 1e-6 < abs(v - knob.now) < turned_by - 1e-6]
            readings = read_many([turned(drink, knob, v) for v in smaller], band, draws=0)
            inside = [r.verdict is Verdict.INSIDE for r in readings]
            assert not any(inside), (remedy.words, smaller[inside.index(True)])
            checked += 1
    assert checked >= 10


@pytest.mark.parametrize("lattice", LATTICES)
def test_where_no_setting_reaches_none_of_them_does(off_balance, band, larder, lattice):
    """The other way round: a lever that is given up has no setting that would do."""
    larder = replace(larder, lattice=lattice)
    checked = 0
    for drink, remedies in zip(
        off_balance, remedies_for(off_balance, band, larder=larder), strict=True
    ):
        for remedy in (r for r in remedies if not r.reaches and r.lever is not Lever.GRIND):
            knob = knob_of(drink, remedy, larder)
            settings = knob.settings[:: max(len(knob.settings) // 12, 1)]
            readings = read_many([turned(drink, knob, v) for v in settings], band, draws=0)
            assert not any(r.verdict is Verdict.INSIDE for r in readings), remedy.words
            checked += len(readings)
    assert checked > 50


@pytest.mark.parametrize("lattice", LATTICES)
def test_what_a_remedy_pours_can_be_poured(off_balance, band, larder, lattice):
    """Whole dashes and drops; else what the lattice has, counted here by hand."""
    larder = replace(larder, lattice=lattice)
    poured = set()
    for drink, remedies in zip(
        off_balance, remedies_for(off_balance, band, larder=larder), strict=True
    ):
        for remedy in remedies:
            one = knob_of(drink, remedy, larder).ingredient
            if one is None or remedy.then == pytest.approx(remedy.now):
                continue
            step = lattice.fine_ml if remedy.then <= lattice.fine_below_ml else lattice.step_ml
            if remedy.lever is Lever.BITTERS:
                step = 0.8
            elif remedy.lever is Lever.SALT:
                step = 0.05
            assert remedy.then / step == pytest.approx(round(remedy.then / step)), remedy.words
            poured.add(remedy.lever)
    assert {Lever.MODIFIER, Lever.BITTERS, Lever.SWEETENER, Lever.SALT} <= poured


def test_bitters_are_told_in_whole_dashes(mix, band, larder):
    drinks = [mix(bourbon=50, sweet_vermouth=v, aromatic_bitters=1.6) for v in range(5, 60, 5)]
    every = remedies_for(drinks, band, larder=larder, levers=[Lever.BITTERS])
    told = [r.words for remedies in every for r in remedies if "dash" in r.words]
    assert told
    assert all(
        re.match(r"\d (dash|dashes) of aromatic bitters instead of 2 dashes", w) for w in told
    )


def test_where_every_step_goes_past_it_the_setting_between_is_said(mix, band, larder):
    """Jiggers of 30 mL only: no whole one does it, but the amount that would is read and said."""
    coarse = replace(larder, lattice=Lattice(30.0, 30.0, 30.0))
    drinks = [mix(rye_whiskey=50, sweet_vermouth=v, aromatic_bitters=0.8) for v in (3, 4, 5, 60)]
    checked = 0
    for drink, remedies in zip(
        drinks, remedies_for(drinks, band, larder=coarse, levers=[Lever.MODIFIER]), strict=True
    ):
        for remedy in (r for r in remedies if r.between is not None):
            assert not remedy.reaches
            assert f"{remedy.between:g} mL of sweet red vermouth would be inside" in remedy.words
            made = turned(drink, knob_of(drink, remedy, coarse), remedy.between)
            assert read(made, band, draws=0).verdict is Verdict.INSIDE
            checked += 1
    assert checked


def test_a_batch_is_measured_more_coarsely(catalogue, larder):
    gin = catalogue.ingredients["london-gin"]
    settings = larder.lattice.settings(gin, 18_000.0, 45_000.0)
    assert 64 <= len(settings) <= 128
    assert all(float(v) % 2.5 == 0.0 for v in settings)


def test_remedies_stay_within_sensible_bounds(off_balance, band, larder):
    for drink, remedies in zip(
        off_balance, remedies_for(off_balance, band, larder=larder), strict=True
    ):
        for remedy in remedies:
            knob = knob_of(drink, remedy, larder)
            assert knob.low - 1e-9 <= remedy.then <= knob.high + 1e-9


def test_those_that_reach_come_first_the_smallest_leading(off_balance, band, larder):
    for remedies in remedies_for(off_balance, band, larder=larder):
        reach = [remedy.reaches for remedy in remedies]
        assert reach == sorted(reach, reverse=True)
        efforts = [remedy.effort for remedy in remedies if remedy.reaches]
        assert efforts == sorted(efforts)


def test_a_hopeless_drink_is_told_so(mix, band, larder):
    hopeless = mix(Bed(), bourbon=20, fernet=60, aromatic_bitters=8)
    (remedies,) = remedies_for([hopeless], band, larder=larder)
    assert remedies
    assert no_lever_reaches(remedies)
    assert not any(remedy.reaches for remedy in remedies)
    assert all("does not" in r.words or "no sensible" in r.words for r in remedies)


def test_salt_is_honest_about_how_little_it_does(off_balance, band, larder):
    """Below recognition (0.9 g/L) salt takes about 4 % of the bitterness as modelled."""
    for remedies in remedies_for(off_balance, band, larder=larder):
        salt = next(remedy for remedy in remedies if remedy.lever is Lever.SALT)
        assert salt.then <= 1.0
        if salt.then > 0.0:
            assert "at most 4%" in salt.words
            assert "less than 1 %" in salt.words


def test_remedies_appear_only_where_they_are_needed(mix, band, larder):
    fine = mix(rye_whiskey=50, sweet_vermouth=20, aromatic_bitters=0.8)
    sweet = mix(bourbon=50, simple_syrup=20, aromatic_bitters=1.6)
    for drink, needed in ((fine, False), (sweet, True)):
        assert bool(read(drink, band, draws=20, larder=larder).remedies) is needed
        assert read(drink, band, draws=20).remedies == ()


def test_a_list_looks_at_the_first_levers_only(off_balance, band, larder):
    for reading in read_many(off_balance, band, draws=20, larder=larder):
        assert {remedy.lever for remedy in reading.remedies} <= set(FIRST_LEVERS)
    one = read(off_balance[0], band, draws=20, larder=larder)
    assert Lever.DILUTION in {remedy.lever for remedy in one.remedies}


def test_an_empty_larder_adds_nothing_the_drink_does_not_hold(mix, band):
    drink = mix(Bed(), rye_whiskey=50, sweet_vermouth=10, aromatic_bitters=3.2)
    (remedies,) = remedies_for([drink], band, larder=Larder())
    held = {pour.ingredient.id for pour in drink.pours} | {""}
    assert {remedy.ingredient_id for remedy in remedies} <= held


def test_levers_follow_what_the_drink_is(mix, larder):
    def levers(drink):
        return {knob.lever for knob in knobs_of(drink, 0, larder)}

    plain = mix(rye_whiskey=50, sweet_vermouth=20)
    assert Lever.COFFEE not in levers(plain)
    assert Lever.BITTERS not in levers(plain)
    assert Lever.COFFEE in levers(mix(Bed(), rye_whiskey=50))
    assert Lever.DILUTION not in levers(mix(None, Unchilled(), rye_whiskey=50))
    assert Lever.DILUTION in levers(mix(None, PreDiluted(), rye_whiskey=50))


def test_grind_is_changed_by_trade_words(mix, band):
    drink = mix(Bed(grind=Grind.FINE, dose_g=18), bourbon=45, sweet_vermouth=15)
    (remedies,) = remedies_for([drink], band, levers=[Lever.GRIND])
    (grind,) = remedies
    assert any(word.value in grind.words for word in Grind) or "no sensible" in grind.words


def test_a_lever_that_would_freeze_the_drink_is_left_out_alone(mix, band, larder):
    """A weak batch kept at -5 °C turns to slush if watered down: the other levers still answer."""
    weak = mix(None, PreDiluted(dilution=0.35, celsius=-5.0), sweet_vermouth=60, bourbon=15)
    (remedies,) = remedies_for([weak], band, larder=larder)
    levers = {remedy.lever for remedy in remedies}
    assert Lever.MODIFIER in levers
    assert Lever.WATER not in levers
    assert len(levers) >= 3


def test_a_huge_drink_is_told_in_plain_numbers(mix, band, larder):
    batch = mix(None, PreDiluted(0.3, 0.0), bourbon=30_000, sweet_vermouth=12_345)
    (remedies,) = remedies_for([batch], band, larder=larder)
    words = " ".join(remedy.words for remedy in remedies)
    assert "instead of 30000 mL" in words
    assert "e+" not in words


def test_asking_about_no_drinks_is_fine(band):
    assert remedies_for([], band) == []
