"""Whether one cell is what its column allows; the answer is a reason, or nothing."""

from __future__ import annotations

import re
from typing import Final

from pairing_data.schema import Field, Limits

_NUMBER: Final = re.compile(r"-?\d+(\.\d+)?([eE]-?\d+)?")
_INTEGER: Final = re.compile(r"-?\d+")
_SHOWN: Final = 60


def reason_against(field: Field, cell: str) -> str | None:
    """Why a cell cannot stand in this column; None if it can.

    >>> abv = Field("abv_percent", "number", True, False, Limits(minimum=0, maximum=96))
    >>> reason_against(abv, "40")
    >>> reason_against(abv, "140")
    '140 is above the largest allowed value, 96'
    """
    if cell != cell.strip():
        return f"{shown(cell)} begins or ends with a space; remove it"
    if not cell:
        return "the cell is empty; this column needs a value" if field.required else None
    if field.type == "list":
        return _reason_against_list(field, cell)
    if field.type in ("number", "integer"):
        return _reason_against_number(field, cell)
    return _reason_against_text(field.limits, cell)


def items(field: Field, cell: str) -> list[str]:
    """The values in a cell: several in a list column, else one, none if empty."""
    if not cell:
        return []
    return cell.split(field.delimiter) if field.type == "list" else [cell]


def shown(cell: str) -> str:
    """A cell as a reason quotes it: never longer than a line."""
    return repr(cell if len(cell) <= _SHOWN else f"{cell[:_SHOWN]}...")


def _reason_against_list(field: Field, cell: str) -> str | None:
    seen: set[str] = set()
    for item in items(field, cell):
        if not item or item != item.strip():
            return f"an item of {shown(cell)} is empty or has a space beside it"
        if item in seen:
            return f"{item!r} stands twice in the list"
        seen.add(item)
        if reason := _reason_against_text(field.limits, item):
            return reason
    return None


def _reason_against_number(field: Field, cell: str) -> str | None:
    whole = field.type == "integer"
    if not (_INTEGER if whole else _NUMBER).fullmatch(cell):
        kind = "a whole number, like 3" if whole else "a number, like 12.5"
        return f"{shown(cell)} is not {kind}"
    value, limits = float(cell), field.limits
    if limits.minimum is not None and value < limits.minimum:
        return f"{cell} is below the smallest allowed value, {limits.minimum:g}"
    if limits.exclusive_minimum is not None and value <= limits.exclusive_minimum:
        return f"{cell} must be above {limits.exclusive_minimum:g}"
    if limits.maximum is not None and value > limits.maximum:
        return f"{cell} is above the largest allowed value, {limits.maximum:g}"
    return None


def _reason_against_text(limits: Limits, cell: str) -> str | None:
    if limits.enum and cell not in limits.enum:
        return f"{shown(cell)} is not one of {', '.join(limits.enum)}"
    if limits.pattern and not re.search(limits.pattern, cell):
        return f"{shown(cell)} does not have the form {limits.pattern}"
    return None
