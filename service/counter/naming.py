"""What a person calls an ingredient: its id, its name or a trade word."""

from __future__ import annotations

from collections.abc import Sequence

from service.ingredients import Catalogue, NameIndex
from service.ingredients.records import SpecPour


def id_named(catalogue: Catalogue, text: str, *, field: str) -> str:
    """The id of the ingredient meant; NotFound names the nearest known."""
    if text in catalogue.ingredients:
        return text
    return NameIndex.of(catalogue.ingredients.values()).find(text, field=field).id


def pours_named(catalogue: Catalogue, lines: Sequence[tuple[str, float]]) -> tuple[SpecPour, ...]:
    """Pours by whatever name each is called; an error names the line."""
    return tuple(
        SpecPour(id_named(catalogue, name, field=f"pours.{number}.ingredient"), volume_ml)
        for number, (name, volume_ml) in enumerate(lines)
    )
