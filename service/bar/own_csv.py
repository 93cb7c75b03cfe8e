"""The bar's own ingredients as a CSV file: which columns it has, and what stands in them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Any, BinaryIO, Final

from service.bar.checks import check_number
from service.bar.own_ingredients import (
    LEAST_WEIGHT,
    MOST,
    UNITS,
    OwnIngredient,
    OwnIngredientDraft,
)
from service.bar.spreadsheets import (
    BadRow,
    Columns,
    Dialect,
    Row,
    cell_of,
    cells_of,
    read_number,
    read_rows,
    read_words,
    written,
)
from service.ingredients.records import Role
from service.kit import BadData, Interval, ServiceError

# What each column holds, as the page and the notes print it.
MEANINGS: Final[Mapping[str, str]] = {
    "id": "which one a row was written from; empty for a new one",
    "version": "what was seen of it when the file was written; empty for a new one",
    "name": "what the bar calls it; must be filled, and free in the dataset",
    "role": "base, modifier, bitters, sweetener, seasoning or garnish; empty: as in like",
    "style": "a style of the dataset whose usual composition it has; may be empty",
    "like": "the bottle of the dataset that it resembles: id, name or trade word",
    "notes": "what it smells of, and how loud from 0 to 1: smoke:0.8; fig:0.3",
    "without": "notes that what it is like has, and this has not: vanilla; smoke",
    "abv_percent": "strength, % vol: 38, or 36 to 40, or 36 to 38 to 40 (the usual in the middle)",
    "sugar_g_per_l": "sugar, written likewise",
    "acid_g_per_l": "acid, likewise",
    "qhe_mg_per_l": "bitterness in quinine-hydrochloride equivalents, likewise",
    "caffeine_mg_per_l": "caffeine, likewise",
    "salt_g_per_l": "salt, likewise",
    "allergens": "nuts; milk",
    "remarks": "anything else",
}
COLUMNS: Final = Columns(known=tuple(MEANINGS), needed=("name",), most_rows=5_000)
ROLES: Final = tuple(role for role in Role if role is not Role.COFFEE)
# Column to field of the composition.
HOLDS: Final = {("abv_percent" if name == "abv" else name): name for name in MOST}
_COLUMN_OF: Final = {"like_id": "like"} | {f"composition.{n}": c for c, n in HOLDS.items()}
_BETWEEN_NOTES: Final = re.compile(r"[;|\n]|,(?!\d)")
_BETWEEN_ENDS: Final = re.compile(r"\s*(?:\.\.+|…|\bto\b)\s*|(?<=[\d%])\s*[-–]\s*(?=[\d.,])")
# One of each kind: known by its notes, by what it holds, and as like another, but. Invented.
EXAMPLES: Final = (
    OwnIngredientDraft(
        name="Pier smoke drops", role=Role.SEASONING, notes={"smoke": 0.8, "fig": 0.3},
        remarks="known by its notes alone",
    ),
    OwnIngredientDraft(
        name="Kelp syrup", role=Role.SWEETENER,
        composition={"abv": Interval.exactly(0.0), "sugar_g_per_l": Interval(580, 600, 640),
                     "salt_g_per_l": Interval.exactly(6.0)},
        remarks="known by what it holds",
    ),
    OwnIngredientDraft(
        name="Net loft vermouth", role=Role.MODIFIER, like_id="sweet-vermouth",
        notes={"orange": 0.6}, without=("vanilla",),
        composition={"abv": Interval.exactly(0.17)},
        remarks="like another, but with more of one note and without a second",
    ),
)  # fmt: skip


def own_csv_lines(every: Iterable[OwnIngredient], dialect: Dialect) -> Iterator[str]:
    """Own ingredients as a file, line by line; they load back without loss."""
    cells = ({"id": o.id, "version": o.version, **_cells(o, dialect)} for o in every)
    return written(COLUMNS.known, cells, dialect)


def own_template_lines(dialect: Dialect) -> Iterator[str]:
    """A file to begin with: the columns, and an invented example of each kind."""
    cells = ({"id": "", "version": "", **_cells(example, dialect)} for example in EXAMPLES)
    return written(COLUMNS.known, cells, dialect)


def own_rows(file: BinaryIO) -> Iterator[Row | BadRow]:
    """Rows of an uploaded file, one at a time. BadData where it is no such file at all."""
    return read_rows(file, COLUMNS)


def own_draft_of(
    row: Row,
    ingredient_id: Callable[[str], str],
    note_id: Callable[[str, str], str],
    role_of: Callable[[str], Role],
) -> OwnIngredientDraft:
    """What a row says; BadData names the column.

    `note_id` is given a word and its column; `role_of` gives the role of an ingredient's id.
    """
    cells = cells_of(row, COLUMNS)
    like_id = ingredient_id(cells["like"]) if cells["like"] else ""
    told = bool(cells["role"]) or not like_id
    role = _role(cells["role"]) if told else role_of(like_id)
    return OwnIngredientDraft(
        name=cells["name"],
        role=role,
        style=cells["style"],
        like_id=like_id,
        composition={
            name: _range(cells[column], column, row.mark)
            for column, name in HOLDS.items()
            if cells[column]
        },
        notes=_notes(cells["notes"], row.mark, note_id),
        without=tuple(note_id(word, "without") for word in read_words(cells["without"])),
        allergens=read_words(cells["allergens"]),
        remarks=cells["remarks"],
    )


def column_of(error: ServiceError) -> str:
    """The column to blame for what was wrong with a draft."""
    field = error.field or ""
    return _COLUMN_OF.get(field, field.split(".")[0])


def _cells(draft: OwnIngredientDraft, dialect: Dialect) -> dict[str, Any]:
    holds = {
        column: _range_cell(column, draft.composition.get(name), dialect)
        for column, name in HOLDS.items()
    }
    return {
        "name": draft.name,
        "role": str(draft.role),
        "style": draft.style,
        "like": draft.like_id,
        "notes": "; ".join(f"{n}:{cell_of(float(w), dialect)}" for n, w in draft.notes.items()),
        "without": "; ".join(draft.without),
        **holds,
        "allergens": "; ".join(draft.allergens),
        "remarks": draft.remarks,
    }


def _role(text: str) -> Role:
    try:
        role = Role(text.lower())
    except ValueError:
        role = Role.COFFEE
    if role not in ROLES:
        said = f"{text!r} is no role" if text else "this cell is empty"
        words = ", ".join(ROLES)
        raise BadData(f"{said}; take one of {words}, or say what it is like", field="role")
    return role


def _notes(text: str, mark: str, note_id: Callable[[str, str], str]) -> dict[str, float]:
    """Words with their weights; a word without one counts in full."""
    notes: dict[str, float] = {}
    for part in filter(None, map(str.strip, _BETWEEN_NOTES.split(text))):
        word, _, weight = part.partition(":")
        name = note_id(word.strip(), "notes")
        if name in notes:
            raise BadData(f"{word.strip()!r} stands in this cell twice", field="notes")
        loud = read_number(weight.strip(), "notes", mark) if weight.strip() else 1.0
        if not LEAST_WEIGHT <= loud <= 1.0:
            raise BadData(f"{word.strip()!r} is {loud:g}; write {LEAST_WEIGHT} to 1", field="notes")
        notes[name] = loud
    return notes


def _range(text: str, column: str, mark: str) -> Interval:
    """One number, two ends, or two ends with what is usual between them."""
    ends = [read_number(end, column, mark) for end in _BETWEEN_ENDS.split(text)]
    if len(ends) > 3 or ends != sorted(ends):
        raise BadData(
            f"{text!r} is no range; write 38, or 36 to 40, or 36 to 38 to 40", field=column
        )
    most, unit = MOST[HOLDS[column]], UNITS.get(HOLDS[column], "g/L")
    in_percent = HOLDS[column] == "abv"
    if in_percent:
        most, unit = most * 100.0, "% vol"
    for end in ends:
        check_number(column, end, 0.0, most, unit)
    if in_percent:
        ends = [float(Decimal(repr(end)) / 100) for end in ends]
    return Interval(ends[0], ends[1] if len(ends) == 3 else (ends[0] + ends[-1]) / 2.0, ends[-1])


def _range_cell(column: str, span: Interval | None, dialect: Dialect) -> str:
    if span is None:
        return ""
    ends = [span.low] if span.low == span.high else [span.low, span.mid, span.high]
    if HOLDS[column] == "abv":
        ends = [float(Decimal(repr(float(end))) * 100) for end in ends]
    return " to ".join(cell_of(float(end), dialect) for end in ends)
