"""The shelf: what stands there, what is out, and the shelf as a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import BinaryIO

from service.bar import (
    BadRow,
    Bar,
    Bottle,
    BottleDraft,
    Dialect,
    FileImport,
    Progress,
    Unit,
    add_bottle,
    bottles_on_shelf,
    csv_lines,
    list_own_ingredients,
    load_shelf,
    move_stock,
    read_bar_settings,
    read_bottle,
    remove_bottle,
    rewrite_bottle,
    set_out,
    with_own_ingredients,
)
from service.ingredients import Catalogue


def bar_catalogue(bar: Bar, catalogue: Catalogue) -> Catalogue:
    """The dataset with the bar's own ingredients beside it."""
    with bar.look() as unit:
        return catalogue_in(unit, catalogue)


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


def put_on_shelf(bar: Bar, who: str, catalogue: Catalogue, draft: BottleDraft) -> Bottle:
    """A new bottle."""
    with bar.unit(who) as unit:
        return add_bottle(unit, catalogue_in(unit, catalogue), draft)


def relabel_bottle(
    bar: Bar, who: str, catalogue: Catalogue, bottle_id: int, version: int, draft: BottleDraft
) -> Bottle:
    """Correct what is written of a bottle; Conflict where somebody else did since `version`."""
    with bar.unit(who) as unit:
        return rewrite_bottle(unit, catalogue_in(unit, catalogue), bottle_id, version, draft)


def mark_out(bar: Bar, who: str, bottle_id: int, *, out: bool = True) -> Bottle:
    """A bottle is out, or back in."""
    with bar.unit(who) as unit:
        return set_out(unit, bottle_id, out)


def count_stock(bar: Bar, who: str, bottle_id: int, by_ml: float) -> Bottle:
    """So much came in, or went [mL]."""
    with bar.unit(who) as unit:
        return move_stock(unit, bottle_id, by_ml)


def take_off_shelf(bar: Bar, who: str, bottle_id: int, version: int) -> None:
    """A bottle leaves for good."""
    with bar.unit(who) as unit:
        remove_bottle(unit, bottle_id, version)


def shelf_file(bar: Bar, dialect: Dialect | None = None) -> Iterator[str]:
    """The shelf as CSV, piece by piece, as spreadsheets in the bar's language open it."""
    with bar.look() as unit:
        written = dialect or Dialect.of(read_bar_settings(unit).language)
        yield from csv_lines(bottles_on_shelf(unit), written)


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
