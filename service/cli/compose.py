"""`marc compose`: whole drinks for a coffee, from a shelf, with amounts."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from service.cli.given import (
    DoseOption,
    GrindOption,
    NotesOption,
    ProcessOption,
    RoastOption,
    SpeciesOption,
    coffee_given,
    split_at_commas,
)
from service.cli.out import Json, print_json
from service.cli.this_bar import Among, AmongOption, this_bar
from service.counter.compose import ComposeAnswer, ComposedDrink, ComposeQuestion, OnShelf
from service.counter.compose import compose as composed_by
from service.counter.compose_json import compose_json, spoken_amount
from service.counter.known import load_known
from service.counter.this_bar import composed
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit.jigger import JiggerStep
from service.recommend.compose import Limits, Measures, Progress, Shape, Variety

NamesOption = list[str] | None


def compose(
    notes: NotesOption = "",
    shelf: Annotated[
        NamesOption,
        typer.Option(help="what stands there (repeat it, or put commas between); all by default"),
    ] = None,
    must: Annotated[NamesOption, typer.Option(help="must be in it; repeat it")] = None,
    must_not: Annotated[NamesOption, typer.Option(help="must not be in it; repeat it")] = None,
    without: Annotated[NamesOption, typer.Option(help="an allergen to leave out")] = None,
    least_abv: Annotated[float, typer.Option(help="per cent by volume in the glass")] = 0.0,
    most_abv: Annotated[float, typer.Option(help="per cent by volume in the glass")] = 100.0,
    most_caffeine: Annotated[
        float | None, typer.Option(help="milligrams, for the high end of the forecast")
    ] = None,
    least_ml: Annotated[float, typer.Option(help="total in the glass, mL")] = 60.0,
    most_ml: Annotated[float, typer.Option(help="total in the glass, mL")] = 140.0,
    step: Annotated[str, typer.Option(help="5 ml, 7.5 ml or 1/4 oz")] = "7.5 ml",
    modifiers: Annotated[int, typer.Option(min=1, max=2, help="modifiers at most")] = 2,
    bitters: Annotated[int, typer.Option(min=0, max=2, help="bitters at most")] = 2,
    repeats: Annotated[bool, typer.Option(help="drinks may share base and modifier")] = False,
    novelty: Annotated[float, typer.Option(help="0 is tried, 1 is new")] = 0.5,
    limit: Annotated[int, typer.Option(help="drinks at most")] = 5,
    free_dose: Annotated[bool, typer.Option(help="let the coffee run from 10 to 20 g")] = False,
    every: Annotated[bool, typer.Option(help="work out every candidate: slow")] = False,
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    among: AmongOption = None,
    json: Json = False,
) -> None:
    """The best drinks for a coffee, with amounts, balance after the bed, and the proof."""
    question = ComposeQuestion(
        coffee=coffee_given(roast, process, species, notes, dose, grind),
        shelf=None if shelf is None else [OnShelf(name) for name in split_at_commas(shelf)],
        limit=limit,
        free_dose=free_dose,
        measures=Measures(step=JiggerStep.read(step)),
        shape=Shape(modifiers=(1, modifiers), bitters=(0, bitters)),
        limits=Limits(
            must=frozenset(split_at_commas(must)),
            must_not=frozenset(split_at_commas(must_not)),
            without_allergens=frozenset(split_at_commas(without)),
            least_abv=least_abv / 100.0,
            most_abv=most_abv / 100.0,
            most_caffeine_mg=most_caffeine,
            least_glass_ml=least_ml,
            most_glass_ml=most_ml,
        ),
        variety=Variety(repeat_pairs=repeats),
        novelty=novelty,
        every=every,
    )
    known = load_known()
    if among is not None:
        bar = this_bar(known)
        known = bar.known_of(question.coffee)
        question = composed(question, bar, on_shelf=among is Among.SHELF)
    answer = composed_by(known, question, tell=_tell if every else None)
    if json:
        print_json(compose_json(known, answer))
    else:
        _print(answer)


def _tell(progress: Progress) -> None:
    """How far an exhaustive run is, on one line of stderr."""
    if progress.share is not None:
        end = "\n" if progress.share >= 1.0 else ""
        print(f"\r{progress.share:6.1%} of all candidates", end=end, file=sys.stderr, flush=True)


def _print(answer: ComposeAnswer) -> None:
    for drink in answer.drinks:
        print(_line(answer, drink))
        reading = drink.measured.reading
        after = reading.after
        words = reading.balance_after.words or "in balance"
        print(
            f"    {reading.verdict}: {words}; {100 * after.abv.mid:.0f} % vol, "
            f"{after.volume_ml.mid:.0f} mL, {after.caffeine_mg.mid:.0f} mg caffeine "
            f"({after.caffeine_mg.low:.0f} to {after.caffeine_mg.high:.0f})"
        )
    proof = answer.composition.certificate
    certain = "proved" if proof.proved else "stopped early"
    how = "every one worked out"
    if not proof.by_enumeration:
        how = f"{proof.groups_opened:,} of {proof.groups:,} sets of bottles had to be opened"
    print(f"{certain}: {proof.candidates:,} candidates, {how}")


def _line(answer: ComposeAnswer, drink: ComposedDrink) -> str:
    measures = answer.question.measures
    pours = ", ".join(
        f"{spoken_amount(p.ingredient, p.volume_ml, measures)} {p.ingredient.name}"
        for p in drink.composed.drink.pours
    )
    bed = drink.composed.drink.bed
    dose = f", over {bed.dose_g:g} g" if bed is not None else ""
    return f"{drink.composed.score:.2f}  {pours}{dose}"
