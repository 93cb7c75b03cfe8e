"""Curves of one drink: dilution against stirring time, extraction against contact time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.bed import (
    Bed,
    ExtractionCurve,
    Poured,
    Swing,
    Tension,
    drainage_tension,
    extraction_curve,
    extraction_tension,
    handles,
    retention_tension,
    sensitivity,
)
from service.counter.known import Known
from service.counter.measure import poured
from service.counter.naming import Lines
from service.counter.shapes import interval_json, significant
from service.drink import Drink, mixed
from service.liquid import (
    Preparation,
    StirCurve,
    Stirring,
    abv,
    density_kg_per_m3,
    prepare,
    stir_curve,
    viscosity_mpa_s,
    volume_ml,
)

Json = dict[str, Any]
CURVE_POINTS = 41
# Enough for a rank correlation that is only looked at.
RANK_DRAWS = 200


@dataclass(frozen=True, slots=True, eq=False)
class BedCurve:
    """What comes out of the bed against contact time, and where published figures disagree."""

    extraction: ExtractionCurve
    tensions: tuple[Tension, ...]


def stirred(known: Known, pours: Lines, stirring: Stirring, until_seconds: float) -> StirCurve:
    """A drink followed through its stir."""
    liquid = mixed(Drink(poured(known, pours)))
    return stir_curve(liquid, stirring, until_seconds=until_seconds, points=CURVE_POINTS)


def through_bed(
    known: Known,
    pours: Lines,
    preparation: Preparation,
    bed: Bed,
    until_seconds: float,
) -> BedCurve:
    """What the coffee gives to a drink, against contact time."""
    poured_on = _on_the_coffee(known, pours, preparation, bed)
    volume, density = float(poured_on.volume_ml), float(poured_on.density_kg_per_m3)
    viscosity, celsius = float(poured_on.viscosity_mpa_s), float(poured_on.celsius)
    curve = extraction_curve(
        bed,
        contact_seconds=np.linspace(0.0, until_seconds, CURVE_POINTS),
        volume_ml=volume,
        density_kg_per_m3=density,
        viscosity_mpa_s=viscosity,
        abv=float(poured_on.abv),
        celsius=celsius,
        priors=known.priors,
    )
    tensions = (
        drainage_tension(
            bed,
            volume_ml=volume,
            density_kg_per_m3=density,
            viscosity_mpa_s=viscosity,
            priors=known.priors,
        ),
        retention_tension(bed, volume_ml=volume, priors=known.priors),
        extraction_tension(celsius=celsius, viscosity_mpa_s=viscosity),
    )
    return BedCurve(curve, tensions)


def what_matters(
    known: Known,
    pours: Lines,
    preparation: Preparation,
    bed: Bed,
    amount: str = "qhe_mg",
) -> tuple[tuple[Swing, ...], tuple[Swing, ...]]:
    """Which input moves one amount of a drink most: what is unknown, and what a hand can turn."""
    poured_on = _on_the_coffee(known, pours, preparation, bed)
    return (
        sensitivity(bed, poured_on, amount, priors=known.priors, draws=RANK_DRAWS),
        handles(bed, poured_on, amount, priors=known.priors),
    )


def _on_the_coffee(known: Known, pours: Lines, preparation: Preparation, bed: Bed) -> Poured:
    """The drink as it meets the coffee."""
    prepared = prepare(mixed(Drink(poured(known, pours))), preparation)
    liquid, celsius = prepared.liquid, float(prepared.celsius)
    return Poured(
        dose_g=bed.dose_g,
        volume_ml=float(volume_ml(liquid)),
        density_kg_per_m3=float(density_kg_per_m3(liquid, celsius)),
        viscosity_mpa_s=float(viscosity_mpa_s(liquid, celsius)),
        abv=float(abv(liquid)),
        celsius=celsius,
    )


def stir_json(curve: StirCurve) -> Json:
    return {
        "seconds": _numbers(curve.seconds),
        "celsius": _numbers(curve.celsius),
        "melt_g": _numbers(curve.melt_g),
        "dilution": _numbers(curve.dilution),
        "abv_percent": _numbers(curve.abv * 100.0),
        "volume_ml": _numbers(curve.volume_ml),
        "freezing_celsius": _numbers(curve.freezing_celsius),
    }


def bed_curve_json(curve: BedCurve) -> Json:
    """Each amount as its low, middle and high against contact time."""
    extraction = curve.extraction
    return {
        "contact_seconds": _numbers(extraction.contact_seconds),
        "caffeine_mg": _bands(extraction.caffeine_mg),
        "solids_g": _bands(extraction.solids_g),
        "qhe_mg": _bands(extraction.qhe_mg),
        "tensions": [tension_json(t) for t in curve.tensions],
    }


def tension_json(tension: Tension) -> Json:
    """Both sides of a disagreement, with who says what."""
    return {
        "title": tension.title,
        "figures": [
            {"label": f.label, "value": interval_json(f.value, 3), "unit": f.unit,
             "source": f.source}
            for f in tension.figures
        ],
        "text": tension.text,
    }  # fmt: skip


def _bands(rows: NDArray[np.float64]) -> Json:
    low, mid, high = rows
    return {"low": _numbers(low), "mid": _numbers(mid), "high": _numbers(high)}


def _numbers(values: NDArray[np.float64]) -> list[float]:
    return [significant(float(v)) for v in values]
