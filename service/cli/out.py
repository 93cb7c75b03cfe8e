"""Writing to the terminal: JSON as the API gives it, or columns for people."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from typing import Annotated, Any

import orjson
import typer

from service.kit import Interval, plain_number

Json = Annotated[bool, typer.Option("--json", help="print the API's body as JSON")]


def print_json(content: Any) -> None:
    """The same as the API writes, spread over lines for people."""
    plain = orjson.loads(orjson.dumps(content))
    sys.stdout.write(orjson.dumps(plain, option=orjson.OPT_INDENT_2).decode() + "\n")


def print_table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Columns as wide as their widest cell."""
    lines = [list(head), *(list(row) for row in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(head))]
    for line in lines:
        print(
            "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        )


def range_words(interval: Interval) -> str:
    """`22.7 (21.6 to 24.6)`: the middle, and its 80 % range."""
    low, mid, high = (plain_number(v) for v in (interval.low, interval.mid, interval.high))
    return f"{mid} ({low} to {high})"
