"""Extraction against contact time, with its uncertainty: the numbers behind a picture."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from service.bed.bed import Bed
from service.bed.defaults import DEFAULT
from service.bed.limits import FloatArray
from service.bed.outcome import bounds
from service.bed.percolation import DEFAULT_SEED, percolate
from service.bed.priors import BedPriors


@dataclass(frozen=True, slots=True)
class ExtractionCurve:
    """Amounts in the glass against contact time; each amount has rows low, middle, high."""

    contact_seconds: FloatArray
    caffeine_mg: FloatArray
    solids_g: FloatArray
    qhe_mg: FloatArray
    extracted_share: FloatArray


def extraction_curve(
    bed: Bed,
    *,
    contact_seconds: FloatArray,
    volume_ml: float,
    density_kg_per_m3: float,
    viscosity_mpa_s: float,
    abv: float,
    celsius: float,
    priors: BedPriors = DEFAULT,
    draws: int = 500,
    seed: int = DEFAULT_SEED,
) -> ExtractionCurve:
    """Caffeine [mg], solids [g] and bitterness [mg QHE] in the glass against contact time [s].

    Parameters
    ----------
    bed : Bed
        The coffee and its paper.
    contact_seconds : FloatArray
        Contact times [s]
    volume_ml : float
        Drink poured on [mL at 20 °C]
    density_kg_per_m3 : float
        Density of the drink as poured [kg/m³]
    viscosity_mpa_s : float
        Viscosity of the drink as poured [mPa·s]
    abv : float
        Strength [fraction by volume]
    celsius : float
        Temperature of the drink as poured [°C]
    priors : BedPriors
        What is known of this bar's beds.
    draws : int
        How many draws [1]
    seed : int
        Same seed, same draws at every time, so that the curves are smooth.

    Valid for: as `percolate`; 0 to 86 400 s of contact.
    Source: see `percolate`.

    >>> curve = extraction_curve(Bed(), contact_seconds=np.linspace(0, 600, 7), volume_ml=115,
    ...     density_kg_per_m3=997, viscosity_mpa_s=7.1, abv=0.28, celsius=0)
    >>> curve.caffeine_mg.shape, float(curve.caffeine_mg[1, 0])
    ((3, 7), 0.0)
    """
    times = np.asarray(contact_seconds, dtype=np.float64)
    poured = percolate(
        bed,
        volume_ml=np.full(times.shape, volume_ml),
        density_kg_per_m3=density_kg_per_m3,
        viscosity_mpa_s=viscosity_mpa_s,
        abv=abv,
        celsius=celsius,
        contact_seconds=times,
        priors=priors,
        draws=draws,
        seed=seed,
    )
    return ExtractionCurve(
        contact_seconds=times,
        caffeine_mg=bounds(poured, "caffeine_mg"),
        solids_g=bounds(poured, "solids_g"),
        qhe_mg=bounds(poured, "qhe_mg"),
        extracted_share=bounds(poured, "extracted_share"),
    )
