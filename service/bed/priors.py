"""What is not known about the bed, each number with its median, its 80 % interval and its source.

A bar's own trials later replace some of these (`dataclasses.replace`). The first three are the ones
a trial can teach: retention by weighing, drain factor by the clock, extraction factor by taste.

Common random numbers: the same seed gives the same draws for every drink, so that two drinks are
compared on the same unknown coffee, grinder and filter.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Final

import numpy as np

from service.bed.limits import FloatArray, check
from service.bed.prior import Prior


@dataclass(frozen=True, slots=True)
class BedPriors:
    """Everything uncertain about a coffee bed; `defaults.DEFAULT` holds before any trial."""

    retention_ml_per_g: Prior  # drink kept per gram of coffee
    drain_factor: Prior  # draining time against common practice
    extraction_factor: Prior  # rate of extraction against the model
    wall_share: Prior  # share of the paper wall that drains
    geometry_power: Prior  # how far the cone's geometry shows when the dose changes
    grind_power: Prior  # power of the diameter in permeability
    fast_share: Prior  # coffee in broken cells, at 500 µm
    fast_seconds: Prior  # time constant of broken cells, hot
    slow_seconds: Prior  # time constant of whole cells, hot, at 500 µm
    size_power: Prior  # power of the diameter in the slow time constant
    chill_law: Prior  # 0 = D ~ T/µ, 1 = activation energy
    ethanol_caffeine: Prior  # rate in 25 % vol against water, caffeine
    ethanol_solids: Prior  # rate in 25 % vol against water, all solids
    solids_slowness: Prior  # slow time constant of solids against caffeine's
    solids_share: Prior  # what can dissolve of the dry coffee
    caffeine_arabica: Prior  # caffeine in the dry coffee
    caffeine_canephora: Prior
    caffeine_decaf: Prior
    held_strength: Prior  # strength of the held liquid against the glass
    paper_water_ml: Prior  # water that a rinsed paper gives
    paper_held_ml: Prior  # drink that a dry paper takes
    gamma_factor: Prior  # bitterness per gram against the usual
    canephora_bitterness: Prior  # what pure canephora adds
    cold_bitterness: Prior  # cold against hot, per gram


PRIOR_NAMES: Final[tuple[str, ...]] = tuple(field.name for field in fields(BedPriors))


def deviates(draws: int, seed: int) -> FloatArray:
    """Standard normal deviates [1], a row per prior; column 0 is all medians, the rest draws.

    Parameters
    ----------
    draws : int
        How many draws [1]
    seed : int
        Seed of the generator; the same seed, the same draws, whatever the drink

    Valid for: 1 to 1 000 000 draws; OutOfRange outside.
    Source: numpy's PCG64 generator; the second half mirrors the first (antithetic variates,
    Hammersley & Morton 1956), which steadies the median.

    >>> deviates(200, 1).shape == (len(PRIOR_NAMES), 201)
    True
    """
    check("draws", draws)
    half = np.random.default_rng(seed).standard_normal((len(PRIOR_NAMES), (draws + 1) // 2))
    columns = np.zeros((len(PRIOR_NAMES), draws + 1))
    columns[:, 1 : half.shape[1] + 1] = half
    columns[:, half.shape[1] + 1 :] = -half[:, : draws - half.shape[1]]
    return columns


def values_at(priors: BedPriors, columns: FloatArray) -> Mapping[str, FloatArray]:
    """The value of each prior [its unit] at standard normal deviates.

    Parameters
    ----------
    priors : BedPriors
        The priors.
    columns : FloatArray
        One row of deviates per prior, in the order of `PRIOR_NAMES` [1]

    Valid for: any deviates.
    Source: `Prior.at`.

    >>> from service.bed.defaults import DEFAULT
    >>> float(values_at(DEFAULT, np.zeros((len(PRIOR_NAMES), 1)))["retention_ml_per_g"][0])
    1.3
    """
    return {
        name: getattr(priors, name).at(row) for name, row in zip(PRIOR_NAMES, columns, strict=True)
    }
