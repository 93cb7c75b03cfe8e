"""`marc swap`: a bottle is out; what to pour instead."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
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
from service.cli.out import Json, print_json, print_table
from service.cli.this_bar import Among, AmongOption, this_bar
from service.counter.known import Known, load_known
from service.counter.suggest import bed_of
from service.counter.swap import SwapQuestion, pours_of_text, swap
from service.counter.swap_json import answer_words, rescue_words, stand_in_words, swap_json
from service.counter.this_bar import swapped
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit import BadData
from service.kit.units import Amount
from service.recommend.swap import StandIns

SpecOption = Annotated[
    list[str] | None,
    typer.Option(
        "--spec",
        help="the drink: bourbon=45ml and so on (repeat it, or put commas between), a file, or -",
    ),
]


def swap_command(
    ingredient: Annotated[str, typer.Argument(help="what is out: id, name or trade word")],
    spec: SpecOption = None,
    shelf: Annotated[
        list[str] | None,
        typer.Option(help="what stands there (repeat it, or put commas between); all by default"),
    ] = None,
    avoid: Annotated[
        list[str] | None, typer.Option(help="an allergen that nothing new may hold; repeat it")
    ] = None,
    limit: Annotated[int, typer.Option(help="replacements at most")] = 10,
    coffee: Annotated[bool, typer.Option(help="poured through coffee, or not")] = True,
    roast: RoastOption = Roast.MEDIUM,
    process: ProcessOption = Process.WASHED,
    species: SpeciesOption = Species.ARABICA,
    dose: DoseOption = 15.0,
    grind: GrindOption = Grind.MEDIUM_FINE,
    notes: NotesOption = "",
    among: AmongOption = None,
    json: Json = False,
) -> None:
    """Replacements for a bottle that ran out; with a drink, the new amounts of everything."""
    known = load_known()
    cup = coffee_given(roast, process, species, notes, dose, grind) if coffee else None
    question = SwapQuestion(
        ingredient,
        pours=spec_given(spec),
        shelf=None if shelf is None else split_at_commas(shelf),
        limit=limit,
        avoid=frozenset(split_at_commas(avoid)),
        bed=None if cup is None else bed_of(cup),
    )
    if among is not None:
        bar = this_bar(known)
        known, question = bar.known_of(cup), swapped(question, bar, on_shelf=among is Among.SHELF)
    answer = swap(known, question)
    if json:
        print_json(swap_json(known, answer))
    elif isinstance(answer, StandIns):
        _print_stand_ins(known, answer)
    else:
        print(answer_words(known, answer))
        for one in (*answer.swaps, *answer.twos):
            names = " and ".join(known.catalogue.ingredients[i].name for i in one.ingredients)
            print(f"\n{names} ({one.score:.2f}, confidence {one.confidence:.2f})")
            print(f"  {rescue_words(known, one)}")


def spec_given(texts: Iterable[str] | None) -> list[tuple[str, Amount]]:
    """The pours of a spec: each text a file, `-` for stdin, or the pours themselves."""
    return [pour for text in texts or () for pour in pours_of_text(_read(text))]


def _read(text: str) -> str:
    if text == "-":
        return sys.stdin.read()
    if "=" in text:
        return text
    try:
        return Path(text).read_text(encoding="utf-8-sig")
    except OSError:
        raise BadData(
            f"{text[:80]!r} is neither a file nor a pour; write it like bourbon=45ml", field="spec"
        ) from None
    except UnicodeDecodeError:
        raise BadData(f"{text} is not UTF-8 text", field="spec") from None


def _print_stand_ins(known: Known, answer: StandIns) -> None:
    print(answer_words(known, answer))
    rows = [
        (
            known.catalogue.ingredients[one.ingredient].name,
            f"{one.score:.2f}",
            f"{one.confidence:.2f}",
            stand_in_words(one),
        )
        for one in answer.options
    ]
    if rows:
        print_table(("", "score", "confidence", ""), rows)
