"""Learning: simulated bars whose truth is known, exact undoing, and kitchen mistakes."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import (
    DEFAULT,
    Bed,
    BedLearning,
    BedPriors,
    BedTrial,
    Poured,
    Prior,
    TrialNoise,
    forecast_trial,
    interval,
    learn_bed,
    learning_curve,
    percolate,
)
from service.bed.passage import outcome
from service.bed.priors import PRIOR_NAMES, values_at
from service.ingredients.records import Roast
from service.kit import BadData

NOISE = TrialNoise()
MEDIANS = values_at(DEFAULT, np.zeros((len(PRIOR_NAMES), 1)))
EVERYDAY = Poured(15.0, 115.0, 997.0, 7.1, 0.25, 0.0)
RATES = np.exp(np.linspace(-7.0, 7.0, 1401))
BARS = 400
TRIALS = 10


def everyday_trial(key: str, **measured: float) -> BedTrial:
    return BedTrial(key, Bed(), EVERYDAY, **measured)


def known_exactly(name: str) -> Prior:
    prior = getattr(DEFAULT, name)
    return replace(prior, low=prior.median, high=prior.median)


TEN = [
    everyday_trial(f"{i:02d}", received_ml=ml, drain_seconds=s, solids_g_per_l=g)
    for i, (ml, s, g) in enumerate(
        zip(
            (99, 101, 98, 100, 102, 97, 100, 99, 101, 100),
            (110, 125, 98, 117, 130, 104, 121, 109, 113, 118),
            (7.1, 8.0, 6.2, 7.7, 8.9, 6.6, 7.3, 7.0, 7.9, 7.5),
            strict=True,
        )
    )
]


@dataclass
class SimulatedBar:
    """Ten trials, the one after them, and what its glass held of caffeine.

    `truth` is the bar's own retention, drain factor and rate of extraction, the last two in the
    sense of the medians of all else: what a bar with its coffee could learn at best.
    """

    truth: tuple[float, float, float]
    trials: list[BedTrial]
    ahead: BedTrial
    caffeine_mg: float


def simulated_bars(bars: int, seed: int, coffees_apart: float = 0.0) -> Iterator[SimulatedBar]:
    """Bars drawn from all priors, not only the three learnt; one trial in twenty is a slip.

    Their grind is medium-fine, wherever the word may lie (400 to 600 µm); their steadiness is
    drawn, doses, drinks and temperatures vary. With `coffees_apart` each pours two coffees.
    """
    rng = np.random.default_rng(seed)
    for _ in range(bars):
        bar = dict(values_at(DEFAULT, rng.standard_normal((len(PRIOR_NAMES), 1))))
        bed = Bed(particle_um=float(rng.uniform(400, 600)), roast=rng.choice(list(Roast)))
        spreads = [
            float(prior.at(rng.standard_normal(1))[0])
            for prior in (NOISE.retention_spread, NOISE.drain_spread, NOISE.extraction_spread)
        ]
        apart = coffees_apart * rng.standard_normal((2, 3))
        made = []
        for number in range(TRIALS + 1):
            which = int(rng.integers(2)) if coffees_apart else 0
            level = _times(bar, np.exp(apart[which]))
            drink = _times(level, np.exp(np.array(spreads) * rng.standard_normal(3)))
            made.append((_measured(f"{number:02d}", "ab"[which], bed, drink, rng), level))
        (ahead, caffeine_mg), level = made[-1]
        yield SimulatedBar(_truth(bed, level), [t for (t, _), _ in made[:-1]], ahead, caffeine_mg)


def _times(bar, factors):
    names = ("retention_ml_per_g", "drain_factor", "extraction_factor")
    return bar | {name: bar[name] * factor for name, factor in zip(names, factors, strict=True)}


def _measured(key, coffee, bed, drink, rng) -> tuple[BedTrial, float]:
    celsius = float(rng.uniform(-4, 4))
    poured = Poured(
        dose_g=float(rng.integers(12, 20)),
        volume_ml=float(rng.uniform(95, 125)),
        density_kg_per_m3=float(rng.uniform(985, 1010)),
        viscosity_mpa_s=float(7.1 * np.exp(-0.06 * celsius)),
        abv=float(rng.uniform(0.2, 0.3)),
        celsius=celsius,
    )
    made = outcome(bed, poured, drink)
    errors = rng.standard_normal(3) * np.where(rng.random(3) < 0.05, 5.0, 1.0)
    glass = float(made.glass_ml[0] + NOISE.liquid_ml * errors[0])
    seconds = float(made.drain_seconds[0] + NOISE.clock_seconds * errors[1])
    solids = 1000.0 * made.solids_g[0] / max(float(made.glass_ml[0]), 1e-9)
    trial = BedTrial(
        key=key,
        bed=bed,
        poured=poured,
        received_ml=min(max(glass, 0.0), float(poured.volume_ml)),
        drain_seconds=max(seconds, 1.0),
        solids_g_per_l=max(float(solids + NOISE.solids_g_per_l * errors[2]), 0.1),
        coffee=coffee,
    )
    return trial, float(made.caffeine_mg[0])


def _truth(bed, level) -> tuple[float, float, float]:
    retention = {"retention_ml_per_g": level["retention_ml_per_g"]}
    timed = replace(EVERYDAY, contact_seconds=150.0)
    drained = outcome(bed, EVERYDAY, level).drain_seconds
    usual = outcome(bed, EVERYDAY, dict(MEDIANS) | retention).drain_seconds
    curve = outcome(bed, timed, dict(MEDIANS) | retention | {"extraction_factor": RATES}).solids_g
    rate = np.interp(outcome(bed, timed, level).solids_g, curve, RATES)
    return float(level["retention_ml_per_g"][0]), float((drained / usual)[0]), float(rate[0])


def forecasts_hit(bar: SimulatedBar, learning: BedLearning) -> list[bool]:
    """Whether the trial after the ten fell into its three forecasts."""
    ahead = forecast_trial(bar.ahead.bed, bar.ahead.poured, learning, draws=300)
    return [
        ahead.received_ml.after.contains(bar.ahead.received_ml),
        ahead.drain_seconds.after.contains(bar.ahead.drain_seconds),
        ahead.solids_g_per_l.after.contains(bar.ahead.solids_g_per_l),
    ]


@pytest.fixture(scope="module")
def learnt_bars() -> list[tuple[SimulatedBar, BedLearning]]:
    return [
        (bar, learn_bed(bar.trials, coffee=bar.ahead.coffee))
        for bar in simulated_bars(BARS, seed=1987)
    ]


def test_eighty_percent_intervals_of_the_next_trial_hold_75_to_85_percent(learnt_bars):
    hits = np.mean([forecasts_hit(bar, learning) for bar, learning in learnt_bars], axis=0)
    assert np.all((hits >= 0.75) & (hits <= 0.85)), hits


def test_after_ten_trials_the_error_is_less_than_half_of_the_priors(learnt_bars):
    errors, prior_errors = [], []
    for bar, learning in learnt_bars:
        learnt = (learning.retention, learning.drain, learning.extraction)
        truth = np.log(bar.truth)
        errors.append(np.abs(np.log([q.posterior.mid for q in learnt]) - truth))
        prior_errors.append(np.abs(np.log([q.prior.mid for q in learnt]) - truth))
    assert np.all(np.mean(errors, axis=0) <= 0.5 * np.mean(prior_errors, axis=0))


def test_what_was_not_measured_is_not_thought_known(learnt_bars):
    """Caffeine is never in a trial: its interval must hold as often as any other."""
    hits = []
    for bar, learning in learnt_bars:
        drink = {f.name: getattr(bar.ahead.poured, f.name) for f in fields(Poured)}
        poured = percolate(bar.ahead.bed, **drink, priors=learning.priors, draws=300)
        hits.append(interval(poured, "caffeine_mg").contains(bar.caffeine_mg))
    assert 0.75 <= np.mean(hits) <= 0.85


def test_two_coffees_at_one_bar_are_told_apart_and_still_covered():
    bars = list(simulated_bars(100, seed=7, coffees_apart=NOISE.coffees_apart))
    learnt = [learn_bed(bar.trials, coffee=bar.ahead.coffee) for bar in bars]
    hits = [forecasts_hit(bar, learning) for bar, learning in zip(bars, learnt, strict=True)]
    assert np.all(np.abs(np.mean(hits, axis=0) - 0.8) <= 0.12)  # three standard errors
    pooled = [learn_bed([replace(t, coffee="") for t in bar.trials]) for bar in bars]
    errors = [
        [abs(np.log(learning.retention.posterior.mid / bar.truth[0])) for learning in two]
        for bar, *two in zip(bars, learnt, pooled, strict=True)
    ]
    own, together = np.mean(errors, axis=0)
    assert own < 0.85 * together


def test_a_trial_undone_has_left_no_trace():
    for gone in TEN:
        rest = [trial for trial in TEN if trial is not gone]
        assert learn_bed(rest) == learn_bed([t for t in TEN if t.key != gone.key])
        assert learn_bed(rest) != learn_bed(TEN)


def test_the_order_of_trials_is_of_no_account():
    shuffled = random.Random(3).sample(TEN, len(TEN))
    assert learn_bed(shuffled) == learn_bed(TEN)


def test_the_learning_curve_ends_where_all_trials_at_once_do():
    curve = learning_curve(TEN)
    assert [step.retention.trials for step in curve] == list(range(11))
    assert curve[-1] == learn_bed(TEN)
    assert curve[0].priors == DEFAULT
    widths = [step.retention.posterior.width for step in curve]
    assert widths[10] < widths[3] < widths[0]


def test_without_trials_nothing_moves():
    learning = learn_bed([])
    assert learning.priors == DEFAULT
    assert "no trial" in learning.drain.words
    ahead = forecast_trial(Bed(), EVERYDAY, learning)
    for moved in (ahead.received_ml, ahead.drain_seconds, ahead.solids_g_per_l):
        assert moved.before == moved.after


def test_each_measurement_teaches_its_own_quantity_alone():
    timed = learn_bed([replace(trial, received_ml=None, solids_g_per_l=None) for trial in TEN])
    assert (timed.retention.trials, timed.drain.trials, timed.extraction.trials) == (0, 10, 0)
    assert timed.priors.retention_ml_per_g == DEFAULT.retention_ml_per_g
    assert timed.priors.extraction_factor == DEFAULT.extraction_factor
    assert timed.priors.drain_factor != DEFAULT.drain_factor


def test_forecasts_move_towards_what_was_measured_and_say_why():
    learning = learn_bed(TEN)
    ahead = forecast_trial(Bed(), EVERYDAY, learning)
    for moved, measured in (
        (ahead.received_ml, 99.7),
        (ahead.drain_seconds, 114.5),
        (ahead.solids_g_per_l, 7.42),
    ):
        assert moved.after.width < 0.6 * moved.before.width
        assert moved.after.mid == pytest.approx(measured, rel=0.05)
        assert moved.learnt.trials == 10
        assert "10 trials" in moved.learnt.words


def test_a_bar_that_keeps_what_was_published_learns_it(published):
    """Liang et al. 2021, eq. 24: 2.48 mL/g, far above the prior's middle."""
    kept = float(published("coffee_retention")["immersion-1l"]["retained_g_per_g"])
    out = 115.0 - 15.0 * kept + DEFAULT.paper_water_ml.median
    learning = learn_bed([everyday_trial(str(i), received_ml=out) for i in range(6)])
    assert learning.retention.data_mean == pytest.approx(kept)
    assert learning.retention.posterior.contains(kept)
    assert learning.retention.posterior.mid == pytest.approx(kept, rel=0.05)


def test_more_out_than_in_is_a_mistake_in_the_kitchen():
    with pytest.raises(BadData, match="mixed up") as error:
        everyday_trial("x", received_ml=116.0)
    assert error.value.field == "received_ml"


@pytest.mark.parametrize(
    "measured",
    [
        {"received_ml": -1.0},
        {"drain_seconds": 0.0},
        {"drain_seconds": float("nan")},
        {"solids_g_per_l": -3.0},
        {"received_ml": float("nan")},
    ],
)
def test_what_cannot_be_measured_is_turned_away(measured):
    with pytest.raises(BadData):
        everyday_trial("x", **measured)


def test_a_trial_is_of_one_drink_and_counted_once():
    with pytest.raises(BadData, match="one at a time"):
        BedTrial("x", Bed(), replace(EVERYDAY, volume_ml=np.array([100.0, 110.0])))
    with pytest.raises(BadData, match="same key"):
        learn_bed([TEN[0], TEN[0]])


def test_a_slip_is_named_and_moves_little():
    slip = everyday_trial("slip", received_ml=40.0, drain_seconds=900.0)
    calm, shaken = learn_bed(TEN), learn_bed([*TEN, slip])
    assert [doubt.key for doubt in shaken.retention.doubts] == ["slip"]
    assert [doubt.key for doubt in shaken.drain.doubts] == ["slip"]
    assert not calm.retention.doubts
    shift = shaken.retention.posterior.mid - calm.retention.posterior.mid
    kept = (115.0 + 1.5 - 40.0) / 15.0
    shift_of_a_plain_mean = (kept - calm.retention.posterior.mid) / 11
    assert 0 <= shift < 0.1 * shift_of_a_plain_mean


def test_a_dry_paper_is_not_blamed_on_the_grounds():
    dry = BedTrial("d", Bed(paper_rinsed=False), EVERYDAY, received_ml=98.5)
    rinsed = everyday_trial("r", received_ml=101.5)
    assert learn_bed([dry]).retention.data_mean == pytest.approx(
        learn_bed([rinsed]).retention.data_mean
    )


def test_an_uncertain_clock_tells_less_of_extraction():
    timed = learn_bed([replace(t, received_ml=None) for t in TEN])
    untimed = learn_bed([replace(t, received_ml=None, drain_seconds=None) for t in TEN])
    assert untimed.extraction.posterior.width > timed.extraction.posterior.width


def test_what_is_known_exactly_is_not_learnt():
    exact = replace(DEFAULT, retention_ml_per_g=Prior(1.1, 1.1, 1.1, "mL/g", "weighed"))
    learning = learn_bed(TEN, priors=exact)
    assert learning.retention.trials == 0
    assert learning.priors.retention_ml_per_g == exact.retention_ml_per_g
    everything = BedPriors(**{name: known_exactly(name) for name in PRIOR_NAMES})
    assert learn_bed(TEN, priors=everything).priors == everything


def test_what_was_learnt_can_be_learnt_upon():
    """Yesterday's posterior as today's prior: the middle stays, the interval does not widen."""
    first = learn_bed(TEN)
    again = learn_bed([replace(t, key=f"x{t.key}") for t in TEN], priors=first.priors)
    for name in ("retention", "drain", "extraction"):
        before, after = getattr(first, name), getattr(again, name)
        assert after.posterior.mid == pytest.approx(before.posterior.mid, rel=0.05)
        assert after.next_drink.width <= before.next_drink.width * 1.01


@settings(max_examples=25, deadline=None)
@given(
    out=st.lists(st.floats(0, 115), min_size=1, max_size=6),
    seconds=st.floats(1, 86_400),
    solids=st.floats(0.01, 1000),
)
def test_whatever_was_measured_the_intervals_are_ordered_and_usable(out, seconds, solids):
    trials = [
        everyday_trial(str(i), received_ml=ml, drain_seconds=seconds, solids_g_per_l=solids)
        for i, ml in enumerate(out)
    ]
    learning = learn_bed(trials)
    for learnt in (learning.retention, learning.drain, learning.extraction):
        for band in (learnt.posterior, learnt.next_drink, learnt.spread):
            assert 0 < band.low <= band.mid <= band.high < float("inf")
    ahead = forecast_trial(Bed(), EVERYDAY, learning, draws=50)
    assert ahead.received_ml.after.low >= 0


def test_keeping_more_is_learnt_as_keeping_more():
    levels = [
        learn_bed([everyday_trial("a", received_ml=ml)]).retention.posterior.mid
        for ml in (110.0, 105.0, 100.0, 90.0, 80.0)
    ]
    assert np.all(np.diff(levels) > 0)
