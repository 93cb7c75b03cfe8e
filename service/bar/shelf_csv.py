"""The shelf as a CSV file: what stands in its cells, and how people's spreadsheets write them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any, BinaryIO, Final

from service.bar.bottles import Bottle, BottleDraft
from service.bar.words import Language
from service.kit import BadData

# `id` and `version` say which bottle a row was written from; both stay empty for a new bottle.
COLUMNS: Final = ("id", "version", *(f.name for f in fields(BottleDraft)), "out")
NEEDED: Final = ("ingredient", "size_ml")
NUMBERS: Final = ("abv_percent", "sugar_g_per_l", "size_ml", "price", "stock_ml")
BYTE_ORDER_MARK: Final = "\ufeff"
LONGEST_LINE: Final = 10_000
# What may part the cells, and the decimal mark that goes with it. Where semicolons part cells,
# commas stand in numbers; behind tabs either may stand.
_MARK: Final = {",": ".", ";": ",", "\t": "no mark"}
_YES_NO: Final = {"": False, "no": False, "yes": True, "false": False, "true": True,
                  "0": False, "1": True}  # fmt: skip
_NUMBER: Final = re.compile(r"-?(\d+([.,]\d*)?|[.,]\d+)([eE][-+]?\d+)?")
_TWO_WAYS: Final = re.compile(r"-?[1-9]\d{0,2}[.,]\d{3}")


@dataclass(frozen=True, slots=True)
class Dialect:
    """How a CSV is written: cells parted by `delimiter`, numbers with `mark`."""

    delimiter: str = ","
    mark: str = "."

    @classmethod
    def of(cls, language: Language) -> Dialect:
        """What a spreadsheet in that language opens without asking."""
        return cls(";", ",") if language.decimal_comma else cls()


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a file: the line it starts on, its cells by column, and how its numbers stand."""

    line: int
    cells: Mapping[str, str]
    mark: str = "."


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that was not loaded, why, and its cells as they were given."""

    line: int
    column: str
    reason: str
    cells: tuple[str, ...] = ()


def csv_lines(bottles: Iterable[Bottle], dialect: Dialect) -> Iterator[str]:
    """The file line by line, with a byte order mark so that spreadsheets see it is UTF-8."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=dialect.delimiter, lineterminator="\r\n")

    def written(cells: Iterable[str]) -> str:
        out.seek(0)
        out.truncate()
        writer.writerow(cells)
        return out.getvalue()

    yield BYTE_ORDER_MARK + written(COLUMNS)
    for bottle in bottles:
        yield written(_cell(getattr(bottle, column), dialect) for column in COLUMNS)


def read_rows(file: BinaryIO) -> Iterator[Row | BadRow]:
    """Rows of an uploaded file, one at a time. BadData where it is no such file at all."""
    text = io.TextIOWrapper(file, encoding="utf-8-sig", newline="")
    try:
        yield from _rows(text)
    except UnicodeDecodeError:
        raise BadData(
            "the file is not UTF-8 text; save it again as 'CSV UTF-8'", field="file"
        ) from None
    finally:
        text.detach()  # the file is the caller's to close


def draft_of(row: Row, ingredient_id: Callable[[str], str]) -> tuple[BottleDraft, bool]:
    """The bottle that a row describes, and whether it is out; BadData names the column."""
    cells = {column: row.cells.get(column, "") for column in COLUMNS}
    for column in NEEDED:
        if not cells[column]:
            raise BadData("this cell must not be empty", field=column)
    numbers = {name: read_number(cells[name], name, row.mark) for name in NUMBERS if cells[name]}
    out = cells["out"].lower()
    if out not in _YES_NO:
        raise BadData(f"{cells['out']!r} is neither yes nor no", field="out")
    draft = BottleDraft(
        ingredient=ingredient_id(cells["ingredient"]),
        label=cells["label"],
        allergens=tuple(filter(None, map(str.strip, re.split(r"[;,|]", cells["allergens"])))),
        notes=cells["notes"],
        **numbers,
    )
    return draft, _YES_NO[out]


def read_number(text: str, field: str, mark: str = ".") -> float:
    """A number with a decimal point or comma; `mark` is the one that the file itself uses.

    What the other one leaves open (a thousand, or a thousandth?) is not guessed at.

    >>> read_number("44,7", "abv_percent"), read_number("1.125", "price")
    (44.7, 1.125)
    """
    plain = text.replace("\u00a0", "").replace("\u202f", "").replace(" ", "").removesuffix("%")
    if not _NUMBER.fullmatch(plain):
        raise BadData(f"{text!r} is not a number; write it like 44.7 or 44,7", field=field)
    if _TWO_WAYS.fullmatch(plain) and mark not in plain:
        raise BadData(f"{text!r} can be read two ways; leave out the thousands mark", field=field)
    return float(plain.replace(",", "."))


def _rows(text: io.TextIOWrapper) -> Iterator[Row | BadRow]:
    first = text.readline(LONGEST_LINE)
    columns, delimiter = _head(first)
    mark = _MARK[delimiter]
    reader = csv.reader(text, delimiter=delimiter, strict=True)
    while True:
        line = reader.line_num + 2  # the head was line 1
        try:
            cells = [cell.strip() for cell in next(reader)]
        except StopIteration:
            return
        except csv.Error:
            yield BadRow(line, "", "a quote is opened and not closed, or closed too early")
            continue
        if not any(cells):
            continue
        if any(cells[len(columns) :]):
            reason = f"{len(cells)} cells stand under {len(columns)} columns; quote a cell that "
            yield BadRow(line, "", f"{reason}holds {delimiter!r}", tuple(cells))
            continue
        yield Row(line, dict(zip(columns, cells, strict=False)), mark)


def _head(line: str) -> tuple[list[str], str]:
    """The columns of the first line, and what parts them."""
    delimiter = max(_MARK, key=line.count)
    columns = [
        name.strip().lower().replace(" ", "_")
        for name in next(csv.reader([line], delimiter=delimiter), [])
    ]
    for name in columns:
        if name not in COLUMNS:
            raise BadData(
                f"the column {name!r} is not known; take {', '.join(COLUMNS)}", field="file"
            )
        if columns.count(name) > 1:
            raise BadData(f"the column {name!r} stands twice in the first line", field="file")
    for name in NEEDED:
        if name not in columns:
            raise BadData(f"the first line needs the column {name!r}", field="file")
    return columns, delimiter


def _cell(value: Any, dialect: Dialect) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return ""
    if isinstance(value, float):
        return repr(value).removesuffix(".0").replace(".", dialect.mark)
    if isinstance(value, tuple):
        return ";".join(value)
    return str(value)
