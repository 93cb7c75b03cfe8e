"""What an OpenAPI document promises, one line per promise: losing a line breaks somebody.

A line names an operation and a place in what it takes (`<`) or answers (`>`). What is written so
that a change for the worse loses a line: a field that is optional when sent, a field that is always
answered, an answer that is never null. Only what must be sent is the other way round: a new `needs`
breaks those who do not send it yet.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Set
from typing import Any

Schema = dict[str, Any]


def promises(document: dict[str, Any]) -> frozenset[str]:
    """Every promise of a document."""
    schemas = document.get("components", {}).get("schemas", {})
    return frozenset(
        line
        for path, methods in document["paths"].items()
        for method, operation in methods.items()
        for line in _of_operation(f"{method.upper()} {path}", operation, schemas)
    )


def broken(before: Set[str], now: Set[str]) -> list[str]:
    """The promises that are lost, and what must now be sent in places that were there before."""
    new_needs = {line for line in now - before if " needs " in line}
    old = {line for line in new_needs if line.partition(" needs ")[0] in before}
    return sorted((before - now) | old)


def fingerprint(lines: Set[str]) -> str:
    """A short name for a set of promises; it changes with any of them."""
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()[:10]


def _of_operation(name: str, operation: Schema, schemas: Schema) -> Iterator[str]:
    yield name
    yield f"{name} is {operation['operationId']}"
    for parameter in operation.get("parameters", []):
        place = f"{name} < {parameter['in']} {parameter['name']}"
        needed = parameter.get("required", False)
        yield f"{name} needs {place}" if needed else f"{place} optional"
        yield from _of_sent(place, parameter["schema"], schemas, ())
    for kind, media in operation.get("requestBody", {}).get("content", {}).items():
        yield from _of_sent(f"{name} < {kind}", media.get("schema", {}), schemas, ())
    for status, response in operation["responses"].items():
        for kind, media in response.get("content", {}).items():
            place = f"{name} > {status} {kind}"
            yield place
            yield from _of_answered(place, media.get("schema", {}), schemas, ())


def _of_sent(place: str, schema: Schema, schemas: Schema, within: tuple[str, ...]) -> Iterator[str]:
    yield place
    kinds, within = _kinds(schema, schemas, within)
    if any(kind.get("type") == "null" for kind in kinds):
        yield f"{place} or null"
    for kind in kinds:
        yield from _scalar(place, kind)
        for name, part in kind.get("properties", {}).items():
            needed = name in kind.get("required", [])
            yield f"{place} needs {name}" if needed else f"{place}.{name} optional"
            yield from _of_sent(f"{place}.{name}", part, schemas, within)
        for end, part in _many(kind):
            yield from _of_sent(place + end, part, schemas, within)


def _of_answered(
    place: str, schema: Schema, schemas: Schema, within: tuple[str, ...]
) -> Iterator[str]:
    kinds, within = _kinds(schema, schemas, within)
    if kinds and not any(kind.get("type") == "null" for kind in kinds):
        yield f"{place} never null"
    for kind in kinds:
        yield from _scalar(place, kind)
        for name, part in kind.get("properties", {}).items():
            if name in kind.get("required", []):
                yield f"{place}.{name} always"
            yield from _of_answered(f"{place}.{name}", part, schemas, within)
        for end, part in _many(kind):
            yield from _of_answered(place + end, part, schemas, within)


def _kinds(
    schema: Schema, schemas: Schema, within: tuple[str, ...]
) -> tuple[list[Schema], tuple[str, ...]]:
    """The alternatives of a schema with references followed; none where it holds itself."""
    if reference := schema.get("$ref"):
        name = reference.rsplit("/", 1)[-1]
        if name in within:
            return [], within
        return _kinds(schemas[name], schemas, (*within, name))
    found: list[Schema] = []
    for alternative in schema.get("anyOf", schema.get("oneOf", [])):
        more, within = _kinds(alternative, schemas, within)
        found += more
    return found or [schema], within


def _many(kind: Schema) -> Iterator[tuple[str, Schema]]:
    if isinstance(kind.get("items"), dict):
        yield "[]", kind["items"]
    if isinstance(kind.get("additionalProperties"), dict):
        yield ".*", kind["additionalProperties"]


def _scalar(place: str, kind: Schema) -> Iterator[str]:
    if kind.get("type") not in {None, "null"}:
        yield f"{place}: {kind['type']}"
    for value in kind.get("enum", [kind["const"]] if "const" in kind else []):
        yield f"{place} = {value}"
