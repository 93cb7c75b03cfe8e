"""The bar's own ingredients: what the dataset does not know."""

from __future__ import annotations

from collections.abc import Iterator
from typing import BinaryIO

from service.bar import (
    Bar,
    FileImport,
    OwnIngredient,
    bar_dialect,
    list_own_ingredients,
    load_own_ingredients,
    own_csv_lines,
)
from service.ingredients import Catalogue


def own_ingredients(bar: Bar) -> tuple[OwnIngredient, ...]:
    """All of them, in order of id."""
    with bar.look() as unit:
        return list_own_ingredients(unit)


def own_file(bar: Bar) -> Iterator[str]:
    """Own ingredients as CSV, line by line, as spreadsheets in the bar's language open it."""
    with bar.look() as unit:
        yield from own_csv_lines(list_own_ingredients(unit), bar_dialect(unit))


def preview_own_file(bar: Bar, catalogue: Catalogue, file: BinaryIO) -> FileImport:
    """What loading a file would do, row by row; nothing is written."""
    with bar.look() as unit:
        return load_own_ingredients(unit, catalogue, file, write=False)


def load_own_file(bar: Bar, who: str, catalogue: Catalogue, file: BinaryIO) -> FileImport:
    """Load a file: the good rows are kept, the bad ones come back with line and reason."""
    with bar.unit(who) as unit:
        return load_own_ingredients(unit, catalogue, file, write=True)
