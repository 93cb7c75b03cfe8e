"""What a bed did to a drink: records of amounts, all uncertain, that add up exactly."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

import numpy as np

from service.bed.colour import colour_word
from service.bed.limits import FloatArray
from service.ingredients.records import Roast
from service.kit import Interval, NotFound


@dataclass(frozen=True, slots=True)
class Outcome:
    """Amounts after the bed, each an array over drinks and draws.

    Drink: `volume_ml` = `bed_ml` + `paper_ml` + what passes; `retained_ml` is the first two. The
    glass holds what passes and `paper_water_ml` of water from a rinsed paper. Coffee: what could
    dissolve (`..._total`) = glass + bed + paper; the bed's part is undissolved or in its liquid.
    """

    volume_ml: FloatArray
    retained_ml: FloatArray
    bed_ml: FloatArray
    paper_ml: FloatArray
    paper_water_ml: FloatArray
    glass_ml: FloatArray
    drain_seconds: FloatArray
    contact_seconds: FloatArray
    permeability_m2: FloatArray
    extracted_share: FloatArray
    solids_total_g: FloatArray
    solids_g: FloatArray
    solids_bed_g: FloatArray
    solids_paper_g: FloatArray
    caffeine_total_mg: FloatArray
    caffeine_mg: FloatArray
    caffeine_bed_mg: FloatArray
    caffeine_paper_mg: FloatArray
    qhe_mg: FloatArray


OUTCOME_NAMES: Final[tuple[str, ...]] = tuple(field.name for field in fields(Outcome))


@dataclass(frozen=True, slots=True)
class Percolation(Outcome):
    """Draws of an outcome, shape (draws,) or (drinks, draws), and its `central` values.

    `central` holds what all the medians together give, shape () or (drinks,).
    """

    central: Outcome
    roast: Roast


def bounds(percolation: Percolation, name: str) -> FloatArray:
    """Low, middle and high of one amount, one row each [the amount's unit].

    The middle is the central value; low and high are the 10th and 90th percentile of the draws.

    Parameters
    ----------
    percolation : Percolation
        One drink or many.
    name : str
        The amount, such as "caffeine_mg".

    Valid for: the amounts of `Outcome`; NotFound for others.
    Source: order statistics of the draws.

    >>> from service.bed import Bed, percolate
    >>> poured = percolate(Bed(), volume_ml=115, density_kg_per_m3=997, viscosity_mpa_s=7.1,
    ...     abv=0.28, celsius=0)
    >>> bounds(poured, "glass_ml").round().tolist()
    [85.0, 97.0, 106.0]
    """
    if name not in OUTCOME_NAMES:
        raise NotFound(f"no amount is called {name!r}; use {', '.join(OUTCOME_NAMES)}", field=name)
    middle = np.asarray(getattr(percolation.central, name))
    low, high = np.quantile(getattr(percolation, name), (0.1, 0.9), axis=-1)
    return np.stack([np.minimum(low, middle), middle, np.maximum(high, middle)])


def interval(percolation: Percolation, name: str) -> Interval:
    """The 80 % interval of one amount of one drink [the amount's unit].

    Parameters
    ----------
    percolation : Percolation
        One drink.
    name : str
        The amount, such as "drain_seconds".

    Valid for: a single drink; use `bounds` for many.
    Source: order statistics of the draws; the middle is the central value.

    >>> from service.bed import Bed, percolate
    >>> poured = percolate(Bed(), volume_ml=115, density_kg_per_m3=997, viscosity_mpa_s=7.1,
    ...     abv=0.28, celsius=0)
    >>> interval(poured, "drain_seconds").contains(150)
    True
    """
    low, middle, high = (float(value) for value in bounds(percolation, name))
    return Interval(low, middle, high)


def colour(percolation: Percolation) -> str:
    """The colour that the coffee gives one drink, in a word or two.

    Parameters
    ----------
    percolation : Percolation
        One drink.

    Valid for: a single drink that was clear before.
    Source: see `colour_word`.

    >>> from service.bed import Bed, percolate
    >>> colour(percolate(Bed(), volume_ml=115, density_kg_per_m3=997, viscosity_mpa_s=7.1,
    ...     abv=0.28, celsius=0))
    'chestnut'
    """
    central = percolation.central
    litres = max(float(central.glass_ml), 1e-9) / 1000.0
    return colour_word(float(central.solids_g) / litres, percolation.roast)
