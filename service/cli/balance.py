"""`marc balance`: whether a drink is in balance, before and after the coffee."""

from __future__ import annotations

from typing import Annotated

import typer

from service.cli.given import (
    DoseOption,
    GrindOption,
    NotesOption,
    PourOption,
    ProcessOption,
    RoastOption,
    SpeciesOption,
    coffee_given,
)
from service.cli.out import Json, print_json, print_table, range_words
from service.cli.this_bar import AmongOption, this_bar
from service.counter.known import load_known
from service.counter.measure import Measure, Measured, measure, parse_pours
from service.counter.readings import measured_json
from service.counter.suggest import bed_of
from service.drink import DEFAULT_COUNTRY
from service.ingredients.records import Grind, Process, Roast, Species


def balance(
    pour: PourOption,
    coffee: Annotated[bool, typer.Option(help="poured through coffee, or not")] = True,
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    country: Annotated[str, typer.Option(help="whose standard drink")] = DEFAULT_COUNTRY,
    notes: NotesOption = "",
    among: AmongOption = None,
    json: Json = False,
) -> None:
    """Read a stirred drink: strength, sugar, acid, bitterness, verdict and remedies."""
    known = load_known()
    cup = coffee_given(roast, process, species, notes, dose, grind) if coffee else None
    if among is not None:
        known = this_bar(known).known_of(cup)
    bed = None if cup is None else bed_of(cup)
    measured = measure(known, Measure(parse_pours(pour), bed=bed, country=country))
    if json:
        print_json(measured_json(measured))
    else:
        _print(measured)


def _print(measured: Measured) -> None:
    reading = measured.reading
    before, after = reading.before, reading.after
    print(f"{reading.verdict}: {reading.balance_after.words or 'in balance'}")
    amounts = (
        ("volume, mL", before.volume_ml, after.volume_ml),
        ("strength, % vol", before.abv.scaled(100), after.abv.scaled(100)),
        ("sugar, g/L", before.sugar_g_per_l, after.sugar_g_per_l),
        ("acid, g/L", before.acid_g_per_l, after.acid_g_per_l),
        ("bitterness, mg/L QHE", before.qhe_mg_per_l, after.qhe_mg_per_l),
        ("caffeine, mg", before.caffeine_mg, after.caffeine_mg),
    )
    print_table(
        ("", "before", "after the bed"),
        [
            *((name, range_words(was), range_words(now)) for name, was, now in amounts),
            ("sweetness", "", measured.sweetness.words),
            ("bitterness", "", measured.bitterness.words),
        ],
    )
    for remedy in reading.remedies[:4]:
        print(f"remedy: {remedy.words}")
    for caution in reading.cautions:
        print(f"{caution.level}: {caution.message}")
