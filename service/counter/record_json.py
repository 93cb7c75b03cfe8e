"""The JSON of the bar's records, the same for API and command: every field under its own name."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any, TypeVar

from service.bar import (
    AuditLine,
    BadRow,
    BlindTest,
    FileImport,
    GoodRow,
    GuestLink,
    OwnIngredient,
    Sheet,
    Slice,
)
from service.ingredients.records import SpecPour
from service.kit import Interval

Json = dict[str, Any]
Record = TypeVar("Record")


def record_json(record: Any) -> Json:
    """A frozen record as JSON; moments in UTC."""
    return {field.name: _plain(getattr(record, field.name)) for field in fields(record)}


def slice_json(part: Slice[Record], one: Callable[[Record], Json] = record_json) -> Json:
    """Some of a list, and what the next part begins after."""
    return {
        "items": [one(each) for each in part.items],
        "next_after": part.next_after,
        "total": part.total,
    }


def changes_json(lines: Sequence[AuditLine], limit: int) -> Json:
    """As many lines of the audit as were asked for, of one more that was looked for."""
    items = [record_json(line) for line in lines[:limit]]
    return {"items": items, "next_before": items[-1]["id"] if len(lines) > limit else None}


def own_json(own: OwnIngredient) -> Json:
    """An own ingredient; its strength in % vol, as everywhere in the API."""
    return {**record_json(own), "composition": _holds(own.composition)}


def blind_test_json(test: BlindTest) -> Json:
    """A blind test; no result while it is open."""
    return {**record_json(test), "result": _plain(test.result) or None}


def guest_link_json(link: GuestLink) -> Json:
    """A guest link, with the address of its page."""
    return {**record_json(link), "address": f"/g/{link.token}"}


def sheet_json(tonight: Sheet) -> Json:
    """What is poured on a night, and what was put in place for it."""
    instead = tonight.substitution
    return {
        "spec": record_json(tonight.spec),
        "pours": [_pour(pour) for pour in tonight.pours],
        "substitution": None if instead is None else record_json(instead),
    }


def import_json(done: FileImport) -> Json:
    """What a file of the shelf came to, or would come to."""
    return _file_json(done, lambda r: {"bottle_id": r.key, "ingredient": r.values["ingredient"]})


def own_import_json(done: FileImport) -> Json:
    """What a file of own ingredients came to, or would come to."""
    return _file_json(done, lambda r: {"own_id": r.key, "name": r.values["name"]})


def _file_json(done: FileImport, names: Callable[[GoodRow], Json]) -> Json:
    return {
        "rows": done.rows,
        "counts": {str(outcome): count for outcome, count in sorted(done.counts.items())},
        "bad_count": done.bad_count,
        "good": [_good_row(row, names(row)) for row in done.good],
        "bad": [_bad_row(row) for row in done.bad],
    }


def _good_row(row: GoodRow, names: Json) -> Json:
    return {
        "line": row.line,
        "outcome": str(row.outcome),
        **names,
        "changes": {
            name: {"before": _of_field(name, before), "after": _of_field(name, after)}
            for name, (before, after) in row.changes.items()
        },
    }


def _of_field(name: str, value: Any) -> Any:
    is_composition = name == "composition" and value is not None
    return _holds(value) if is_composition else _plain(value)


def _holds(composition: Mapping[str, Interval]) -> Json:
    """A composition with its strength in % vol, as everywhere in the API."""
    return {
        ("abv_percent" if name == "abv" else name): _interval(
            span.scaled(100.0) if name == "abv" else span
        )
        for name, span in composition.items()
    }


def _bad_row(row: BadRow) -> Json:
    return {
        "line": row.line,
        "column": row.column,
        "reason": row.reason,
        "cells": list(row.cells),
    }


def _plain(value: Any) -> Any:
    match value:
        case StrEnum():
            return str(value)
        case datetime():
            return value.astimezone(UTC).isoformat().replace("+00:00", "Z")
        case date():
            return value.isoformat()
        case Interval():
            return _interval(value)
        case SpecPour():
            return _pour(value)
        case tuple() | list() | frozenset():
            return [_plain(each) for each in value]
        case Mapping():
            return {str(name): _plain(each) for name, each in value.items()}
    return value


def _interval(span: Interval) -> Json:
    return {"low": span.low, "mid": span.mid, "high": span.high}


def _pour(pour: SpecPour) -> Json:
    return {"ingredient": pour.ingredient, "volume_ml": pour.volume_ml}
