"""A drink through the bed: balance, common practice inside the intervals, and the right signs."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import (
    DEFAULT,
    Bed,
    Poured,
    Prior,
    bounds,
    caffeine_ceiling_mg,
    colour,
    interval,
    percolate,
    percolate_central,
)
from service.bed.flow import MEASURED_PERMEABILITY_M2
from service.bed.outcome import OUTCOME_NAMES
from service.ingredients.records import Grind, Roast
from service.kit import NotFound, OutOfRange

# Viscosity of a 28 % vol drink with 60 g/L sugar by temperature [mPa·s]: Bingham & Jackson for
# ethanol-water, times the relative viscosity of sucrose.
VISCOSITY_AT = {-5.0: 9.9, 0.0: 7.3, 5.0: 5.6, 10.0: 4.3, 20.0: 2.8}

beds = st.builds(
    Bed,
    dose_g=st.floats(2, 1000),
    grind=st.sampled_from(Grind),
    particle_um=st.none() | st.floats(100, 2000),
    roast=st.sampled_from(Roast),
    canephora_share=st.floats(0, 1),
    decaf=st.booleans(),
    paper_rinsed=st.booleans(),
    fines_share=st.none() | st.floats(0, 0.6),
)
drinks = st.fixed_dictionaries(
    {
        "volume_ml": st.floats(5, 20_000),
        "density_kg_per_m3": st.floats(700, 1500),
        "viscosity_mpa_s": st.floats(0.2, 200),
        "abv": st.floats(0, 1),
        "celsius": st.floats(-30, 100),
    }
)


@settings(max_examples=80, deadline=None)
@given(bed=beds, drink=drinks, seed=st.integers(0, 2**32))
def test_what_goes_in_comes_out_in_glass_bed_or_paper(bed, drink, seed):
    poured = percolate(bed, **drink, draws=40, seed=seed)
    for part in (poured, poured.central):
        liquid_in = part.volume_ml + part.paper_water_ml
        liquid_out = part.glass_ml + part.bed_ml + part.paper_ml
        assert liquid_out == pytest.approx(liquid_in, rel=1e-9, abs=1e-9)
        assert part.retained_ml == pytest.approx(part.bed_ml + part.paper_ml, abs=1e-9)
        solids = part.solids_g + part.solids_bed_g + part.solids_paper_g
        assert solids == pytest.approx(part.solids_total_g, rel=1e-9, abs=1e-9)
        caffeine = part.caffeine_mg + part.caffeine_bed_mg + part.caffeine_paper_mg
        assert caffeine == pytest.approx(part.caffeine_total_mg, rel=1e-9, abs=1e-9)


@settings(max_examples=80, deadline=None)
@given(bed=beds, drink=drinks)
def test_every_amount_is_a_number_not_below_nought_and_every_interval_is_ordered(bed, drink):
    poured = percolate(bed, **drink, draws=40)
    for name in OUTCOME_NAMES:
        values = getattr(poured, name)
        assert np.all(np.isfinite(values)), name
        assert np.all(values >= -1e-9), name
        low, middle, high = bounds(poured, name)
        assert low <= middle <= high, name


@settings(max_examples=60, deadline=None)
@given(bed=beds, drink=drinks)
def test_no_draw_gives_more_than_the_coffee_holds(bed, drink):
    poured = percolate(bed, **drink, draws=40)
    assert np.all(poured.caffeine_mg <= poured.caffeine_total_mg * (1 + 1e-12))
    assert np.all(poured.solids_g <= poured.solids_total_g * (1 + 1e-12))
    assert np.all(poured.extracted_share <= 1)


def test_common_practice_lies_inside_the_intervals(house_drink):
    """15 g, medium-fine: a tenth of the drink kept, drained in 120-180 s. Common practice,
    no source. Hot filter coffee's 2 g/g (Gagné 2019) is inside too, as the upper tail.
    """
    poured = percolate(Bed(dose_g=15, grind=Grind.MEDIUM_FINE), **house_drink)
    retained = interval(poured, "retained_ml")
    assert retained.contains(0.10 * 115)
    assert retained.contains(2.0 * 15)
    assert retained.mid < 2.0 * 15
    drain = interval(poured, "drain_seconds")
    for seconds in (120, 150, 180):
        assert drain.contains(seconds)


def test_the_drain_prior_is_two_and_a_half_minutes_with_a_factor_of_two(house_drink):
    drain = interval(percolate(Bed(), **house_drink, draws=20_000), "drain_seconds")
    assert drain.mid == pytest.approx(150, rel=0.02)
    assert (drain.low, drain.high) == pytest.approx((75, 300), rel=0.05)


def test_caffeine_has_the_interval_of_the_judged_two_site_estimate(house_drink):
    """15 g of arabica: median 45 mg, 80 % from 18 to 95 (judgement from a hand-worked estimate).

    The draws come from sourced time constants; that they meet the judgement within 10 % is what
    the extraction factor's width was set for.
    """
    poured = percolate(Bed(), **house_drink, draws=20_000)
    low, median, high = np.quantile(poured.caffeine_mg, (0.1, 0.5, 0.9))
    assert (low, median, high) == pytest.approx((18, 45, 95), rel=0.10)


def test_dissolved_solids_are_a_few_percent_of_the_dose(house_drink):
    """Judged 3-14 % of the dose; held here to 2-4 % below and 11-16 % above."""
    poured = percolate(Bed(), **house_drink, draws=20_000)
    low, high = np.quantile(poured.solids_g / 15, (0.1, 0.9))
    assert 0.02 < low < 0.04
    assert 0.11 < high < 0.16


def test_everything_out_is_the_ceiling_for_cautions(house_drink):
    """All of 15 g: 180 mg at 1.2 % (arabica), 330 mg at 2.2 % (canephora)."""
    assert caffeine_ceiling_mg(Bed(dose_g=15)).mid == pytest.approx(180)
    assert caffeine_ceiling_mg(Bed(dose_g=15, canephora_share=1.0)).mid == pytest.approx(330)
    boiled = house_drink | {"celsius": 95.0, "viscosity_mpa_s": 0.3, "abv": 0.0}
    forever = percolate(Bed(), **boiled, contact_seconds=86_400.0)
    assert float(forever.central.caffeine_total_mg) == pytest.approx(180)
    assert interval(forever, "caffeine_mg").high < caffeine_ceiling_mg(Bed()).high


def test_decaf_keeps_below_the_legal_share(published, house_drink):
    """0.1 % of dry mass at most: 15 mg from 15 g if all came out."""
    limit = float(published("coffee_extraction")["caffeine-decaf-limit"]["value"]) / 100
    bed = Bed(dose_g=15, decaf=True)
    assert caffeine_ceiling_mg(bed).high <= 1000 * 15 * limit
    usual = percolate(Bed(dose_g=15), **house_drink)
    decaf = percolate(bed, **house_drink)
    assert np.median(decaf.caffeine_mg) < np.median(usual.caffeine_mg) / 10


def test_canephora_gives_more_caffeine_and_more_bitterness(house_drink):
    arabica, blend, canephora = (
        percolate(Bed(canephora_share=share), **house_drink) for share in (0.0, 0.5, 1.0)
    )
    for name in ("caffeine_mg", "qhe_mg"):
        middles = [float(getattr(p.central, name)) for p in (arabica, blend, canephora)]
        assert middles == sorted(middles)
        assert middles[0] < middles[2]


def test_finer_is_slower_and_gives_more_in_every_draw(house_drink):
    """Kozeny-Carman (permeability with the diameter) and diffusion (time with the diameter)."""
    grinds = [percolate(Bed(grind=grind), **house_drink) for grind in Grind]
    for finer, coarser in itertools.pairwise(grinds):
        assert np.all(finer.drain_seconds > coarser.drain_seconds)
        for name in ("caffeine_mg", "solids_g", "qhe_mg"):
            assert np.all(getattr(finer, name) > getattr(coarser, name))


def test_colder_is_slower(house_drink):
    times = [
        percolate(Bed(), **house_drink | {"celsius": t, "viscosity_mpa_s": mu}).drain_seconds
        for t, mu in sorted(VISCOSITY_AT.items())
    ]
    for colder, warmer in itertools.pairwise(times):
        assert np.all(colder > warmer)
    assert times[0] / times[3] == pytest.approx(9.9 / 4.3)  # -5 to +10 °C halves it: Darcy


def test_colder_gives_less_in_the_same_time(house_drink):
    given = [
        percolate(
            Bed(), **house_drink | {"celsius": t, "viscosity_mpa_s": mu}, contact_seconds=150.0
        ).caffeine_mg
        for t, mu in sorted(VISCOSITY_AT.items())
    ]
    for colder, warmer in itertools.pairwise(given):
        assert np.all(colder < warmer)


def test_longer_contact_gives_more(house_drink):
    times = np.array([0.0, 30.0, 150.0, 600.0, 3600.0, 86_400.0])
    many = percolate(
        Bed(), **house_drink | {"volume_ml": np.full(6, 115.0)}, contact_seconds=times, draws=100
    )
    assert np.all(many.solids_g[0] == 0)
    assert np.all(np.diff(many.solids_g, axis=0) >= 0)
    assert np.all(np.diff(many.solids_g[:4], axis=0) > 0)


def test_more_drink_takes_longer_and_more_coffee_keeps_more(house_drink):
    small, large = (
        percolate(Bed(), **house_drink | {"volume_ml": volume}) for volume in (90.0, 140.0)
    )
    assert np.all(large.drain_seconds > small.drain_seconds)
    light, heavy = (percolate(Bed(dose_g=dose), **house_drink) for dose in (10.0, 20.0))
    assert np.all(heavy.retained_ml > light.retained_ml)


def test_drain_time_follows_viscosity_over_density(house_drink):
    """Darcy under its own weight: ten times as thick, ten times as long."""
    thin, thick = (percolate(Bed(), **house_drink | {"viscosity_mpa_s": mu}) for mu in (1.0, 10.0))
    assert thick.drain_seconds / thin.drain_seconds == pytest.approx(10.0)


def test_a_rinsed_paper_adds_water_and_a_dry_one_takes_drink(house_drink):
    rinsed = percolate(Bed(paper_rinsed=True), **house_drink)
    dry = percolate(Bed(paper_rinsed=False), **house_drink)
    assert interval(rinsed, "paper_water_ml").low == pytest.approx(1.0, abs=0.05)
    assert interval(rinsed, "paper_water_ml").high == pytest.approx(2.0, abs=0.05)
    assert np.all(rinsed.paper_ml == 0)
    assert np.all(dry.paper_water_ml == 0)
    assert np.all(dry.paper_ml > 0)
    assert np.all(dry.glass_ml < rinsed.glass_ml)


def test_alcohol_widens_what_is_not_known(house_drink):
    """Nobody measured it: the effect is nil in water and uncertain both ways at 28 %."""
    certain = replace(
        DEFAULT,
        **{
            name: Prior(p.median, p.median, p.median, p.unit, p.source, p.scale)
            for name in DEFAULT.__dataclass_fields__
            if name != "ethanol_caffeine" and (p := getattr(DEFAULT, name))
        },
    )
    water, strong = (
        percolate(Bed(), **house_drink | {"abv": abv}, priors=certain, contact_seconds=150.0)
        for abv in (0.0, 0.28)
    )
    assert water.caffeine_mg.std() < 1e-9
    assert strong.caffeine_mg.min() < float(water.central.caffeine_mg) < strong.caffeine_mg.max()


def test_draws_that_drain_by_the_tip_demand_what_was_never_measured(house_drink):
    """The conflict is carried: wall-like draws need measured permeabilities, tip-like do not."""
    only_drainage = {
        name: replace(p, low=p.median, high=p.median)
        for name in ("drain_factor",)
        if (p := getattr(DEFAULT, name))
    }
    by_tip = replace(DEFAULT, wall_share=Prior(0.02, 0.01, 0.03, "1", "x", "odds"), **only_drainage)
    by_wall = replace(
        DEFAULT, wall_share=Prior(0.98, 0.97, 0.99, "1", "x", "odds"), **only_drainage
    )
    tip, wall = (
        percolate(Bed(), **house_drink, priors=priors).permeability_m2
        for priors in (by_tip, by_wall)
    )
    assert np.all(tip > MEASURED_PERMEABILITY_M2[1])
    assert np.all((wall > MEASURED_PERMEABILITY_M2[0]) & (wall < MEASURED_PERMEABILITY_M2[1]))
    # by hand for 2-3 min: 0.9-1.4e-10 by the wall, 2.9-4.4e-10 by the tip
    assert np.median(wall) == pytest.approx(1.1e-10, rel=0.05)
    assert np.median(tip) == pytest.approx(3.5e-10, rel=0.08)


def test_the_same_seed_gives_the_same_draws_whatever_the_drink(house_drink):
    one = percolate(Bed(), **house_drink, seed=7)
    again = percolate(Bed(), **house_drink, seed=7)
    other_drink = percolate(Bed(), **house_drink | {"volume_ml": 90.0, "abv": 0.2}, seed=7)
    other_seed = percolate(Bed(), **house_drink, seed=8)
    for name in OUTCOME_NAMES:
        assert np.array_equal(getattr(one, name), getattr(again, name))
    assert np.array_equal(one.retained_ml, other_drink.retained_ml)
    assert not np.array_equal(one.retained_ml, other_seed.retained_ml)


def test_many_drinks_in_one_pass_equal_one_drink_at_a_time(house_drink):
    volumes, strengths = np.array([80.0, 115.0, 150.0]), np.array([0.1, 0.28, 0.4])
    doses = np.array([10.0, 15.0, 20.0])
    many = percolate(
        Bed(), **house_drink | {"volume_ml": volumes, "abv": strengths}, dose_g=doses, draws=50
    )
    assert many.caffeine_mg.shape == (3, 50)
    assert many.central.caffeine_mg.shape == (3,)
    for place in range(3):
        single = percolate(
            Bed(dose_g=float(doses[place])),
            **house_drink | {"volume_ml": float(volumes[place]), "abv": float(strengths[place])},
            draws=50,
        )
        for name in OUTCOME_NAMES:
            assert getattr(many, name)[place] == pytest.approx(getattr(single, name))


def test_central_values_are_those_of_all_medians(house_drink):
    certain = replace(
        DEFAULT,
        **{
            name: replace(getattr(DEFAULT, name), low=m, high=m)
            for name in DEFAULT.__dataclass_fields__
            if (m := getattr(DEFAULT, name).median)
        },
    )
    free, fixed = (percolate(Bed(), **house_drink, priors=p) for p in (DEFAULT, certain))
    drink = Poured(15.0, **house_drink)
    for name in OUTCOME_NAMES:
        middle = float(getattr(free.central, name))
        assert getattr(fixed, name) == pytest.approx(middle)
        assert float(getattr(percolate_central(Bed(), drink), name)) == pytest.approx(middle)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"volume_ml": 0.0}, "volume_ml"),
        ({"volume_ml": 1e6}, "volume_ml"),
        ({"viscosity_mpa_s": 0.0}, "viscosity_mpa_s"),
        ({"density_kg_per_m3": 100.0}, "density_kg_per_m3"),
        ({"abv": 28.0}, "abv"),
        ({"celsius": 150.0}, "celsius"),
        ({"celsius": float("nan")}, "celsius"),
        ({"volume_ml": np.array([115.0, float("nan")])}, "volume_ml"),
    ],
)
def test_a_drink_nobody_could_pour_is_refused(house_drink, changed, field):
    with pytest.raises(OutOfRange) as error:
        percolate(Bed(), **house_drink | changed)
    assert error.value.field == field


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"dose_g": 0.0}, "dose_g"),
        ({"dose_g": 5000.0}, "dose_g"),
        ({"dose_g": float("nan")}, "dose_g"),
        ({"particle_um": 0.0}, "particle_um"),
        ({"particle_um": 5000.0}, "particle_um"),
        ({"particle_um": float("nan")}, "particle_um"),
        ({"canephora_share": 1.5}, "canephora_share"),
        ({"fines_share": -0.1}, "fines_share"),
    ],
)
def test_a_bed_nobody_could_fill_is_refused(changed, field):
    with pytest.raises(OutOfRange) as error:
        Bed(**changed)
    assert error.value.field == field


def test_a_thirsty_bed_keeps_it_all_and_says_so_in_numbers():
    poured = percolate(
        Bed(dose_g=200, paper_rinsed=False),
        volume_ml=50.0,
        density_kg_per_m3=1000.0,
        viscosity_mpa_s=5.0,
        abv=0.3,
        celsius=0.0,
    )
    assert float(poured.central.glass_ml) == 0.0
    assert float(poured.central.caffeine_mg) == 0.0


def test_an_unknown_amount_is_named(house_drink):
    with pytest.raises(NotFound, match="caffeine_mg"):
        bounds(percolate(Bed(), **house_drink, draws=10), "coffeine")


def test_a_darker_roast_is_not_paler(house_drink):
    order = ["barely tinted", "pale gold", "amber", "chestnut", "dark brown", "near black"]
    seen = [order.index(colour(percolate(Bed(roast=r), **house_drink))) for r in Roast]
    assert seen == sorted(seen)


def fastest_ms(action, tries: int = 40) -> float:
    action()
    times = []
    for _ in range(tries):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return 1e3 * min(times)


def test_two_thousand_draws_of_a_drink_take_under_three_milliseconds(house_drink):
    assert fastest_ms(lambda: percolate(Bed(), **house_drink, draws=2000)) < 3.0


def test_thirty_drinks_with_two_hundred_draws_take_under_three_milliseconds(house_drink):
    many = house_drink | {"volume_ml": np.linspace(80, 150, 30), "abv": np.linspace(0.1, 0.4, 30)}
    assert fastest_ms(lambda: percolate(Bed(), **many, draws=200)) < 3.0


def test_the_middle_of_thirty_thousand_drinks_takes_a_blink(house_drink):
    """What a search over amounts asks for: about as many drinks as a slice of a whole shelf."""
    many = Poured(15.0, **house_drink | {"volume_ml": np.linspace(60, 200, 30_000)})
    assert fastest_ms(lambda: percolate_central(Bed(), many), tries=10) < 30.0
