"""The shelf: what stands there, what is out, and the shelf as a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import BinaryIO

from service.bar import (
    BadRow,
    Bar,
    Bottle,
    FileImport,
    Progress,
    Unit,
    bar_dialect,
    bottles_on_shelf,
    csv_lines,
    list_own_ingredients,
    load_shelf,
    read_bottle,
    with_own_ingredients,
)
from service.ingredients import Catalogue


def catalogue_in(unit: Unit, catalogue: Catalogue) -> Catalogue:
    """Likewise, inside a unit that is open already."""
    return with_own_ingredients(catalogue, list_own_ingredients(unit))


def shelf(bar: Bar) -> tuple[Bottle, ...]:
    """Every bottle, by ingredient."""
    with bar.look() as unit:
        return bottles_on_shelf(unit)


def bottle(bar: Bar, bottle_id: int) -> Bottle:
    """One bottle."""
    with bar.look() as unit:
        return read_bottle(unit, bottle_id)


def shelf_file(bar: Bar) -> Iterator[str]:
    """The shelf as CSV, piece by piece, as spreadsheets in the bar's language open it."""
    with bar.look() as unit:
        yield from csv_lines(bottles_on_shelf(unit), bar_dialect(unit))


def preview_shelf_file(bar: Bar, catalogue: Catalogue, file: BinaryIO) -> FileImport:
    """What loading a file would do, row by row; nothing is written."""
    with bar.look() as unit:
        return load_shelf(unit, catalogue_in(unit, catalogue), file, write=False)


def load_shelf_file(
    bar: Bar,
    who: str,
    catalogue: Catalogue,
    file: BinaryIO,
    *,
    progress: Progress | None = None,
    on_bad: Callable[[BadRow], None] | None = None,
) -> FileImport:
    """Load a file: the good rows are kept, the bad ones come back with line and reason."""
    with bar.unit(who) as unit:
        return load_shelf(
            unit,
            catalogue_in(unit, catalogue),
            file,
            write=True,
            progress=progress,
            on_bad=on_bad,
        )
