"""A drink, or many, poured through a bed of coffee: draws of all that is uncertain, in one pass."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed.bed import Bed
from service.bed.defaults import DEFAULT
from service.bed.limits import Numbers
from service.bed.outcome import OUTCOME_NAMES, Outcome, Percolation
from service.bed.passage import Poured, outcome
from service.bed.priors import PRIOR_NAMES, BedPriors, deviates, values_at

DEFAULT_DRAWS: Final = 2000
DEFAULT_SEED: Final = 20


def percolate(
    bed: Bed,
    *,
    volume_ml: Numbers,
    density_kg_per_m3: Numbers,
    viscosity_mpa_s: Numbers,
    abv: Numbers,
    celsius: Numbers,
    dose_g: Numbers | None = None,
    contact_seconds: Numbers | None = None,
    priors: BedPriors = DEFAULT,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
) -> Percolation:
    """Pour drinks through coffee: amounts in glass, bed and paper [mL, s, g, mg], with draws.

    Parameters
    ----------
    bed : Bed
        The coffee and its paper.
    volume_ml : float
        Drink poured on [mL at 20 °C]
    density_kg_per_m3 : float
        Density of the drink as poured [kg/m³]
    viscosity_mpa_s : float
        Viscosity of the drink as poured, cold [mPa·s]
    abv : float
        Strength [fraction by volume]
    celsius : float
        Temperature of the drink as poured [°C]
    dose_g : float
        Dose for each drink, where it is not the bed's [g]
    contact_seconds : float
        Contact time, where it is not the time to drain [s]
    priors : BedPriors
        What is known of this bar's beds.
    draws : int
        How many draws [1]
    seed : int
        Same seed, same draws for every drink.

    Valid for: the ranges in `service.bed.limits`; OutOfRange outside. Numbers may be arrays of
    drinks, which give shape (drinks, draws). Volumes add; what mixing takes away is not counted.
    Source: models in `flow`, `retention`, `extraction`, `bitterness`; priors in `defaults`. Nobody
    published cold percolation with ethanol: caffeine, solids and bitterness are estimates.

    >>> poured = percolate(Bed(dose_g=15), volume_ml=115, density_kg_per_m3=997,
    ...     viscosity_mpa_s=7.1, abv=0.28, celsius=0)
    >>> poured.caffeine_mg.shape, round(float(poured.central.retained_ml), 1)
    ((2000,), 19.5)
    """
    poured = Poured(
        dose_g=bed.dose_g if dose_g is None else dose_g,
        volume_ml=volume_ml,
        density_kg_per_m3=density_kg_per_m3,
        viscosity_mpa_s=viscosity_mpa_s,
        abv=abv,
        celsius=celsius,
        contact_seconds=contact_seconds,
    )
    values = _values(priors, draws, seed)
    everything = outcome(bed, poured.as_columns(), values)
    arrays = {name: getattr(everything, name) for name in OUTCOME_NAMES}
    return Percolation(
        **{name: array[..., 1:] for name, array in arrays.items()},
        central=Outcome(**{name: array[..., 0] for name, array in arrays.items()}),
        roast=bed.roast,
    )


@lru_cache(maxsize=16)
def _values(priors: BedPriors, draws: int, seed: int) -> Mapping[str, NDArray[np.float64]]:
    """The draws of all priors. Remembered, because every drink passes the same unknown beds."""
    values = values_at(priors, deviates(draws, seed))
    for array in values.values():
        array.flags.writeable = False
    return values


def percolate_central(bed: Bed, poured: Poured, *, priors: BedPriors = DEFAULT) -> Outcome:
    """The amounts that all medians together give [mL, s, g, mg]; cheap for thousands of drinks.

    Parameters
    ----------
    bed : Bed
        The coffee and its paper; its dose yields to that of `poured`.
    poured : Poured
        One drink, or arrays of drinks.
    priors : BedPriors
        What is known of this bar's beds.

    Valid for: as `percolate`; the result has shape () or (drinks,).
    Source: see `percolate`, whose `central` this equals.

    >>> drinks = Poured(15.0, np.array([100.0, 115.0]), 997.0, 7.1, 0.28, 0.0)
    >>> percolate_central(Bed(), drinks).glass_ml.tolist()
    [82.0, 97.0]
    """
    medians = values_at(priors, np.zeros((len(PRIOR_NAMES), 1)))
    everything = outcome(bed, poured.as_columns(), medians)
    return Outcome(**{name: getattr(everything, name)[..., 0] for name in OUTCOME_NAMES})
