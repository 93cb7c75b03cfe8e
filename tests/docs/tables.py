"""The tables of openapi_notes/README.md that are written by a program."""

from __future__ import annotations

import re

from fastapi import FastAPI

from service.web.problem_kinds import KINDS
from tests.web.api.operations import operations


def operation_table(app: FastAPI) -> str:
    """One line per operation of the document."""
    lines = [f"| `{o.method} {o.path}` | {o.described['summary']} |" for o in operations(app)]
    return "\n".join(["| operation | answers |", "| --- | --- |", *lines, ""])


def kind_table() -> str:
    """One line per kind of problem."""
    lines = [
        f"| `/problems/{kind.slug}` | {kind.status} | {kind.meaning} |" for kind in KINDS.values()
    ]
    return "\n".join(["| type | status | means |", "| --- | --- | --- |", *lines, ""])


def with_table(document: str, name: str, table: str) -> str:
    """A document with the table between its two marks; without the marks it stays as it is."""
    between = re.compile(rf"(?<=<!-- {name} -->\n).*?(?=<!-- end of {name} -->)", re.DOTALL)
    return between.sub(lambda _: table, document)
