"""The coffee in the filter, as a person would describe it, and its caffeine if all came out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from service.bed.defaults import DEFAULT
from service.bed.grind import particle_um, usual_fines_share
from service.bed.limits import Numbers, check
from service.bed.priors import BedPriors
from service.ingredients.records import Grind, Roast
from service.kit import Interval


@dataclass(frozen=True, slots=True)
class Bed:
    """Ground coffee in a paper cone.

    Parameters
    ----------
    dose_g : float
        Ground coffee [g]
    grind : Grind
        Trade word for the grind; used where `particle_um` is not given.
    particle_um : float
        Measured particle diameter by mass [µm]
    roast : Roast
        Roast level.
    canephora_share : float
        Share of canephora in the blend [0..1]
    decaf : bool
        Whether the caffeine was taken out.
    paper_rinsed : bool
        Whether the paper was wetted with water first.
    fines_share : float
        Share of grains below 186 µm, where sifted or measured; else what is usual [0..1]

    Valid for: 2 to 1000 g, 100 to 2000 µm, fines up to 0.6; OutOfRange outside.
    Source: common practice, no source: 15 g, between filter and espresso, paper rinsed.

    >>> Bed().micrometres
    500.0
    """

    dose_g: float = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    particle_um: float | None = None
    roast: Roast = Roast.MEDIUM
    canephora_share: float = 0.0
    decaf: bool = False
    paper_rinsed: bool = True
    fines_share: float | None = None

    def __post_init__(self) -> None:
        check("dose_g", self.dose_g)
        check("canephora_share", self.canephora_share)
        if self.particle_um is not None:
            check("particle_um", self.particle_um)
        if self.fines_share is not None:
            check("fines_share", self.fines_share)

    @property
    def micrometres(self) -> float:
        """Particle diameter by mass [µm], measured or by the trade word."""
        return particle_um(self.grind) if self.particle_um is None else self.particle_um

    @property
    def fines(self) -> float:
        """Share of grains below 186 µm [0..1]."""
        if self.fines_share is not None:
            return self.fines_share
        return float(usual_fines_share(self.micrometres))


def caffeine_share(bed: Bed, values: Mapping[str, Numbers]) -> Numbers:
    """Caffeine in the dry coffee of a bed [g/g].

    Parameters
    ----------
    bed : Bed
        The coffee.
    values : float
        Values of the priors by name [g/g]

    Valid for: arabica, canephora, blends and decaffeinated coffee.
    Source: the priors `caffeine_arabica`, `caffeine_canephora`, `caffeine_decaf`; a blend by mass.

    >>> round(caffeine_share(Bed(canephora_share=0.5),
    ...     {"caffeine_arabica": 0.012, "caffeine_canephora": 0.022}), 4)
    0.017
    """
    if bed.decaf:
        return values["caffeine_decaf"]
    canephora = bed.canephora_share
    arabica_part = (1.0 - canephora) * values["caffeine_arabica"]
    return arabica_part + canephora * values["caffeine_canephora"]


def caffeine_ceiling_mg(bed: Bed, priors: BedPriors = DEFAULT) -> Interval:
    """Caffeine if all of it came out of the coffee [mg]: what cautions must be able to bear.

    Parameters
    ----------
    bed : Bed
        The coffee.
    priors : BedPriors
        The priors.

    Valid for: any bed; no extraction can give more.
    Source: dose × caffeine in the dry coffee (see the priors); low and high are what coffees span.

    >>> caffeine_ceiling_mg(Bed(dose_g=15.0)).mid
    180.0
    """
    low, mid, high = (
        1000.0 * bed.dose_g * float(caffeine_share(bed, content))
        for content in (
            {name: getattr(getattr(priors, name), part) for name in _CAFFEINE}
            for part in ("low", "median", "high")
        )
    )
    return Interval(low, mid, high)


_CAFFEINE = ("caffeine_arabica", "caffeine_canephora", "caffeine_decaf")
