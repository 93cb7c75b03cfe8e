"""Trials at the counter: what the next one should measure, and what all of them have taught.

A trial keeps the bed and the liquid as they were, so that later edits of a coffee or a spec do not
reach back. What a trial teaches depends on its own measurements alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from service.bar import Trial, Unit, list_trials
from service.bed import Bed, BedLearning, BedTrial, Poured, TrialForecast, forecast_trial
from service.bed import learn_bed as _learn_bed
from service.counter.known import Known
from service.counter.measure import Measure, drink_of
from service.drink import mixed
from service.ingredients.records import Grind, Roast
from service.kit import ServiceError
from service.liquid import abv, density_kg_per_m3, prepare, viscosity_mpa_s, volume_ml

FORECAST_DRAWS: Final = 1_000
# Beside the conditions of a trial: dissolved coffee, read against a control without coffee [g/L].
SOLIDS: Final = "solids_g_per_l"
_NUMBERS: Final = ("volume_ml", "density_kg_per_m3", "viscosity_mpa_s", "abv", "celsius")


@dataclass(frozen=True, slots=True, eq=False)
class Ahead:
    """What is foretold of the next trial: the drink as poured on, and what will be measured."""

    bed: Bed
    poured: Poured
    forecast: TrialForecast
    learning: BedLearning


def ahead_of(known: Known, asked: Measure, learning: BedLearning) -> Ahead | None:
    """The next trial of a drink; None where it runs through no coffee."""
    if asked.bed is None:
        return None
    poured = poured_on(known, asked)
    forecast = forecast_trial(asked.bed, poured, learning, draws=FORECAST_DRAWS)
    return Ahead(asked.bed, poured, forecast, learning)


def poured_on(known: Known, asked: Measure) -> Poured:
    """A drink as it is poured on its coffee."""
    ready = prepare(mixed(drink_of(known, asked)), asked.preparation)
    liquid, celsius = ready.liquid, float(ready.celsius)
    return Poured(
        dose_g=0.0 if asked.bed is None else asked.bed.dose_g,
        volume_ml=float(volume_ml(liquid)),
        density_kg_per_m3=float(density_kg_per_m3(liquid, celsius)),
        viscosity_mpa_s=float(viscosity_mpa_s(liquid, celsius)),
        abv=float(abv(liquid)),
        celsius=celsius,
    )


def conditions_of(bed: Bed, poured: Poured) -> dict[str, Any]:
    """What a trial keeps of the bed and the liquid."""
    return {
        "roast": str(bed.roast),
        "grind": str(bed.grind),
        "canephora_share": bed.canephora_share,
        "decaf": bed.decaf,
        "paper_rinsed": bed.paper_rinsed,
        **{name: float(getattr(poured, name)) for name in _NUMBERS},
    }


def bed_trial_of(trial: Trial) -> BedTrial | None:
    """A trial as the bed learns from it; None where nothing of it can be learnt from."""
    said: Mapping[str, Any] = trial.conditions
    if any(name not in said for name in _NUMBERS) or trial.dose_g is None:
        return None
    solids = said.get(SOLIDS)
    if all(each is None for each in (trial.liquid_out_ml, trial.drain_seconds, solids)):
        return None
    measured = {
        "dose_g": trial.dose_g,
        "volume_ml": trial.liquid_in_ml,
        "celsius": trial.celsius,
    }
    numbers = {name: float(said[name]) for name in _NUMBERS}
    numbers |= {name: value for name, value in measured.items() if value is not None}
    bed = Bed(
        dose_g=trial.dose_g,
        grind=Grind(said.get("grind", Grind.MEDIUM_FINE)),
        roast=Roast(said.get("roast", Roast.MEDIUM)),
        canephora_share=float(said.get("canephora_share", 0.0)),
        decaf=bool(said.get("decaf", False)),
        paper_rinsed=bool(said.get("paper_rinsed", True)),
    )
    try:
        return BedTrial(
            key=f"{trial.id:09d}",
            bed=bed,
            poured=Poured(**numbers),
            received_ml=trial.liquid_out_ml,
            drain_seconds=trial.drain_seconds,
            solids_g_per_l=None if solids is None else float(solids),
            coffee="" if trial.coffee_id is None else str(trial.coffee_id),
        )
    except ServiceError:
        return None  # written by other hands than ours, and no trial of a bed


def bed_trials(unit: Unit) -> tuple[BedTrial, ...]:
    """All trials that count and that the bed can learn from, in the order they were made."""
    found = (bed_trial_of(trial) for trial in list_trials(unit))
    return tuple(trial for trial in found if trial is not None)


@lru_cache(maxsize=64)
def learnt(trials: Sequence[BedTrial], coffee: str = "") -> BedLearning:
    """Worked out once for the same trials."""
    return _learn_bed(trials, coffee=coffee)
