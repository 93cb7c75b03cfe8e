"""Which input matters most: for what is unknown, and for what a person can turn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from service.bed.bed import Bed
from service.bed.defaults import DEFAULT
from service.bed.grind import GRIND_UM, nearest_grind
from service.bed.limits import LIMITS, check
from service.bed.outcome import OUTCOME_NAMES
from service.bed.passage import Poured, outcome
from service.bed.percolation import DEFAULT_DRAWS, DEFAULT_SEED
from service.bed.prior import Z90
from service.bed.priors import PRIOR_NAMES, BedPriors, deviates, values_at
from service.ingredients.records import Grind
from service.kit import NotFound

LABELS: Final[dict[str, str]] = {
    "retention_ml_per_g": "what a gram of coffee keeps",
    "drain_factor": "how fast this filter drains",
    "extraction_factor": "how readily this coffee extracts",
    "wall_share": "how much of the paper wall drains",
    "geometry_power": "how a larger bed drains",
    "grind_power": "how strongly grind changes the flow",
    "fast_share": "how many cells the grinder broke",
    "fast_seconds": "how fast broken cells wash out",
    "slow_seconds": "how fast whole cells give",
    "size_power": "how strongly grind changes extraction",
    "chill_law": "how much cold slows extraction",
    "ethanol_caffeine": "what alcohol does to caffeine",
    "ethanol_solids": "what alcohol does to extraction",
    "solids_slowness": "how much slower other solids are",
    "solids_share": "how much of the coffee can dissolve",
    "caffeine_arabica": "caffeine in the arabica",
    "caffeine_canephora": "caffeine in the canephora",
    "caffeine_decaf": "caffeine left in the decaf",
    "held_strength": "how strong the kept liquid is",
    "paper_water_ml": "water from the rinsed paper",
    "paper_held_ml": "drink in the dry paper",
    "gamma_factor": "how bitter this coffee is",
    "canephora_bitterness": "how bitter the canephora is",
    "cold_bitterness": "how much milder cold extraction is",
    "dose_g": "dose, a fifth less or more",
    "grind": "grind, one word finer or coarser",
    "volume_ml": "drink, a tenth less or more",
    "viscosity_mpa_s": "thickness, a fifth thinner or thicker (4 °C)",
}
_GRINDS: Final = tuple(Grind)


@dataclass(frozen=True, slots=True)
class Swing:
    """How far one amount moves when one input goes from its low to its high.

    `correlation` is Spearman's rank correlation over the draws; None for what a person turns.
    """

    name: str
    label: str
    at_low: float
    middle: float
    at_high: float
    correlation: float | None = None

    @property
    def width(self) -> float:
        """Distance between the two ends [the amount's unit]."""
        return abs(self.at_high - self.at_low)


def sensitivity(
    bed: Bed,
    poured: Poured,
    amount: str,
    *,
    priors: BedPriors = DEFAULT,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
) -> tuple[Swing, ...]:
    """How much each unknown moves one amount, widest first [the amount's unit].

    Parameters
    ----------
    bed : Bed
        The coffee.
    poured : Poured
        One drink.
    amount : str
        Such as "glass_ml", "drain_seconds", "caffeine_mg" or "qhe_mg".
    priors : BedPriors
        What is known of this bar's beds.
    draws : int
        Draws for the rank correlation [1]
    seed : int
        Seed of the draws.

    Valid for: the amounts of `Outcome`; NotFound for others. Inputs that do not move it are left
    out.
    Source: one at a time from the 10th to the 90th percentile, the others at their medians;
    Spearman 1904, Am. J. Psychol. 15, 72, over the draws.

    >>> sensitivity(Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0), "glass_ml")[0].label
    'what a gram of coffee keeps'
    """
    _check_amount(amount)
    one_at_a_time = Z90 * np.eye(len(PRIOR_NAMES))
    ends = np.hstack([np.zeros((len(PRIOR_NAMES), 1)), -one_at_a_time, one_at_a_time])
    moved = getattr(outcome(bed, poured, values_at(priors, ends)), amount)
    columns = deviates(draws, seed)
    drawn = _ranks(getattr(outcome(bed, poured, values_at(priors, columns)), amount)[1:])
    count = len(PRIOR_NAMES)
    swings = (
        Swing(
            name,
            LABELS[name],
            float(moved[1 + place]),
            float(moved[0]),
            float(moved[1 + count + place]),
            _correlation(_ranks(columns[place, 1:]), drawn),
        )
        for place, name in enumerate(PRIOR_NAMES)
    )
    return _sorted(swings)


def handles(
    bed: Bed, poured: Poured, amount: str, *, priors: BedPriors = DEFAULT
) -> tuple[Swing, ...]:
    """How much each thing a person can turn moves one amount, widest first [the amount's unit].

    Parameters
    ----------
    bed : Bed
        The coffee.
    poured : Poured
        One drink.
    amount : str
        Such as "glass_ml", "drain_seconds", "caffeine_mg" or "qhe_mg".
    priors : BedPriors
        What is known of this bar's beds; all at their medians.

    Valid for: the amounts of `Outcome`; NotFound for others. Steps stop at the limits of the model.
    Source: one at a time, steps as in `LABELS` (our estimate, because they are what a bar would
    try: a fifth of the dose, one word of grind, a tenth of the drink, a few degrees).

    >>> handles(Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0), "drain_seconds")[0].name
    'grind'
    """
    _check_amount(amount)
    medians = values_at(priors, np.zeros((len(PRIOR_NAMES), 1)))

    def at(coffee: Bed, drink: Poured) -> float:
        return float(getattr(outcome(coffee, drink, medians), amount)[0])

    middle = at(bed, poured)
    word = _GRINDS.index(nearest_grind(bed.micrometres))
    ends = [(word, max(word - 1, 0)), (word, min(word + 1, len(_GRINDS) - 1))]
    finer, coarser = (
        replace(bed, particle_um=_stepped(bed, _GRINDS[start], _GRINDS[end])) for start, end in ends
    )
    swings = [Swing("grind", LABELS["grind"], at(finer, poured), middle, at(coarser, poured))]
    for name, step in (("dose_g", 0.2), ("volume_ml", 0.1), ("viscosity_mpa_s", 0.2)):
        value = float(getattr(poured, name))
        low, high = (
            replace(poured, **{name: min(max(changed, LIMITS[name].low), LIMITS[name].high)})
            for changed in (value * (1 - step), value * (1 + step))
        )
        swings.append(Swing(name, LABELS[name], at(bed, low), middle, at(bed, high)))
    return _sorted(swings)


def _stepped(bed: Bed, start: Grind, end: Grind) -> float:
    size = bed.micrometres * GRIND_UM[end].mid / GRIND_UM[start].mid
    limit = LIMITS["particle_um"]
    size = min(max(size, limit.low), limit.high)
    check("particle_um", size)
    return size


def _check_amount(amount: str) -> None:
    if amount not in OUTCOME_NAMES:
        raise NotFound(
            f"no amount is called {amount!r}; use {', '.join(OUTCOME_NAMES)}", field="amount"
        )


def _sorted(swings: Iterator[Swing] | list[Swing]) -> tuple[Swing, ...]:
    moving = [swing for swing in swings if swing.width > 1e-12 * max(abs(swing.middle), 1e-12)]
    return tuple(sorted(moving, key=lambda swing: (-swing.width, swing.name)))


def _ranks(values: np.ndarray) -> np.ndarray:
    ranks = np.empty(values.size)
    ranks[np.argsort(values, kind="stable")] = np.arange(values.size)
    return ranks


def _correlation(one: np.ndarray, other: np.ndarray) -> float | None:
    if one.size < 3:
        return None
    return float(np.corrcoef(one, other)[0, 1])
