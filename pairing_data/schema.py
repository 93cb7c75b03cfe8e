"""What the data package descriptor says of each table, as values to check against."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

DESCRIPTOR: Final = "datapackage.json"


@dataclass(frozen=True, slots=True)
class End:
    """One end of a link: a column of a table."""

    table: str
    column: str


@dataclass(frozen=True, slots=True)
class Limits:
    """What one value may be."""

    enum: tuple[str, ...] = ()
    pattern: str = ""
    minimum: float | None = None
    exclusive_minimum: float | None = None
    maximum: float | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """A column. A list column holds several items; its limits and link hold for each item.

    `also` are values that need no other end of the link.
    """

    name: str
    type: str
    required: bool
    unique: bool
    limits: Limits
    delimiter: str = ""
    link: End | None = None
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TableSchema:
    """One table: its columns, its key, its links, and the checks that are ours."""

    name: str
    path: str
    fields: tuple[Field, ...]
    key: tuple[str, ...]
    sorted_by: tuple[str, ...]
    ranges: tuple[tuple[str, str, str], ...]
    used_by: tuple[End, ...]
    rules: tuple[str, ...]

    @property
    def columns(self) -> list[str]:
        return [field.name for field in self.fields]


def read_package(folder: Path) -> tuple[TableSchema, ...]:
    """The tables that the descriptor in a folder lists."""
    package = json.loads((folder / DESCRIPTOR).read_text(encoding="utf-8"))
    return tuple(_table(resource) for resource in package["resources"])


def _table(resource: Mapping[str, Any]) -> TableSchema:
    schema, checks = resource["schema"], resource.get("checks", {})
    links = {
        link["fields"][0]: End(link["reference"]["resource"], link["reference"]["fields"][0])
        for link in schema.get("foreignKeys", [])
    }
    return TableSchema(
        name=resource["name"],
        path=resource["path"],
        fields=tuple(_field(entry, links) for entry in schema["fields"]),
        key=tuple(schema["primaryKey"]),
        sorted_by=tuple(checks.get("sorted_by", ())),
        ranges=tuple((low, usual, high) for low, usual, high in checks.get("ranges", ())),
        used_by=tuple(End(end["resource"], end["field"]) for end in checks.get("used_by", ())),
        rules=tuple(checks.get("rules", ())),
    )


def _field(entry: Mapping[str, Any], links: Mapping[str, End]) -> Field:
    constraints = entry.get("constraints", {})
    items = entry.get("items", {})
    link = links.get(entry["name"])
    own = items.get("link") or entry.get("link") or {}
    if own:
        link = End(own["resource"], own["field"])
    return Field(
        name=entry["name"],
        type=entry["type"],
        required=bool(constraints.get("required", False)),
        unique=bool(constraints.get("unique", False)),
        limits=_limits(items if entry["type"] == "list" else constraints),
        delimiter=entry.get("delimiter", ""),
        link=link,
        also=tuple(own.get("also", ())),
    )


def _limits(entry: Mapping[str, Any]) -> Limits:
    return Limits(
        enum=tuple(entry.get("enum", ())),
        pattern=entry.get("pattern", ""),
        minimum=entry.get("minimum"),
        exclusive_minimum=entry.get("exclusiveMinimum"),
        maximum=entry.get("maximum"),
    )
