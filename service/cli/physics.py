"""`marc stir` and `marc bed`: curves of one drink."""

from __future__ import annotations

from typing import Annotated

import typer

from service.cli.given import (
    DoseOption,
    GrindOption,
    PourOption,
    ProcessOption,
    RoastOption,
    SpeciesOption,
    coffee_given,
)
from service.cli.out import Json, print_json, print_table
from service.counter.known import load_known
from service.counter.measure import parse_pours
from service.counter.physics import bed_curve_json, stir_json, stirred, through_bed
from service.counter.shapes import significant
from service.counter.suggest import bed_of
from service.ingredients.records import Grind, Process, Roast, Species
from service.liquid import Stirring

UntilOption = Annotated[float, typer.Option("--until", help="end of the curve, seconds")]
STEP = 5


def stir(pour: PourOption, until: UntilOption = 120.0, json: Json = False) -> None:
    """Follow a drink through its stir: dilution, temperature, strength."""
    curve = stirred(load_known(), parse_pours(pour), Stirring(), until)
    if json:
        print_json(stir_json(curve))
        return
    columns = (curve.seconds, curve.celsius, curve.melt_g, curve.abv * 100, curve.volume_ml)
    rows = zip(*(column[::STEP] for column in columns), strict=True)
    print_table(
        ("s", "°C", "water, g", "% vol", "mL"), ([f"{cell:.1f}" for cell in row] for row in rows)
    )


def bed(
    pour: PourOption,
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    until: UntilOption = 600.0,
    json: Json = False,
) -> None:
    """Follow what the coffee gives: caffeine, solids and bitterness against contact time."""
    coffee = bed_of(coffee_given(roast, process, species, "", dose, grind))
    curve = through_bed(load_known(), parse_pours(pour), Stirring(), coffee, until)
    if json:
        print_json(bed_curve_json(curve))
        return
    extraction = curve.extraction
    amounts = (extraction.caffeine_mg, extraction.solids_g, extraction.qhe_mg)
    print_table(
        ("s", "caffeine, mg", "solids, g", "bitterness, mg QHE"),
        (
            [f"{extraction.contact_seconds[i]:.0f}", *(_three(a[:, i].tolist()) for a in amounts)]
            for i in range(0, len(extraction.contact_seconds), STEP)
        ),
    )
    for tension in curve.tensions:
        print(f"\n{tension.title}: {tension.text}")


def _three(bounds: list[float]) -> str:
    low, mid, high = bounds
    return f"{significant(mid, 2):g} ({significant(low, 2):g} to {significant(high, 2):g})"
