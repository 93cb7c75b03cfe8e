"""`marc reach`: from the glass that is wanted back to the stir, the water or the pours."""

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
from service.counter.measure import Measure, parse_pours
from service.counter.reach import Backwards, Found, ReachQuestion, backwards
from service.counter.reach_json import exact_words, reach_json, target_words, way_words
from service.counter.suggest import bed_of
from service.drink import DEFAULT_COUNTRY, State, Target
from service.drink.lattice import FIVE_ML
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit.units import parse_volume_ml
from service.liquid import Stirring

USUAL_SECONDS = 30.0


def reach(
    pour: PourOption,
    strength: Annotated[
        float | None, typer.Option(help="wanted in the guest's glass, % vol, such as 28")
    ] = None,
    glass: Annotated[
        str | None, typer.Option(help="wanted in the guest's glass, such as 110ml or 4oz")
    ] = None,
    seconds: Annotated[
        float, typer.Option(help="how long it is stirred where only amounts change")
    ] = USUAL_SECONDS,
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
    """Reach a strength, a volume or both in the glass: by stirring, by water, by amounts."""
    target = Target(
        None if strength is None else strength / 100.0,
        None if glass is None else parse_volume_ml(glass, field="glass_ml"),
    )
    known, lattice = load_known(), FIVE_ML
    cup = coffee_given(roast, process, species, notes, dose, grind) if coffee else None
    if among is not None:
        bar = this_bar(known)
        known, lattice = bar.known_of(cup), bar.house.lattice
    bed = None if cup is None else bed_of(cup)
    asked = Measure(parse_pours(pour), Stirring(seconds=seconds), bed, country)
    answer = backwards(known, ReachQuestion(asked, target, lattice))
    if json:
        print_json(reach_json(answer))
    else:
        _print(answer)


def _print(answer: Backwards) -> None:
    after = "after the coffee" if answer.drink.bed else "without coffee"
    print(f"wanted in the glass, {after}: {target_words(answer.question.target)}")
    now = answer.now.after
    print_table(
        ("", "strength, % vol", "glass, mL", ""),
        [
            ("now", *_glass(now), ""),
            *(
                (str(way.way), *_glass(way.measured.reading.after), way_words(answer, way))
                if isinstance(way, Found)
                else (str(way.way), "", "", way_words(answer, way))
                for way in answer.ways
            ),
        ],
    )
    for way in answer.ways:
        if isinstance(way, Found):
            print(f"{way.way}, to the last digit: {exact_words(way.exact)}")
    for caution in answer.cautions:
        print(f"{caution.level}: {caution.message}")


def _glass(state: State) -> tuple[str, str]:
    return range_words(state.abv.scaled(100.0)), range_words(state.volume_ml)
