"""Where the evidence disagrees: the figures side by side, and the words to say so on a page.

Nothing here is averaged away. Each tension lists what each side says, what the priors hold, and in
plain words why they differ and what a bar can do about it.
"""

from __future__ import annotations

from dataclasses import dataclass

from service.bed.bed import Bed
from service.bed.defaults import DEFAULT, PRACTICE_DRAIN_SECONDS
from service.bed.extraction import slow_down_by_activation, slow_down_by_viscosity
from service.bed.flow import MEASURED_PERMEABILITY_M2, drain_seconds, permeability_m2
from service.bed.geometry import bed_depth_mm, tip_conductance_mm2, wall_conductance_mm2
from service.bed.limits import check
from service.bed.priors import BedPriors
from service.kit import Interval

PRACTICE_SECONDS = Interval(120.0, PRACTICE_DRAIN_SECONDS, 180.0)  # [s] common practice, no source
PRACTICE_SHARE_KEPT = 0.10  # [1] "about a tenth of the drink"; common practice, no source
PORE_FILLING_ML_PER_G = Interval(1.0, 1.15, 1.3)  # [mL/g] grain pores and half the bed's voids
HOT_FILTER_ML_PER_G = 2.0  # [mL/g] rule of thumb for filter coffee; Gagné 2019
HOT_IMMERSION_ML_PER_G = Interval(2.29, 2.48, 2.67)  # [g/g] 2.48 ± 0.19; Liang et al. 2021

COLD_REST_HOURS = Interval(6.0, 6.5, 7.0)  # [h] immersion at 21-25 °C; Fuller & Rao 2017


@dataclass(frozen=True, slots=True)
class Figure:
    """What one side says: a label, a range with its unit, and who says it."""

    label: str
    value: Interval
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Tension:
    """A disagreement in the evidence: figures and a paragraph for the page."""

    title: str
    figures: tuple[Figure, ...]
    text: str


def drainage_tension(
    bed: Bed,
    *,
    volume_ml: float,
    density_kg_per_m3: float,
    viscosity_mpa_s: float,
    priors: BedPriors = DEFAULT,
) -> Tension:
    """Draining by tip, by wall and by common practice [s], side by side.

    Parameters
    ----------
    bed : Bed
        The coffee.
    volume_ml : float
        Drink poured on [mL]
    density_kg_per_m3 : float
        Density of the drink [kg/m³]
    viscosity_mpa_s : float
        Viscosity of the cold drink [mPa·s]
    priors : BedPriors
        The priors.

    Valid for: the ranges in `service.bed.limits`; OutOfRange outside.
    Source: Darcy's law with the permeabilities of Wadsworth et al. 2026, Table 1; both drainages
    of `service.bed.geometry`; common practice, no source.

    >>> tension = drainage_tension(Bed(), volume_ml=115, density_kg_per_m3=997, viscosity_mpa_s=7.1)
    >>> [figure.label for figure in tension.figures][:3]
    ['common practice', 'only the tip drains', 'the whole paper wall drains']
    """
    check("volume_ml", volume_ml)
    check("density_kg_per_m3", density_kg_per_m3)
    check("viscosity_mpa_s", viscosity_mpa_s)
    through_ml = max(volume_ml - bed.dose_g * priors.retention_ml_per_g.median, 1.0)
    measured = _measured_m2(bed)
    # drain_seconds is V/(k·C·ρg/µ): with one of k and the time put in, it gives the other.
    times, needs = [], []
    for conductance in _conductances_mm2(bed):
        seconds_at_unit = float(
            drain_seconds(
                through_ml,
                permeability_m2=1.0,
                conductance_mm2=conductance,
                viscosity_mpa_s=viscosity_mpa_s,
                density_kg_per_m3=density_kg_per_m3,
            )
        )
        times.append(_divided(seconds_at_unit, measured))
        needs.append(_divided(seconds_at_unit, PRACTICE_SECONDS))
    tomography = "Wadsworth et al. 2026 (permeability), Darcy"
    return Tension(
        "How long it takes to drain",
        (
            Figure("common practice", PRACTICE_SECONDS, "s", "common practice, no source"),
            Figure("only the tip drains", times[0], "s", tomography),
            Figure("the whole paper wall drains", times[1], "s", tomography),
            Figure("measured permeability", measured, "m²", "Wadsworth et al. 2026, Table 1"),
            Figure("needed if only the tip drains", needs[0], "m²", "Darcy"),
            Figure("needed if the whole wall drains", needs[1], "m²", "Darcy"),
        ),
        f"Bartenders count two to three minutes. With the permeability measured on loose ground "
        f"coffee, this drink takes {_minutes(times[0])} if it can leave by the tip of the cone "
        f"only, and {_minutes(times[1])} if every part of the paper lets it out. A real cone lies "
        f"between, and nobody has measured where. So the forecast starts from the bartenders' "
        f"count, with a factor of two either way, and uses physics for what changes it: a colder, "
        f"sweeter or larger drink, another grind. Time a few of your own and it will follow them.",
    )


def retention_tension(bed: Bed, *, volume_ml: float, priors: BedPriors = DEFAULT) -> Tension:
    """What the grounds keep by common practice, by their pores and by hot brewing [mL].

    Parameters
    ----------
    bed : Bed
        The coffee.
    volume_ml : float
        Drink poured on [mL]
    priors : BedPriors
        The priors.

    Valid for: the ranges in `service.bed.limits`; OutOfRange outside.
    Source: Liang et al. 2021 and Gagné 2019 for hot water; pores by Román-Corrochano et al. 2015
    and Maille 2024; common practice, no source.

    >>> retention_tension(Bed(), volume_ml=115).figures[0].value.mid
    11.5
    """
    check("volume_ml", volume_ml)
    practice = Interval.exactly(PRACTICE_SHARE_KEPT * volume_ml)
    pores = PORE_FILLING_ML_PER_G.scaled(bed.dose_g)
    filter_rule = Interval.exactly(HOT_FILTER_ML_PER_G * bed.dose_g)
    immersion = HOT_IMMERSION_ML_PER_G.scaled(bed.dose_g)
    held = priors.retention_ml_per_g.interval.scaled(bed.dose_g)
    return Tension(
        "How much stays in the coffee",
        (
            Figure("common practice", practice, "mL", "a tenth of the drink; no source"),
            Figure("pores and half the voids full", pores, "mL", "estimate from pore volumes"),
            Figure("hot filter coffee", filter_rule, "mL", "rule of thumb, Gagné 2019"),
            Figure("hot immersion", immersion, "mL", "Liang et al. 2021"),
            Figure("this forecast", held, "mL", "estimate between them"),
        ),
        f"Bartenders expect to lose about a tenth of the drink, here {practice.mid:.0f} mL. Hot "
        f"coffee keeps about 2 mL per gram, which would be {filter_rule.mid:.0f} mL. A drink is "
        f"cold, touches the grounds for minutes only, and its alcohol halves the surface tension "
        f"that holds liquid in the bed, so less than in hot brewing is likely, but nobody has "
        f"measured it. The forecast says {held.mid:.0f} mL, most likely between {held.low:.0f} "
        f"and {held.high:.0f}. Weigh the drink before and after a few times to pin it down.",
    )


def extraction_tension(*, celsius: float, viscosity_mpa_s: float) -> Tension:
    """How many times slower coffee dissolves cold than hot [1], by two laws.

    Parameters
    ----------
    celsius : float
        Temperature of the drink [°C]
    viscosity_mpa_s : float
        Viscosity of the drink [mPa·s]

    Valid for: the ranges in `service.bed.limits`; OutOfRange outside.
    Source: Wilke & Chang 1955 (D ~ T/µ); Jaganyi & Price 1999 (40.3 kJ/mol).

    >>> round(extraction_tension(celsius=0, viscosity_mpa_s=7.1).figures[0].value.mid)
    30
    """
    check("celsius", celsius)
    check("viscosity_mpa_s", viscosity_mpa_s)
    viscous = 1.0 / float(slow_down_by_viscosity(celsius, viscosity_mpa_s))
    activated = 1.0 / float(slow_down_by_activation(celsius))
    return Tension(
        "How much comes out cold",
        (
            Figure("by viscosity", Interval.exactly(viscous), "times slower", "Wilke & Chang 1955"),
            Figure(
                "by temperature of tea leaf",
                Interval.exactly(activated),
                "times slower",
                "Jaganyi & Price 1999",
            ),
            Figure("cold water comes to rest", COLD_REST_HOURS, "h", "Fuller & Rao 2017"),
        ),
        f"How fast coffee gives itself up is known for hot water. Carried into this drink by its "
        f"viscosity it is {viscous:.0f} times slower, by the temperature law found on tea leaf "
        f"{activated:.0f} times; and cold water at room temperature needs six to seven hours to "
        f"come to rest, longer than either law says. No published work runs 20 to 30 % alcohol "
        f"cold through coffee, so caffeine, bitterness and strength of coffee are estimates with "
        f"wide ranges. For caution count on all the caffeine in the dose.",
    )


def _minutes(seconds: Interval) -> str:
    low, high = seconds.low / 60.0, seconds.high / 60.0
    return f"{low:.0f} to {high:.0f} minutes" if low >= 2 else f"{low:.1f} to {high:.0f} minutes"


def _measured_m2(bed: Bed) -> Interval:
    usual = float(permeability_m2(bed.micrometres, bed.fines_share))
    low, high = MEASURED_PERMEABILITY_M2
    return Interval(min(low, usual), usual, max(high, usual))


def _conductances_mm2(bed: Bed) -> tuple[float, float]:
    depth = bed_depth_mm(bed.dose_g)
    return float(tip_conductance_mm2(depth)), float(wall_conductance_mm2(depth))


def _divided(number: float, by: Interval) -> Interval:
    return Interval(number / by.high, number / by.mid, number / by.low)
