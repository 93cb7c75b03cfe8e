"""Scaling up: by what factor to multiply the drink so that the glass gets what is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from service.bed.bed import Bed
from service.bed.defaults import DEFAULT
from service.bed.limits import LIMITS, check
from service.bed.outcome import Percolation
from service.bed.priors import BedPriors
from service.kit import Interval, OutOfRange


@dataclass(frozen=True, slots=True)
class Scaling:
    """What to pour: the factor on every amount, the dose to weigh, the drink to pour on."""

    factor: Interval
    dose_g: float
    volume_ml: float


def scale_up(
    bed: Bed,
    *,
    volume_ml: float,
    wanted_ml: float,
    dose: Literal["fixed", "scaled"] = "fixed",
    priors: BedPriors = DEFAULT,
) -> Scaling:
    """Factor on a drink's amounts that puts the wanted volume in the glass [1].

    Parameters
    ----------
    bed : Bed
        The coffee.
    volume_ml : float
        Drink as the spec has it, before the bed [mL]
    wanted_ml : float
        Volume wanted in the glass [mL]
    dose : str
        "fixed": the dose stays; "scaled": it grows with the drink, as in a batch.
    priors : BedPriors
        The priors; the interval follows from retention and paper alone.

    Valid for: drinks that are more than the coffee keeps; OutOfRange where it would keep all, or
    where the dose leaves its limits.
    Source: balance of volumes, glass = factor × drink − kept + water from the paper.

    >>> scaling = scale_up(Bed(dose_g=15), volume_ml=115, wanted_ml=115)
    >>> round(scaling.factor.mid, 3), round(scaling.volume_ml, 1)
    (1.157, 133.0)
    """
    check("volume_ml", volume_ml)
    check("wanted_ml", wanted_ml)
    retention = priors.retention_ml_per_g
    gain, loss = _paper_ml(bed, priors)
    factors = [
        _factor(bed, volume_ml, wanted_ml - water + soaked, kept, dose)
        for kept, water, soaked in (
            (retention.low, gain.high, loss.low),
            (retention.median, gain.mid, loss.mid),
            (retention.high, gain.low, loss.high),
        )
    ]
    factor = Interval(*factors)
    weighed = bed.dose_g * (factor.mid if dose == "scaled" else 1.0)
    check("dose_g", weighed)
    return Scaling(factor, weighed, volume_ml * factor.mid)


def yield_share(percolation: Percolation) -> Interval:
    """Share of the drink that reaches the glass, water of the paper included [1].

    Parameters
    ----------
    percolation : Percolation
        One drink.

    Valid for: a single drink.
    Source: glass / drink, from the draws.

    >>> from service.bed import percolate
    >>> poured = percolate(Bed(), volume_ml=115, density_kg_per_m3=997, viscosity_mpa_s=7.1,
    ...     abv=0.28, celsius=0)
    >>> round(yield_share(poured).mid, 2)
    0.84
    """
    central = percolation.central
    shares = percolation.glass_ml / percolation.volume_ml
    return Interval.of_draws(shares, float(central.glass_ml) / float(central.volume_ml))


def _paper_ml(bed: Bed, priors: BedPriors) -> tuple[Interval, Interval]:
    nothing = Interval.exactly(0.0)
    if bed.paper_rinsed:
        return priors.paper_water_ml.interval, nothing
    return nothing, priors.paper_held_ml.interval


def _factor(bed: Bed, volume_ml: float, needed_ml: float, kept_per_g: float, dose: str) -> float:
    kept = kept_per_g * bed.dose_g
    if dose == "fixed":
        return (needed_ml + kept) / volume_ml
    through = volume_ml - kept
    if through <= 0.05 * volume_ml:
        raise OutOfRange(
            f"{bed.dose_g:g} g of coffee may keep all of {volume_ml:g} mL; use less coffee or more "
            f"drink (dose: {LIMITS['dose_g'].low:g} g and more)",
            field="dose_g",
        )
    return needed_ml / through
