"""`marc pair`: what goes with a coffee."""

from __future__ import annotations

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
)
from service.cli.out import Json, print_json, print_table
from service.cli.this_bar import Among, AmongOption, this_bar
from service.counter.known import load_known
from service.counter.pairings_json import pairings_json
from service.counter.suggest import RANKED_ROLES, Pairings, Question, Suggestion, pairings
from service.counter.this_bar import suggested
from service.ingredients.records import Grind, Process, Roast, Role, Species

HEAD = ("", "score", "confidence", "sweet", "bitter", "after the bed")


def pair(
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    notes: NotesOption = "",
    role: Annotated[
        list[Role] | None, typer.Option(help="base, modifier or bitters; repeat it")
    ] = None,
    limit: Annotated[int, typer.Option(help="suggestions per role")] = 10,
    novelty: Annotated[float, typer.Option(help="0 tried ... 1 new")] = 0.5,
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    among: AmongOption = None,
    json: Json = False,
) -> None:
    """Rank bases, modifiers and bitters for a coffee, each with its balance checks."""
    known = load_known()
    coffee = coffee_given(roast, process, species, notes, dose, grind)
    roles = tuple(dict.fromkeys(role)) if role else RANKED_ROLES
    question = Question(coffee, roles, limit, novelty)
    if among is not None:
        bar = this_bar(known)
        known = bar.known_of(coffee)
        question = suggested(question, bar, on_shelf=among is Among.SHELF)
    answer = pairings(known, question)
    if json:
        print_json(pairings_json(known, answer))
    else:
        _print(answer)


def _print(answer: Pairings) -> None:
    notes = answer.coffee.notes
    print(f"coffee: {', '.join(answer.coffee.strongest)}")
    if notes.negated:
        print(f"not: {', '.join(m.phrase for m in notes.negated)}")
    for word in notes.unknown:
        nearest = ", ".join(near.phrase for near in word.nearest)
        print(f"unknown: {word.text!r}; nearest: {nearest or 'none'}")
    for role, found in answer.suggestions.items():
        print(f"\n{role}")
        print_table(HEAD, (_row(s) for s in found))


def _row(suggestion: Suggestion) -> tuple[str, ...]:
    standard = suggestion.standard
    return (
        suggestion.ingredient.name,
        f"{suggestion.affinity.score:.2f}",
        f"{suggestion.affinity.confidence:.2f}",
        standard.sweetness.words,
        standard.bitterness.words,
        str(standard.reading.verdict),
    )
