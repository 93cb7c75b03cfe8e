"""The balance band of the shipped references: does it know classics, and does it know spoils?"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import fields

import numpy as np
import pytest

from service.bed import Bed
from service.drink import drink_of, read, read_many, reference_drinks, references_of
from service.drink.reading import before_coffee
from service.kit import BadData
from service.liquid import PreDiluted
from service.taste import (
    AXES,
    Parameters,
    Percept,
    Reference,
    Style,
    Verdict,
    draw_parameters,
    fit_band,
    judge,
)
from tests.drink.spoils import SPOILS, spoiled


@pytest.fixture(scope="module")
def classics(catalogue):
    return reference_drinks(catalogue.ingredients, catalogue.specs)


@pytest.fixture(scope="module")
def references(classics):
    return references_of(classics)


def test_there_are_enough_classics_of_every_family(references):
    styles = [reference.style for reference in references]
    assert len(references) >= 40
    for style in (Style.DRY, Style.WINE, Style.SUGAR, Style.LIQUEUR, Style.EQUAL_PARTS_BITTER):
        assert styles.count(style) >= 4, style
    assert len({reference.name for reference in references}) == len(references)


def test_left_out_classics_are_inside_or_on_the_edge(references):
    """At least 85 %, each judged by a band that has never seen it. Measured: 90 %."""
    verdicts = []
    for i, reference in enumerate(references):
        band = fit_band([*references[:i], *references[i + 1 :]])
        verdicts.append(judge(band, reference.percept, reference.style).verdict())
    outside = sum(verdict is Verdict.OUTSIDE for verdict in verdicts)
    assert 1.0 - outside / len(verdicts) >= 0.85
    assert sum(verdict is Verdict.INSIDE for verdict in verdicts) >= 0.5 * len(verdicts)


def test_spoiled_classics_are_outside(catalogue, classics, band):
    """At least 85 % of 200 drinks spoiled in the seven ways of `spoils`. Measured: 90 %.

    By way: a doubled modifier is caught in about one of three, because a vermouth drink with twice
    its vermouth is another classic; every other way is caught nearly always.
    """
    variants = spoiled(classics, catalogue.ingredients, 200)
    assert len(variants) == 200
    points = references_of(drink for _, drink in variants)
    caught = defaultdict(list)
    for (way, _), point in zip(variants, points, strict=True):
        verdict = judge(band, point.percept, point.style).verdict()
        caught[way].append(verdict is Verdict.OUTSIDE)
    assert set(caught) == set(SPOILS)
    everything = [one for way in caught.values() for one in way]
    assert np.mean(everything) >= 0.85
    for way, hits in caught.items():
        assert np.mean(hits) >= (0.15 if way == "modifier_doubled" else 0.9), way


def test_drinks_of_the_old_books_are_mostly_recognised(catalogue, band):
    """Specifications that the band was not drawn from: stirred, spirit-led, from any book.

    They are other people's recipes of the same trade; a good part should look familiar.
    Measured: 57 % of 46.
    """
    known = {drink.name for drink in reference_drinks(catalogue.ingredients, catalogue.specs)}
    others = [
        drink_of(spec, catalogue.ingredients)
        for spec in catalogue.specs
        if spec.method == "stirred" and spec.name not in known
    ]
    points = [p for p in references_of(others) if not p.style.of_its_own]
    familiar = [judge(band, p.percept).verdict() is not Verdict.OUTSIDE for p in points]
    assert len(familiar) >= 20
    assert np.mean(familiar) > 0.4


def test_equal_parts_bitter_drinks_are_warned_about_not_failed(mix, band):
    """Far sweeter than the handbook's 3.7-5.6 g per 100 mL (Arnold 2014, from memory)."""
    drink = mix(london_gin=30, red_bitter_aperitif=30, sweet_vermouth=30)
    balance = read(drink, band, draws=200).balance_before
    assert balance.style is Style.EQUAL_PARTS_BITTER
    assert balance.verdict is not Verdict.OUTSIDE
    assert "style of its own" in balance.warning


def test_a_style_of_its_own_excuses_nothing_far_from_its_kind(mix, band):
    drink = mix(london_gin=30, red_bitter_aperitif=30, sweet_vermouth=30, simple_syrup=25)
    assert read(drink, band, draws=0).verdict is Verdict.OUTSIDE


@pytest.mark.parametrize(
    ("pours", "preparation", "words"),
    [
        ({"bourbon": 50, "simple_syrup": 25, "aromatic_bitters": 1.6}, None, "too sweet"),
        ({"bourbon": 50, "sweet_vermouth": 20, "aromatic_bitters": 12}, None, "too bitter"),
        ({"bourbon": 50, "sweet_vermouth": 20}, PreDiluted(0.0, -5.0), "too strong"),
        ({"bourbon": 50, "sweet_vermouth": 20}, PreDiluted(1.2, 0.0), "too thin"),
        ({"bourbon": 50, "sweet_vermouth": 20, "saline": 5}, None, "too salty"),
        ({"bourbon": 50, "sweet_vermouth": 20, "citric_solution": 15}, None, "too sharp"),
    ],
)
def test_the_words_say_which_way_a_drink_is_off(mix, band, pours, preparation, words):
    balance = read(mix(None, preparation, **pours), band, draws=0).balance_before
    assert balance.verdict is Verdict.OUTSIDE
    assert words in balance.words
    assert balance.leanings[0].words == balance.words.split(" and ")[0]


def test_a_drink_with_a_little_wine_is_not_called_sharp(mix, band):
    """It may lie between families with wine and without; vermouth classics are sharper."""
    drink = mix(Bed(), armagnac=45, artichoke_amaro=15, pear_liqueur=20, allspice_bitters=0.8)
    balance = read(drink, band, draws=0).balance_after
    assert balance.verdict is Verdict.OUTSIDE
    assert "sharp" not in balance.words


def test_distance_grows_the_further_a_drink_goes(mix, band):
    drinks = [mix(bourbon=50, sweet_vermouth=20, simple_syrup=s) for s in (2, 8, 16, 30)]
    distances = [r.balance_before.distance.mid for r in read_many(drinks, band, draws=0)]
    assert distances == sorted(distances)
    assert distances[0] < 0.0 < distances[-1]


def test_verdicts_hardly_depend_on_the_palate(catalogue, classics, references):
    """Forty palates within the published ranges; each tastes classics and spoils alike.

    For every palate the band is fitted again to what it makes of the classics. At least four of
    five verdicts must stay (measured: 98 %), so verdicts are given by the usual palate alone.
    """
    drinks = [*classics, *(drink for _, drink in spoiled(classics, catalogue.ingredients, 60))]
    amounts = before_coffee(drinks)
    styles = [reference.style for reference in references_of(drinks)]
    palates = draw_parameters(40, seed=9)
    usual = _verdicts(amounts.tasted(), styles, references)
    same = []
    for k in range(40):
        palate = Parameters(**{f.name: getattr(palates, f.name)[k] for f in fields(Parameters)})
        again = _verdicts(amounts.tasted(palate), styles, references)
        same += [one is other for one, other in zip(usual, again, strict=True)]
    assert np.mean(same) >= 0.8


def _verdicts(percept, styles, references):
    columns = [np.asarray(getattr(percept, taste))[:, 0].tolist() for taste in AXES]
    tasted = [Percept(*row) for row in zip(*columns, strict=True)]
    band = fit_band([Reference(r.name, tasted[i], r.style) for i, r in enumerate(references)])
    return [judge(band, p, s).verdict() for p, s in zip(tasted, styles, strict=True)]


def test_a_band_needs_enough_drinks(references):
    with pytest.raises(BadData, match="12 reference drinks"):
        fit_band(references[:5])
    own = [r for r in references if r.style.of_its_own]
    with pytest.raises(BadData, match="led by their spirit"):
        fit_band(own)


def test_judging_arrays_and_single_drinks_agree(references, band):
    columns = [
        np.array([getattr(r.percept, taste) for r in references])
        for taste in ("sweet", "bitter", "sour", "salt", "heat")
    ]
    together = judge(band, Percept(*columns)).distance
    apart = [float(judge(band, r.percept).distance) for r in references]
    assert together == pytest.approx(np.array(apart))


# Facts of the trade: common practice, no source.


def test_sweet_vermouth_offsets_the_bitterness_of_the_bed(mix, band):
    """Common practice, no source."""
    bare = mix(Bed(), rye_whiskey=50, aromatic_bitters=1.6)
    with_vermouth = mix(Bed(), rye_whiskey=50, sweet_vermouth=25, aromatic_bitters=1.6)
    without, offset = read_many([bare, with_vermouth], band, draws=200)
    assert offset.after.bitter.mid < without.after.bitter.mid
    assert offset.balance_after.distance.mid < without.balance_after.distance.mid
    assert without.verdict is Verdict.OUTSIDE
    assert offset.verdict is not Verdict.OUTSIDE


@pytest.mark.parametrize(
    "pours",
    [
        {"bourbon": 50, "almond_liqueur": 25},
        {"bourbon": 50, "banana_liqueur": 22.5},
        {"blended_scotch": 45, "honey_herb_liqueur": 25},
    ],
)
def test_a_slightly_sweet_liqueur_drink_moves_towards_balance(mix, band, pours):
    """Common practice, no source: coffee takes the edge off surplus sugar."""
    reading = read(mix(Bed(), **pours), band, draws=200)
    assert reading.after.sweet.mid < reading.before.sweet.mid
    assert reading.balance_after.distance.mid < reading.balance_before.distance.mid


def test_a_weak_one_gets_rounder_but_also_thinner(mix, band):
    """The bed and its rinsed paper also water a drink down: at 40 % vol that can matter more."""
    reading = read(mix(Bed(), cognac=50, banana_liqueur=22.5), band, draws=200)
    assert reading.after.sweet.mid < reading.before.sweet.mid
    assert reading.after.heat.mid < reading.before.heat.mid


def test_salt_lowers_modelled_bitterness_and_a_pinch_hardly(mix, band):
    """Common practice, no source; the size by Keast, Breslin & Beauchamp 2001."""
    plain = {"rye_whiskey": 50, "sweet_vermouth": 20, "aromatic_bitters": 1.6}
    drinks = [mix(Bed(), **plain), mix(Bed(), **plain, saline=0.08), mix(Bed(), **plain, saline=2)]
    none, pinch, lots = (r.after.bitter.mid for r in read_many(drinks, band, draws=0))
    assert lots < pinch < none
    assert 1.0 - pinch / none < 0.01
