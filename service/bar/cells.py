"""The values of the records as cells of a CSV file, and back again without loss."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any, Final

from sqlalchemy import JSON, Boolean, Column, Date, Dialect, Double, Integer
from sqlalchemy.types import TypeDecorator

from service.bar.columns import Moment, Words
from service.kit import BadData

_TRUTH: Final = {"true": True, "false": False}


class Kind(StrEnum):
    """What a column holds, in the words of a table schema."""

    STRING = "string"
    INTEGER = "integer"
    NUMBER = "number"
    BOOLEAN = "boolean"
    DATE = "date"
    DATETIME = "datetime"
    JSON = "any"


def kind_of(column: Column[Any]) -> Kind:
    """The kind of a column."""
    if isinstance(column.type, Moment):
        return Kind.DATETIME
    if isinstance(column.type, Words):
        return Kind.STRING
    plain = column.type.impl if isinstance(column.type, TypeDecorator) else column.type
    kinds = {JSON: Kind.JSON, Boolean: Kind.BOOLEAN, Date: Kind.DATE, Double: Kind.NUMBER,
             Integer: Kind.INTEGER}  # fmt: skip
    return next((kind for sort, kind in kinds.items() if isinstance(plain, sort)), Kind.STRING)


def to_cell(column: Column[Any], value: Any, dialect: Dialect) -> str:
    """A value as text. Nothing said is an empty cell: no text column may be NULL."""
    kind = kind_of(column)
    if value is None:
        return ""
    if kind is Kind.JSON:
        if isinstance(column.type, TypeDecorator):
            value = column.type.process_bind_param(value, dialect)
        return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    if kind is Kind.DATETIME:
        return str(value.astimezone(UTC).isoformat()).replace("+00:00", "Z")
    if kind is Kind.BOOLEAN:
        return "true" if value else "false"
    return repr(value) if kind is Kind.NUMBER else str(value)


def from_cell(column: Column[Any], text: str, dialect: Dialect) -> Any:
    """The value that a cell was written from; BadData where it was written by nobody here."""
    kind = kind_of(column)
    if not text and kind is not Kind.STRING:
        if not column.nullable:
            raise BadData("this cell must not be empty", field=column.name)
        return None
    try:
        return _read(column, kind, text, dialect)
    except (ValueError, KeyError, TypeError):
        raise BadData(f"{text[:80]!r} is no {kind}", field=column.name) from None


def _read(column: Column[Any], kind: Kind, text: str, dialect: Dialect) -> Any:
    match kind:
        case Kind.JSON:
            value = json.loads(text)
            if isinstance(column.type, TypeDecorator):
                return column.type.process_result_value(value, dialect)
            return value
        case Kind.DATETIME:
            return datetime.fromisoformat(text)
        case Kind.DATE:
            return date.fromisoformat(text)
        case Kind.BOOLEAN:
            return _TRUTH[text]
        case Kind.INTEGER:
            return int(text)
        case Kind.NUMBER:
            return float(text)
        case Kind.STRING:
            return column.type.words(text) if isinstance(column.type, Words) else text
