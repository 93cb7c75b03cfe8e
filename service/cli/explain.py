"""`marc explain`: why, for a guest, for staff, or with all the evidence; why not, and what if."""

from __future__ import annotations

from enum import StrEnum
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
from service.cli.swap import SpecOption, spec_given
from service.counter.coffees import Coffee
from service.counter.explain import (
    Poured,
    explain_pair,
    explain_poured,
    explain_with_coffee,
    explanation_json,
    what_if_changed,
    what_if_json,
    why_not_json,
    why_not_suggested,
)
from service.counter.known import Known, load_known
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit import BadData
from service.recommend.explain import Explanation, Said


class Length(StrEnum):
    """How much is told."""

    GUEST = "guest"
    STAFF = "staff"
    EVIDENCE = "evidence"


def explain(
    ingredient: Annotated[str, typer.Argument(help="a bottle; leave it out with --spec")] = "",
    partner: Annotated[
        str, typer.Option("--with", help="another bottle instead of the coffee")
    ] = "",
    spec: SpecOption = None,
    instead: Annotated[
        list[str] | None, typer.Option(help="what if the spec were this: pours or a file")
    ] = None,
    why_not: Annotated[
        bool, typer.Option("--why-not", help="what the bottle lacks against the last suggested")
    ] = False,
    length: Annotated[Length, typer.Option(help="for whom")] = Length.STAFF,
    coffee: Annotated[bool, typer.Option(help="poured through coffee, or not")] = True,
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    notes: NotesOption = "",
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    json: Json = False,
) -> None:
    """Say why a bottle suits a coffee (or another bottle), or explain a whole drink."""
    known = load_known()
    cup = coffee_given(roast, process, species, notes, dose, grind)
    if instead:
        _what_if(known, spec, instead, cup if coffee else None, json)
    elif why_not:
        answer = why_not_suggested(known, cup, ingredient)
        print_json(why_not_json(answer)) if json else _print_said(answer.said)
    else:
        explanation = _explained(known, ingredient, partner, spec, cup, coffee)
        if json:
            print_json(explanation_json(known, explanation))
        else:
            _print(explanation, length)


def _explained(
    known: Known,
    ingredient: str,
    partner: str,
    spec: list[str] | None,
    cup: Coffee,
    through_coffee: bool,
) -> Explanation:
    if spec:
        return explain_poured(known, Poured(spec_given(spec), cup if through_coffee else None))
    if not ingredient:
        raise BadData("name a bottle, or give a drink with --spec", field="ingredient")
    if partner:
        return explain_pair(known, ingredient, partner)
    return explain_with_coffee(known, cup, ingredient)


def _what_if(
    known: Known, spec: list[str] | None, instead: list[str], cup: Coffee | None, json: bool
) -> None:
    if not spec:
        raise BadData("give the drink as it is with --spec, too", field="spec")
    was, now = (Poured(spec_given(texts), cup) for texts in (spec, instead))
    answer = what_if_changed(known, was, now)
    if json:
        print_json(what_if_json(answer))
        return
    _print_said(answer.said)
    print_table(
        ("", "was", "would be", "unit"),
        [(n.name, f"{n.was:.3g}", f"{n.now:.3g}", n.unit) for n in answer.numbers],
    )


def _print(explanation: Explanation, length: Length) -> None:
    if length is Length.GUEST:
        _print_said(explanation.guest)
        return
    _print_said(explanation.staff)
    if length is Length.EVIDENCE:
        for pair in explanation.evidence.pairs:
            print(f"\n{pair.a} with {pair.b}: {pair.score:.3f}")
            rows = [
                (str(f.kind), ", ".join(f.about[2:]), f"{f.value:+.4f}", ", ".join(f.sources))
                for f in pair.contributions
            ]
            print_table(("part", "what", "amount", "sources"), rows)
            for path in pair.paths:
                print(f"path: {' - '.join(path.about)} ({path.value:.3g})")


def _print_said(said: tuple[Said, ...]) -> None:
    print(" ".join(one.text for one in said))
