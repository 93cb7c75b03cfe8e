"""What a person calls an ingredient: its id, its name or a trade word."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from service.drink import poured_ml
from service.ingredients import Catalogue, NameIndex
from service.ingredients.records import Ingredient, SpecPour
from service.kit.units import Amount, Weighed

Lines: TypeAlias = Sequence[tuple[str, Amount]]
"""Pours as they are asked for: any name, and mL or a weight."""


def id_named(catalogue: Catalogue, text: str, *, field: str) -> str:
    """The id of the ingredient meant; NotFound names the nearest known."""
    if text in catalogue.ingredients:
        return text
    return NameIndex.of(catalogue.ingredients.values()).find(text, field=field).id


def pours_named(catalogue: Catalogue, lines: Lines) -> tuple[SpecPour, ...]:
    """Pours by whatever name each is called, in mL; an error names the line."""
    found = []
    for number, (name, amount) in enumerate(lines):
        place = f"pours.{number}"
        known = id_named(catalogue, name, field=f"{place}.ingredient")
        volume_ml = line_ml(catalogue.ingredients[known], amount, place)
        found.append(SpecPour(known, volume_ml))
    return tuple(found)


def line_ml(ingredient: Ingredient, amount: Amount, place: str) -> float:
    """One line's amount in mL."""
    if not isinstance(amount, Weighed):
        return amount
    return poured_ml(ingredient, amount, field=f"{place}.mass_g")
