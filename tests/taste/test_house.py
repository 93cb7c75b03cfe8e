"""The house's taste: simulated houses of known taste, an independent integral, exact undoing."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate
from scipy.stats import norm

from service.kit import BadData
from service.taste import (
    AXES,
    Band,
    BandShift,
    JarScale,
    Percept,
    Reference,
    Style,
    Tasting,
    fit_band,
    judge,
    leanings,
    learn_house,
    perceive,
    shifted_band,
)
from service.taste.parameters import USUAL

SCALE = JarScale()
HOUSES = 400
ANSWERS = 24
SWEET, BITTER = AXES.index("sweet"), AXES.index("bitter")


def classic(sugar: float, qhe: float = 20.0) -> Percept:
    return perceive(sugar_g_per_l=sugar, qhe_mg_per_l=qhe, acid_g_per_l=0.9, abv=0.23)


@pytest.fixture(scope="module")
def band() -> Band:
    """Twenty-five drinks around 45 g/L and 20 mg/L, and three that are a style of their own."""
    rng = np.random.default_rng(5)
    core = [
        Reference(str(i), classic(float(sugar), float(qhe)), Style.WINE)
        for i, (sugar, qhe) in enumerate(
            zip(rng.normal(45, 12, 25).clip(15), rng.normal(20, 6, 25).clip(4), strict=True)
        )
    ]
    bitter = [
        Reference(f"b{i}", classic(85.0, qhe), Style.EQUAL_PARTS_BITTER)
        for i, qhe in enumerate((55.0, 60.0, 65.0))
    ]
    return fit_band([*core, *bitter])


def answered(felt: float, rng: np.random.Generator) -> int:
    """An answer by its definition: cut points, noise, and now and then a stray thumb."""
    if rng.random() < SCALE.stray:
        return int(rng.integers(-2, 3))
    noisy = float(felt + SCALE.noise * rng.standard_normal())
    size = (abs(noisy) > SCALE.right_within) + (abs(noisy) > SCALE.much_from)
    return int(np.sign(noisy)) * size


def simulated(band: Band, rng: np.random.Generator) -> tuple[list[Tasting], dict[str, float]]:
    """A house, its three tasters and 24 tastings, half of them of drinks without coffee."""
    sweet, bitter = SCALE.house_apart * rng.standard_normal(2)
    coffee = SCALE.coffee_apart * rng.standard_normal()
    tasters = SCALE.tasters_apart * rng.standard_normal((3, 2))
    tastings = []
    for number in range(ANSWERS):
        share = float(rng.uniform(0.3, 0.7)) if number % 2 else 0.0
        percept = classic(float(rng.uniform(20, 70)), float(rng.uniform(10, 40)))
        lean = leanings(band, percept)
        pull = USUAL.bitter_exponent * share * percept.bitter / band.spread[BITTER]
        who = int(rng.integers(3))
        tastings.append(
            Tasting(
                f"{number:02d}",
                "abc"[who],
                percept,
                coffee_qhe_share=share,
                sweetness=answered(lean[SWEET] - sweet - tasters[who, 0], rng),
                bitterness=answered(lean[BITTER] + pull * coffee - bitter - tasters[who, 1], rng),
            )
        )
    truth = {
        "sweet": sweet * float(band.spread[SWEET]),
        "bitter": bitter * float(band.spread[BITTER]),
        "coffee_bitterness": float(np.exp(coffee)),
    }
    return tastings, truth


@pytest.fixture(scope="module")
def houses(band):
    rng = np.random.default_rng(1987)
    found = []
    for _ in range(HOUSES):
        tastings, truth = simulated(band, rng)
        found.append((learn_house(tastings, band), truth))
    return found


@pytest.mark.parametrize("name", ["sweet", "bitter", "coffee_bitterness"])
def test_eighty_percent_intervals_hold_75_to_85_percent_of_the_truths(houses, name):
    hits = [getattr(house, name).posterior.contains(truth[name]) for house, truth in houses]
    assert 0.75 <= np.mean(hits) <= 0.85


def test_twenty_four_answers_halve_what_is_unknown_of_sweetness(houses):
    errors = [abs(house.sweet.posterior.mid - truth["sweet"]) for house, truth in houses]
    before = [abs(truth["sweet"]) for _, truth in houses]
    assert np.mean(errors) <= 0.5 * np.mean(before)


def test_bitterness_of_house_and_coffee_are_learnt_though_not_halved(houses):
    for name, nothing in (("bitter", 0.0), ("coffee_bitterness", 1.0)):
        errors = [abs(getattr(house, name).posterior.mid - t[name]) for house, t in houses]
        before = [abs(t[name] - nothing) for _, t in houses]
        assert np.mean(errors) <= 0.8 * np.mean(before)


def test_two_answers_agree_with_an_independent_integral(band):
    """scipy.stats on a fine grid over house and taster, from the definition of the scale."""
    percept = classic(60.0)
    lean = float(leanings(band, percept)[SWEET])
    tastings = [Tasting(str(i), "ab", percept, sweetness=said) for i, said in enumerate((1, 2))]

    house, taster = np.linspace(-5, 5, 1001)[:, None], np.linspace(-3, 3, 601)
    felt = lean - house - taster
    cuts = [-np.inf, -2.2, -0.8, 0.8, 2.2, np.inf]
    weight = norm.pdf(house, scale=0.8) * norm.pdf(taster, scale=0.5)
    for said in (1, 2):
        chance = norm.cdf(cuts[said + 3] - felt) - norm.cdf(cuts[said + 2] - felt)
        weight = weight * (0.97 * chance + 0.03 / 5)
    density = integrate.simpson(weight, x=taster, axis=1)
    below = integrate.cumulative_trapezoid(density, x=house[:, 0], initial=0.0)
    expected = np.interp([0.1, 0.5, 0.9], below / below[-1], house[:, 0])
    found = learn_house(tastings, band).sweet.posterior
    three = np.array([found.low, found.mid, found.high]) / float(band.spread[SWEET])
    assert three == pytest.approx(expected, abs=0.01)


def test_a_house_that_calls_everything_too_sweet_wants_less(band):
    house = learn_house(
        [Tasting(str(i), "abc"[i % 3], classic(45.0), sweetness=1) for i in range(12)], band
    )
    assert house.sweet.posterior.high < 0
    assert house.band_shift.sweet < 0
    assert house.bitter.posterior.mid == pytest.approx(0.0, abs=1e-9)
    assert "12 answers of 3 tasters" in house.sweet.words
    sweet_drink = classic(58.0)
    moved = shifted_band(band, house.band_shift)
    assert judge(moved, sweet_drink).distance > judge(band, sweet_drink).distance


def test_a_shift_is_drawn_towards_nothing_and_less_so_by_more_answers(band):
    said = [Tasting(f"{i:02d}", "abc"[i % 3], classic(45.0), sweetness=1) for i in range(30)]
    few, many = learn_house(said[:3], band).sweet, learn_house(said, band).sweet
    assert abs(few.posterior.mid) < abs(many.posterior.mid) < abs(many.answers_mean)
    assert few.posterior.width > many.posterior.width


def test_twelve_answers_of_one_taster_count_less_than_those_of_twelve(band):
    one = [Tasting(f"{i:02d}", "a", classic(45.0), sweetness=1) for i in range(12)]
    many = [replace(tasting, taster=str(i)) for i, tasting in enumerate(one)]
    alone, together = learn_house(one, band).sweet, learn_house(many, band).sweet
    assert alone.posterior.width > together.posterior.width
    assert abs(alone.posterior.mid) < abs(together.posterior.mid)


def test_bitterness_that_comes_with_the_coffee_is_put_down_to_the_coffee(band):
    plain = [Tasting(f"p{i:02d}", "abc"[i % 3], classic(45.0), bitterness=0) for i in range(12)]
    coffee = [
        Tasting(f"c{i:02d}", "abc"[i % 3], classic(45.0), coffee_qhe_share=0.6, bitterness=1)
        for i in range(12)
    ]
    house = learn_house([*plain, *coffee], band)
    assert house.coffee_bitterness.posterior.low > 1.0
    all_of_it = learn_house([replace(t, coffee_qhe_share=0.0) for t in [*plain, *coffee]], band)
    assert abs(house.bitter.posterior.mid) < abs(all_of_it.bitter.posterior.mid)
    assert all_of_it.coffee_bitterness.posterior.mid == pytest.approx(1.0)


def test_a_drink_of_an_own_style_is_measured_by_its_own_kind(band):
    """An equal-parts bitter drink found just right does not make the house want all so bitter."""
    drink = classic(85.0, 60.0)
    said = [Tasting(str(i), "abc"[i % 3], drink, bitterness=0) for i in range(12)]
    by_classics = learn_house(said, band).bitter.posterior.mid
    by_its_kind = learn_house(
        [replace(t, style=Style.EQUAL_PARTS_BITTER) for t in said], band
    ).bitter.posterior.mid
    assert abs(by_its_kind) < 0.2 * abs(by_classics)


def test_coffee_strength_is_learnt_as_a_factor_on_the_usual(band):
    said = [
        Tasting(str(i), "abc"[i % 3], classic(45.0), coffee_g_per_l=10.0, coffee_strength=-1)
        for i in range(10)
    ]
    wanted = learn_house(said, band, usual_coffee_g_per_l=10.0).coffee_strength
    assert wanted.posterior.low > 1.0
    assert learn_house(said, band).coffee_strength.answers == 0


def test_undoing_a_tasting_leaves_no_trace_and_order_is_of_no_account(band):
    tastings, _ = simulated(band, np.random.default_rng(3))
    whole = learn_house(tastings, band)
    assert learn_house(random.Random(1).sample(tastings, len(tastings)), band) == whole
    less = learn_house(tastings[:-1], band)
    assert less != whole
    assert learn_house([t for t in tastings if t.key != tastings[-1].key], band) == less


def test_without_answers_nothing_moves(band):
    house = learn_house([], band)
    assert house.band_shift == BandShift()
    assert house.sweet.answers_mean is None
    assert house.sweet.prior == house.sweet.posterior
    assert house.coffee_bitterness.posterior.mid == 1.0
    assert "no answers" in house.bitter.words


def test_a_tasting_counts_once(band):
    tasting = Tasting("1", "ab", classic(45.0), sweetness=1)
    with pytest.raises(BadData, match="same key"):
        learn_house([tasting, tasting], band)


@settings(max_examples=50, deadline=None)
@given(
    sweet=st.floats(-3, 3),
    bitter=st.floats(-3, 3),
    heat=st.floats(-10, 10),
    sugar=st.floats(10, 120),
    qhe=st.floats(0, 80),
)
def test_a_shifted_band_judges_a_shifted_drink_as_the_band_the_drink(
    band, sweet, bitter, heat, sugar, qhe
):
    drink = classic(sugar, qhe)
    moved = replace(
        drink, sweet=drink.sweet + sweet, bitter=drink.bitter + bitter, heat=drink.heat + heat
    )
    shifted = shifted_band(band, BandShift(sweet, bitter, heat))
    for style in (None, Style.EQUAL_PARTS_BITTER):
        before, after = judge(band, drink, style), judge(shifted, moved, style)
        assert after.distance == pytest.approx(before.distance, abs=1e-6)
        assert bool(after.excused) == bool(before.excused)


def test_the_band_itself_is_left_as_it_was(band):
    middle = band.clusters[0].middle.copy()
    shifted_band(band, BandShift(1.0, -1.0, 3.0))
    np.testing.assert_array_equal(band.clusters[0].middle, middle)
