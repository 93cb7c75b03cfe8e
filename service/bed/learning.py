"""What a bar's own trials teach of its bed: how much it keeps, how fast it drains, what it gives.

Each of the three has a prior, what the trials say, a posterior and a count. A trial teaches only
what was measured in it: retention by the volume received, draining by the clock, extraction by
dissolved coffee found against a control. What a taster answers teaches nothing here: a tongue
cannot tell a bed that gives much from a house that likes little, and a caffeine forecast must not
fall because somebody finds the drink mild (`service.taste.learn_house` keeps those answers).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np

from service.bed.bed import Bed
from service.bed.belief import Belief, Finding, Learnt, learn
from service.bed.defaults import DEFAULT, PRACTICE_DRAIN_SECONDS
from service.bed.limits import FloatArray
from service.bed.passage import (
    REFERENCE_ABV,
    REFERENCE_DENSITY_KG_PER_M3,
    REFERENCE_DOSE_G,
    REFERENCE_VISCOSITY_MPA_S,
    Poured,
    outcome,
)
from service.bed.percolation import DEFAULT_DRAWS, DEFAULT_SEED, percolate
from service.bed.prior import Z90, Prior
from service.bed.priors import PRIOR_NAMES, BedPriors, deviates, values_at
from service.bed.trial import (
    BedTrial,
    TrialNoise,
    drain_finding,
    extraction_finding,
    glass_solids_g_per_l,
    medians,
    retention_finding,
)
from service.kit import BadData, Interval

# What dissolved coffee in the glass depends on besides the clock. Measuring it cannot tell these
# apart: their sum is learnt as `extraction_factor`, and the others stand at their medians.
_EXTRACTION_UNKNOWNS: Final = (
    "extraction_factor",
    "fast_share",
    "fast_seconds",
    "slow_seconds",
    "chill_law",
    "ethanol_solids",
    "solids_slowness",
    "solids_share",
    "held_strength",
)
_EVERYDAY: Final = Poured(
    REFERENCE_DOSE_G,
    115.0,
    REFERENCE_DENSITY_KG_PER_M3,
    REFERENCE_VISCOSITY_MPA_S,
    REFERENCE_ABV,
    0.0,
    PRACTICE_DRAIN_SECONDS,
)
_Reader = Callable[[FloatArray, BedTrial], Finding | None]
_RATES: Final = np.exp(np.linspace(-7.0, 7.0, 1401))


@dataclass(frozen=True, slots=True)
class BedLearning:
    """All that was learnt; `priors` goes to `percolate` and `read` in place of the defaults."""

    retention: Learnt
    drain: Learnt
    extraction: Learnt
    priors: BedPriors
    before: BedPriors
    noise: TrialNoise


@dataclass(frozen=True, slots=True)
class Moved:
    """The forecast of one measurement by the defaults and by what was learnt, and why it moved."""

    before: Interval
    after: Interval
    learnt: Learnt


@dataclass(frozen=True, slots=True)
class TrialForecast:
    """What the next trial should measure, errors of measuring included."""

    received_ml: Moved
    drain_seconds: Moved
    solids_g_per_l: Moved


def learn_bed(
    trials: Sequence[BedTrial],
    *,
    coffee: str = "",
    priors: BedPriors = DEFAULT,
    noise: TrialNoise | None = None,
) -> BedLearning:
    """Retention [mL/g], drain and extraction factor [1] of one bar's coffee, from all its trials.

    A function of the trials alone, in any order: undo one, and its influence is gone exactly.

    Parameters
    ----------
    trials : Sequence[BedTrial]
        The bar's trials of all coffees; each key once.
    coffee : str
        The coffee to learn of. Trials of others teach how this bar works, its own teach more; one
        never tried is taken for a coffee like the others.
    priors : BedPriors
        What is believed before them.
    noise : TrialNoise
        How drinks differ and how they are measured.

    Valid for: any number of trials; without one that measured a quantity its prior is left as it
    is. BadData where two trials have the same key.
    Source: Bayes' rule on a grid; coffees of one bar by partial pooling (Gelman et al. 2013,
    Bayesian Data Analysis, ch. 5); errors normal with a share of slips (Tukey 1960, "A survey of
    sampling from contaminated distributions"). Spreads and errors are our estimates.

    >>> trials = [BedTrial(str(out), Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0),
    ...     received_ml=out) for out in (100.0, 101.0, 102.0)]
    >>> learn_bed(trials).retention.words
    'before 1.3 (0.7 to 2.1); measured 1.03 (3 trials); now 1.03 (0.923 to 1.15)'
    """
    noise = noise or TrialNoise()
    ordered = sorted(trials, key=lambda trial: trial.key)
    if len({trial.key for trial in ordered}) < len(ordered):
        raise BadData("two trials have the same key; count each trial once", field="trials")

    def taught(name: str, prior: Prior, spread: Prior, read: _Reader) -> tuple[Learnt, Belief]:
        return learn(name, prior, spread, noise, ordered, read, coffee)

    retention, _ = taught(
        "retention_ml_per_g",
        priors.retention_ml_per_g,
        noise.retention_spread,
        lambda values, trial: retention_finding(values, trial, priors, noise),
    )
    drain, _ = taught(
        "drain_factor",
        priors.drain_factor,
        noise.drain_spread,
        lambda values, trial: drain_finding(values, trial, priors, noise),
    )
    known = replace(
        priors,
        retention_ml_per_g=retention.as_prior(priors.retention_ml_per_g),
        drain_factor=drain.as_prior(priors.drain_factor),
    )
    together = _together(priors)
    extraction, belief = taught(
        "extraction_factor",
        together.rate,
        noise.extraction_spread,
        lambda values, trial: extraction_finding(values, trial, known, noise),
    )
    if extraction.trials:
        known = _carried(known, extraction, belief, together)
    return BedLearning(retention, drain, extraction, known, priors, noise)


def learning_curve(
    trials: Sequence[BedTrial],
    *,
    coffee: str = "",
    priors: BedPriors = DEFAULT,
    noise: TrialNoise | None = None,
) -> tuple[BedLearning, ...]:
    """What was known after no trial, one, two ... in the order given, for a picture.

    Parameters
    ----------
    trials : Sequence[BedTrial]
        The bar's trials as they were made.
    coffee : str
        The coffee to learn of.
    priors : BedPriors
        What is believed before them.
    noise : TrialNoise
        How drinks differ and how they are measured.

    Valid for: as `learn_bed`; one entry more than there are trials.
    Source: `learn_bed`.

    >>> [step.retention.trials for step in learning_curve([])]
    [0]
    """
    return tuple(
        learn_bed(trials[:many], coffee=coffee, priors=priors, noise=noise)
        for many in range(len(trials) + 1)
    )


def forecast_trial(
    bed: Bed,
    poured: Poured,
    learning: BedLearning,
    *,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
) -> TrialForecast:
    """What the next trial should measure [mL, s, g/L], before and after learning.

    Parameters
    ----------
    bed : Bed
        The coffee and its paper.
    poured : Poured
        The drink as it will be poured on; one drink.
    learning : BedLearning
        What the bar's trials taught.
    draws : int
        How many draws [1]
    seed : int
        Same seed, same draws.

    Valid for: as `percolate`.
    Source: `percolate` by both sets of priors, with the errors of measuring on top.

    >>> ahead = forecast_trial(Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0), learn_bed([]))
    >>> ahead.received_ml.before == ahead.received_ml.after
    True
    """
    before, after = (
        _measured(bed, poured, priors, learning.noise, draws, seed)
        for priors in (learning.before, learning.priors)
    )
    because = (learning.retention, learning.drain, learning.extraction)
    return TrialForecast(
        *(Moved(*three) for three in zip(before, after, because, strict=True)),
    )


def _measured(
    bed: Bed, poured: Poured, priors: BedPriors, noise: TrialNoise, draws: int, seed: int
) -> tuple[Interval, Interval, Interval]:
    """Received [mL], time [s] and dissolved coffee [g/L] as a trial would find them."""
    known = {f.name: getattr(poured, f.name) for f in fields(poured)}
    through = percolate(bed, **known, priors=priors, draws=draws, seed=seed)
    chances = np.random.default_rng((seed, draws)).standard_normal((3, draws))
    middle = through.central
    pairs = (
        (through.glass_ml, middle.glass_ml, noise.liquid_ml),
        (through.drain_seconds, middle.drain_seconds, noise.clock_seconds),
        (glass_solids_g_per_l(through), glass_solids_g_per_l(middle), noise.solids_g_per_l),
    )
    received, seconds, solids = (
        Interval.of_draws(np.maximum(drawn + error * chance, 0.0), float(usual))
        for (drawn, usual, error), chance in zip(pairs, chances, strict=True)
    )
    return received, seconds, solids


class _Together(NamedTuple):
    """All that decides how much coffee dissolves, as one rate; and how caffeine follows it.

    The logarithm of caffeine's rate is `offset` + `slope` × that of the rate, give or take
    `spread`: half of what is unknown of dissolved coffee says nothing of its caffeine.
    """

    rate: Prior
    slope: float
    offset: float
    spread: float


@lru_cache(maxsize=16)
def _together(priors: BedPriors) -> _Together:
    columns = deviates(DEFAULT_DRAWS, DEFAULT_SEED)[:, 1:].copy()
    columns[[name not in _EXTRACTION_UNKNOWNS for name in PRIOR_NAMES]] = 0.0
    usual = priors.extraction_factor
    drawn = outcome(Bed(), _EVERYDAY, values_at(priors, columns))
    rates = usual.median * _RATES
    curve = outcome(Bed(), _EVERYDAY, medians(priors) | {"extraction_factor": rates})
    solids = np.interp(drawn.solids_g, curve.solids_g, np.log(rates))
    caffeine = np.interp(drawn.caffeine_mg, curve.caffeine_mg, np.log(rates))
    if not np.ptp(solids):  # all of it known exactly: nothing to tell apart
        return _Together(_at_median(usual), 1.0, 0.0, 0.0)
    slope, offset = (float(part) for part in np.polyfit(solids, caffeine, 1))
    spread = float(np.std(caffeine - slope * solids - offset))
    low, middle, high = (float(rate) for rate in np.exp(np.quantile(solids, (0.1, 0.5, 0.9))))
    source = "all that decides how much coffee dissolves, as one rate (draws of its priors)"
    return _Together(Prior(middle, low, high, usual.unit, source), slope, offset, spread)


def _carried(
    priors: BedPriors, extraction: Learnt, belief: Belief, together: _Together
) -> BedPriors:
    """Priors whose `extraction_factor` carries all that measured coffee taught.

    What was folded into it stands at its median. Caffeine must not be thought better known for
    that: the factor that is its alone (`ethanol_caffeine`) takes back what the trials did not
    tell of it; exact at 25 % vol, for which that factor is stated.
    """
    mean, deviation = belief.log_moments()
    shift = (together.slope - 1.0) * mean + together.offset
    unknown = float(np.hypot(together.spread, (1.0 - together.slope) * deviation))
    alone = priors.ethanol_caffeine
    below = float(np.hypot(Z90 * unknown, np.log(alone.median / alone.low)))
    above = float(np.hypot(Z90 * unknown, np.log(alone.high / alone.median)))
    median = alone.median * float(np.exp(shift))
    caffeine = replace(
        alone,
        median=median,
        low=median * float(np.exp(-below)),
        high=median * float(np.exp(above)),
        source=f"{alone.source}; widened by what measured coffee does not tell of caffeine",
    )
    folded = {
        name: _at_median(getattr(priors, name))
        for name in _EXTRACTION_UNKNOWNS
        if name != "extraction_factor"
    }
    rate = extraction.as_prior(priors.extraction_factor)
    return replace(priors, extraction_factor=rate, ethanol_caffeine=caffeine, **folded)


def _at_median(prior: Prior) -> Prior:
    source = f"folded into the extraction factor, which trials measured; before: {prior.source}"
    return replace(prior, low=prior.median, high=prior.median, source=source)
