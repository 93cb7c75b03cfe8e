"""The passage of a drink through the bed, for given values of all that is uncertain.

The time to drain is tied to common practice (150 s for 15 g of medium-fine, a factor of two either
way); Darcy and Kozeny-Carman give the ratios: viscosity, density, volume, dose, grind. What each
draw then demands of the bed's permeability, given how much of the wall drains in it, is kept as
`permeability_m2`, so that the conflict with measured permeabilities can be seen (see `tension`).
Left out, as small beside what is not known: the grounds warm the drink by about 1 °C (15 g at room
temperature against 115 mL), and the bed cools or warms while it drains.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Final

import numpy as np

from service.bed.bed import Bed, caffeine_share
from service.bed.bitterness import bitterness_qhe_mg, qhe_mg_per_g
from service.bed.defaults import PRACTICE_DRAIN_SECONDS
from service.bed.extraction import slow_down, two_site_share
from service.bed.flow import GRAVITY_M_PER_S2, permeability_m2
from service.bed.geometry import bed_depth_mm, tip_conductance_mm2, wall_conductance_mm2
from service.bed.grind import REFERENCE_UM, broken_share, usual_fines_share
from service.bed.limits import FloatArray, Numbers, check
from service.bed.outcome import OUTCOME_NAMES, Outcome
from service.bed.retention import held_by_grounds_ml, held_by_paper_ml, passing_share

# The drink that common practice speaks of: 15 g, 115 mL in and 95 mL through, 28 % vol with 60 g/L
# sugar at 0 °C (7.1 mPa·s by Bingham & Jackson 1918 and sucrose; density from OIML R 22).
REFERENCE_DOSE_G: Final = 15.0
REFERENCE_THROUGH_ML: Final = 95.0
REFERENCE_VISCOSITY_MPA_S: Final = 7.1
REFERENCE_DENSITY_KG_PER_M3: Final = 996.7
REFERENCE_ABV: Final = 0.25  # strength that the ethanol factors are stated for


@dataclass(frozen=True, slots=True)
class Poured:
    """The drink as it is poured on; each number one drink's, or an array of drinks'.

    Parameters
    ----------
    dose_g : float
        Ground coffee it is poured on [g]
    volume_ml : float
        Drink [mL at 20 °C]
    density_kg_per_m3 : float
        Density of the drink [kg/m³]
    viscosity_mpa_s : float
        Viscosity of the drink, cold [mPa·s]
    abv : float
        Strength [fraction by volume]
    celsius : float
        Temperature [°C]
    contact_seconds : float
        Contact time, where it is not the time to drain [s]

    Valid for: the ranges in `service.bed.limits`; OutOfRange outside.
    Source: our estimate, because the limits are those of what a person could pour.

    >>> Poured(15.0, 115.0, 996.7, 7.1, 0.28, 0.0).volume_ml
    115.0
    """

    dose_g: Numbers
    volume_ml: Numbers
    density_kg_per_m3: Numbers
    viscosity_mpa_s: Numbers
    abv: Numbers
    celsius: Numbers
    contact_seconds: Numbers | None = None

    def __post_init__(self) -> None:
        for name in _POURED_NAMES:
            value = getattr(self, name)
            if value is not None:
                check(name, value)

    def as_columns(self) -> Poured:
        """The same drinks with one axis more, along which draws can lie."""
        values = {name: getattr(self, name) for name in _POURED_NAMES}
        return Poured(
            **{n: v[..., None] if isinstance(v, np.ndarray) else v for n, v in values.items()}
        )


_POURED_NAMES: Final[tuple[str, ...]] = tuple(field.name for field in fields(Poured))


def outcome(bed: Bed, poured: Poured, values: Mapping[str, FloatArray]) -> Outcome:
    """Amounts after the bed [mL, s, g, mg] for given values of all that is uncertain.

    Parameters
    ----------
    bed : Bed
        The coffee and its paper.
    poured : Poured
        The drink; numbers, or arrays of shape (drinks, 1) as `Poured.as_columns` gives them.
    values : FloatArray
        Values of the priors by name, each of shape (draws,) [their units]

    Valid for: checked input, as `percolate` gives it.
    Source: see `percolate`.

    >>> from service.bed.defaults import DEFAULT
    >>> from service.bed.priors import PRIOR_NAMES, values_at
    >>> medians = values_at(DEFAULT, np.zeros((len(PRIOR_NAMES), 1)))
    >>> outcome(Bed(), Poured(15.0, 115.0, 997.0, 7.1, 0.28, 0.0), medians).glass_ml.tolist()
    [97.0]
    """
    amounts = _liquid(bed, poured, values)
    amounts |= _drainage(bed, poured, values, amounts["passed_ml"])
    amounts |= _extract(bed, poured, values, amounts)
    shape = np.broadcast_shapes(*(np.shape(amounts[name]) for name in OUTCOME_NAMES))
    return Outcome(**{name: np.broadcast_to(amounts[name], shape) for name in OUTCOME_NAMES})


def _liquid(bed: Bed, poured: Poured, values: Mapping[str, FloatArray]) -> dict[str, Numbers]:
    volume = poured.volume_ml
    in_bed = held_by_grounds_ml(poured.dose_g, values["retention_ml_per_g"], volume)
    in_paper = held_by_paper_ml(values["paper_held_ml"], volume - in_bed, rinsed=bed.paper_rinsed)
    water = values["paper_water_ml"] if bed.paper_rinsed else 0.0
    retained = in_bed + in_paper
    passed = volume - retained
    return {
        "volume_ml": volume,
        "bed_ml": in_bed,
        "paper_ml": in_paper,
        "retained_ml": retained,
        "paper_water_ml": water,
        "passed_ml": passed,
        "glass_ml": passed + water,
    }


def _drainage(
    bed: Bed, poured: Poured, values: Mapping[str, FloatArray], through_ml: Numbers
) -> dict[str, Numbers]:
    thickness = poured.viscosity_mpa_s / poured.density_kg_per_m3
    reference_thickness = REFERENCE_VISCOSITY_MPA_S / REFERENCE_DENSITY_KG_PER_M3
    reference_conductance = _conductance_mm2(REFERENCE_DOSE_G, values["wall_share"])
    conductance = _conductance_mm2(poured.dose_g, values["wall_share"])
    reference_seconds = PRACTICE_DRAIN_SECONDS * values["drain_factor"]
    relative = (
        (through_ml / REFERENCE_THROUGH_ML)
        * (thickness / reference_thickness)
        * (reference_conductance / conductance) ** values["geometry_power"]
    )
    grind = permeability_m2(bed.micrometres, bed.fines_share, values["grind_power"])
    opener = grind / permeability_m2(REFERENCE_UM)
    seconds = reference_seconds * relative / opener
    # Darcy solved for k: mL/(mm² s) is m/s, mPa·s is 1e-3 Pa·s
    demanded = REFERENCE_THROUGH_ML * 1e-3 * reference_thickness / GRAVITY_M_PER_S2
    at_reference = demanded / (reference_seconds * reference_conductance)
    contact = seconds if poured.contact_seconds is None else poured.contact_seconds
    return {
        "drain_seconds": seconds,
        "contact_seconds": contact,
        "permeability_m2": at_reference * opener,
    }


def _conductance_mm2(dose_g: Numbers, wall_share: FloatArray) -> FloatArray:
    depth = bed_depth_mm(dose_g)
    tip, wall = tip_conductance_mm2(depth), wall_conductance_mm2(depth)
    return tip + wall_share * (wall - tip)


def _extract(
    bed: Bed, poured: Poured, values: Mapping[str, FloatArray], amounts: Mapping[str, Numbers]
) -> dict[str, Numbers]:
    size = bed.micrometres / REFERENCE_UM
    broken = broken_share(bed.micrometres, bed.fines)
    usually_broken = broken_share(REFERENCE_UM, usual_fines_share(REFERENCE_UM))
    fast_share = np.minimum(values["fast_share"] * (broken / usually_broken), 0.98)
    slow_seconds = values["slow_seconds"] * size ** values["size_power"]
    rate = values["extraction_factor"] * slow_down(
        poured.celsius, poured.viscosity_mpa_s, values["chill_law"]
    )
    strength = poured.abv / REFERENCE_ABV
    seconds = amounts["contact_seconds"] * rate
    caffeine_out = two_site_share(
        seconds * values["ethanol_caffeine"] ** strength,
        fast_share=fast_share,
        fast_seconds=values["fast_seconds"],
        slow_seconds=slow_seconds,
    )
    solids_out = two_site_share(
        seconds * values["ethanol_solids"] ** strength,
        fast_share=fast_share,
        fast_seconds=values["fast_seconds"],
        slow_seconds=slow_seconds * values["solids_slowness"],
    )
    caffeine_mg = 1000.0 * poured.dose_g * caffeine_share(bed, values)
    solids_g = poured.dose_g * values["solids_share"]
    caffeine = _places("caffeine", "mg", caffeine_mg, caffeine_out, values, amounts)
    solids = _places("solids", "g", solids_g, solids_out, values, amounts)
    per_g = qhe_mg_per_g(
        bed.roast,
        canephora_share=bed.canephora_share,
        celsius=poured.celsius,
        decaf=bed.decaf,
        gamma_factor=values["gamma_factor"],
        canephora_bitterness=values["canephora_bitterness"],
        cold_bitterness=values["cold_bitterness"],
    )
    qhe = bitterness_qhe_mg(solids["solids_g"], per_g)
    return {**caffeine, **solids, "extracted_share": solids_out, "qhe_mg": qhe}


def _places(
    name: str,
    unit: str,
    total: Numbers,
    dissolved_share: Numbers,
    values: Mapping[str, FloatArray],
    amounts: Mapping[str, Numbers],
) -> dict[str, Numbers]:
    held = amounts["retained_ml"] / amounts["volume_ml"]
    dissolved = total * dissolved_share
    glass = dissolved * passing_share(held, values["held_strength"])
    paper_part = amounts["paper_ml"] / np.maximum(amounts["retained_ml"], 1e-12)
    paper = (dissolved - glass) * paper_part
    return {
        f"{name}_total_{unit}": total,
        f"{name}_{unit}": glass,
        f"{name}_paper_{unit}": paper,
        f"{name}_bed_{unit}": total - glass - paper,
    }
