"""CSV files as people's spreadsheets write them, read row by row; and ours as they open them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, BinaryIO, Final

from service.bar.words import Language
from service.kit import BadData

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
class Columns:
    """What may stand in the first line of a kind of file, what must, and how long it may be."""

    known: tuple[str, ...]
    needed: tuple[str, ...]
    most_rows: int | None = None


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


def written(
    columns: Sequence[str], rows: Iterable[Mapping[str, Any]], dialect: Dialect
) -> Iterator[str]:
    """A file line by line, with a byte order mark so that spreadsheets see it is UTF-8."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=dialect.delimiter, lineterminator="\r\n")

    def line(cells: Iterable[str]) -> str:
        out.seek(0)
        out.truncate()
        writer.writerow(cells)
        return out.getvalue()

    yield BYTE_ORDER_MARK + line(columns)
    for row in rows:
        yield line(cell_of(row[column], dialect) for column in columns)


def read_rows(file: BinaryIO, columns: Columns) -> Iterator[Row | BadRow]:
    """Rows of an uploaded file, one at a time. BadData where it is no such file at all."""
    text = io.TextIOWrapper(file, encoding="utf-8-sig", newline="")
    try:
        for count, row in enumerate(_rows(text, columns)):
            if count == columns.most_rows:
                raise BadData(
                    f"line {row.line}: more than {count} rows are too many; is it another list?",
                    field="file",
                )
            yield row
    except UnicodeDecodeError:
        raise BadData(
            "the file is not UTF-8 text; save it again as 'CSV UTF-8'", field="file"
        ) from None
    finally:
        text.detach()  # the file is the caller's to close


def cells_of(row: Row, columns: Columns) -> dict[str, str]:
    """The cell of every known column, empty where the file has none; BadData where one that is
    needed is empty."""
    cells = {column: row.cells.get(column, "") for column in columns.known}
    for column in columns.needed:
        if not cells[column]:
            raise BadData("this cell must not be empty", field=column)
    return cells


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


def read_yes_no(text: str, field: str) -> bool:
    """Yes or no; an empty cell is no."""
    if text.lower() not in _YES_NO:
        raise BadData(f"{text!r} is neither yes nor no", field=field)
    return _YES_NO[text.lower()]


def read_words(text: str) -> tuple[str, ...]:
    """The words of a cell that may hold several.

    >>> read_words("nuts; milk,eggs")
    ('nuts', 'milk', 'eggs')
    """
    return tuple(filter(None, map(str.strip, re.split(r"[;,|\n]", text))))


def cell_of(value: Any, dialect: Dialect) -> str:
    """A value as text that the readers above give back without loss."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return ""
    if isinstance(value, float):
        return repr(value).removesuffix(".0").replace(".", dialect.mark)
    if isinstance(value, tuple):
        return ";".join(value)
    return str(value)


def _rows(text: io.TextIOWrapper, wanted: Columns) -> Iterator[Row | BadRow]:
    columns, delimiter = _head(text.readline(LONGEST_LINE), wanted)
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


def _head(line: str, wanted: Columns) -> tuple[list[str], str]:
    """The columns of the first line, and what parts them."""
    delimiter = max(_MARK, key=line.count)
    columns = [
        name.strip().lower().replace(" ", "_")
        for name in next(csv.reader([line], delimiter=delimiter), [])
    ]
    if not any(columns):
        raise BadData(
            f"line 1 is empty; it has to name the columns, such as {', '.join(wanted.needed)}",
            field="file",
        )
    for name in columns:
        if name not in wanted.known:
            raise BadData(
                f"line 1: the column {name!r} is not known; take {', '.join(wanted.known)}",
                field="file",
            )
        if columns.count(name) > 1:
            raise BadData(f"line 1: the column {name!r} stands there twice", field="file")
    for name in wanted.needed:
        if name not in columns:
            raise BadData(f"line 1 needs the column {name!r}", field="file")
    return columns, delimiter
