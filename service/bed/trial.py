"""A trial of the bed: what was measured of one drink, and what that says of the three unknowns."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from typing import Final

import numpy as np

from service.bed.bed import Bed
from service.bed.belief import Finding
from service.bed.limits import FloatArray
from service.bed.outcome import Outcome
from service.bed.passage import Poured, outcome
from service.bed.percolation import percolate_central
from service.bed.prior import Z90, Prior
from service.bed.priors import PRIOR_NAMES, BedPriors, values_at
from service.kit import BadData

_MOST_SOLIDS_G_PER_L: Final = 1000.0


@dataclass(frozen=True, slots=True)
class TrialNoise:
    """How far drinks and coffees of one bar differ, and how well they are measured: estimates.

    Spreads are standard deviations of natural logarithms from drink to drink, each uncertain
    itself, because bars differ in steadiness; `coffees_apart` is that between coffees (beans,
    grinder, filter). `slip_share` of the trials hold a slip. The last three are errors of
    measuring.
    """

    retention_spread: Prior = field(
        default=Prior(0.12, 0.06, 0.25, "1", "estimate; 0.08 in a laboratory (Liang et al. 2021)")
    )
    drain_spread: Prior = field(
        default=Prior(0.17, 0.08, 0.35, "1", "estimate: grinder, pour and fines vary")
    )
    extraction_spread: Prior = field(
        default=Prior(0.15, 0.08, 0.30, "1", "estimate: wetting and channels vary")
    )
    coffees_apart: float = 0.12
    slip_share: float = 0.05
    liquid_ml: float = 1.5
    clock_seconds: float = 5.0
    solids_g_per_l: float = 1.0


@dataclass(frozen=True, slots=True)
class BedTrial:
    """One drink that was made: the bed, what was poured, and what was measured of it.

    Parameters
    ----------
    key : str
        What tells this trial from all others.
    bed : Bed
        The coffee and its paper; its dose yields to that of `poured`.
    poured : Poured
        The drink as poured on; one drink, plain numbers.
    received_ml : float
        What ran into the glass; None where not measured [mL]
    drain_seconds : float
        From first pour to last drip; None where not timed [s]
    solids_g_per_l : float
        Dissolved coffee in the glass against a control without coffee; None where not found [g/L]
    coffee : str
        Which coffee it was; trials of one coffee are more alike than those of two.

    Valid for: no more received than poured, times and strengths above 0; BadData outside.
    Source: our estimate, because no standard says how such a trial is written down.

    >>> BedTrial("t1", Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0), received_ml=97.0).key
    't1'
    """

    key: str
    bed: Bed
    poured: Poured
    received_ml: float | None = None
    drain_seconds: float | None = None
    solids_g_per_l: float | None = None
    coffee: str = ""

    def __post_init__(self) -> None:
        if any(isinstance(value, np.ndarray) for value in _numbers(self.poured)):
            raise BadData("a trial is of one drink; give one at a time", field="poured")
        received, volume = self.received_ml, float(self.poured.volume_ml)
        if received is not None and not 0 <= received <= volume:
            raise BadData(
                f"{received:g} mL cannot come out of {volume:g} mL; are the two mixed up?",
                field="received_ml",
            )
        limits = {"drain_seconds": 86_400.0, "solids_g_per_l": _MOST_SOLIDS_G_PER_L}
        for name, most in limits.items():
            value = getattr(self, name)
            if value is not None and not 0 < value <= most:
                raise BadData(
                    f"{value:g} cannot be (more than 0, at most {most:g}); leave it empty if "
                    "nobody measured it",
                    field=name,
                )


def retention_finding(
    values: FloatArray, trial: BedTrial, priors: BedPriors, noise: TrialNoise
) -> Finding | None:
    """What the grounds kept against what each retention would have kept [mL]."""
    held = held_ml(trial, priors)
    if held is None:
        return None
    dose_g, volume_ml = float(trial.poured.dose_g), float(trial.poured.volume_ml)
    expected = np.minimum(values * dose_g, volume_ml)
    paper = priors.paper_water_ml if trial.bed.paper_rinsed else priors.paper_held_ml
    error = float(np.hypot(noise.liquid_ml, (paper.high - paper.low) / (2.0 * Z90)))
    return Finding(trial.key, trial.coffee, held, expected, error, expected, held / dose_g)


def drain_finding(
    values: FloatArray, trial: BedTrial, priors: BedPriors, noise: TrialNoise
) -> Finding | None:
    """The time against that of each factor, on a logarithmic scale."""
    seconds = trial.drain_seconds
    if seconds is None:
        return None
    usual = percolate_central(trial.bed, trial.poured, priors=priors)
    through_ml = float(usual.volume_ml - usual.retained_ml)
    held = held_ml(trial, priors)
    really_ml = through_ml if held is None else float(trial.poured.volume_ml) - held
    if min(through_ml, really_ml) <= 0:
        return None  # all of it stayed in the coffee: nothing drained that could be timed
    by_usual = float(usual.drain_seconds) * really_ml / through_ml / priors.drain_factor.median
    return Finding(
        trial.key,
        trial.coffee,
        float(np.log(seconds)),
        np.log(values * by_usual),
        noise.clock_seconds / seconds,
        1.0,
        seconds / by_usual,
    )


def extraction_finding(
    values: FloatArray, trial: BedTrial, priors: BedPriors, noise: TrialNoise
) -> Finding | None:
    """Dissolved coffee against what each rate would have dissolved in the time it took [g/L]."""
    found, seconds = trial.solids_g_per_l, trial.drain_seconds
    if found is None:
        return None
    given = medians(priors) | {"extraction_factor": values}
    held = held_ml(trial, priors)
    if held is not None:
        given["retention_ml_per_g"] = np.array([max(held / float(trial.poured.dose_g), 0.0)])
    timed = trial.poured if seconds is None else replace(trial.poured, contact_seconds=seconds)
    passed = outcome(trial.bed, timed, given)
    if float(passed.glass_ml.min()) <= 0.0:
        return None
    expected = glass_solids_g_per_l(passed)
    slope = np.gradient(expected, np.log(values))
    time_error = _width(priors.drain_factor) if seconds is None else noise.clock_seconds / seconds
    error = np.hypot(noise.solids_g_per_l, slope * time_error)
    implied = float(np.interp(found, expected, values))
    return Finding(trial.key, trial.coffee, found, expected, error, slope, implied)


def held_ml(trial: BedTrial, priors: BedPriors) -> float | None:
    """What the grounds kept: poured less received, the paper's water and drink put right [mL]."""
    if trial.received_ml is None:
        return None
    kept = float(trial.poured.volume_ml) - trial.received_ml
    if trial.bed.paper_rinsed:
        return kept + priors.paper_water_ml.median
    return kept - priors.paper_held_ml.median


def glass_solids_g_per_l(amounts: Outcome) -> FloatArray:
    """Dissolved coffee in the glass [g/L]."""
    return np.asarray(1000.0 * amounts.solids_g / np.maximum(amounts.glass_ml, 1e-9))


def medians(priors: BedPriors) -> dict[str, FloatArray]:
    """The median of every prior, by name."""
    return dict(values_at(priors, np.zeros((len(PRIOR_NAMES), 1))))


def _width(prior: Prior) -> float:
    """Standard deviation of the natural logarithm, taken as symmetrical."""
    return float(np.log(prior.high / prior.low)) / (2.0 * Z90)


def _numbers(poured: Poured) -> tuple[object, ...]:
    return tuple(getattr(poured, f.name) for f in fields(poured))
