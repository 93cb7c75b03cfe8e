"""Options that several commands share: a coffee, and pours."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

import typer

from service.counter.coffees import Coffee
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species

RoastOption = Annotated[Roast, typer.Option("--roast", help="how dark the coffee is roasted")]
ProcessOption = Annotated[Process, typer.Option("--process", help="how the fruit was taken off")]
SpeciesOption = Annotated[Species, typer.Option("--species", help="arabica or canephora")]
NotesOption = Annotated[str, typer.Option("--notes", help="the bag's tasting notes")]
DoseOption = Annotated[float, typer.Option("--dose", help="ground coffee in the filter, grams")]
GrindOption = Annotated[Grind, typer.Option("--grind", help="how fine it is ground")]
PourOption = Annotated[
    list[str],
    typer.Option("--pour", help="ingredient=amount, like bourbon=45ml or bourbon=42g; repeat it"),
]


def coffee_given(
    roast: Roast, process: Process, species: Species, notes: str, dose_g: float, grind: Grind
) -> Coffee:
    return Coffee(CoffeeProfile(roast, process, species), notes, dose_g, grind)


def split_at_commas(texts: Iterable[str] | None) -> list[str]:
    """Every name of an option that may be repeated or hold several."""
    return [part.strip() for text in texts or () for part in text.split(",") if part.strip()]
