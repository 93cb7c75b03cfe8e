"""The table of commands in README.md, as `marc --help` and its sub-commands tell it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import typer

from service.cli.main import app


def commands(group: Any = None, before: str = "marc") -> Iterator[tuple[str, Any]]:
    """Every command by its whole name, those of groups in place of the group."""
    for name, command in (group or typer.main.get_command(app)).commands.items():
        whole = f"{before} {name}"
        if hasattr(command, "commands"):
            yield from commands(command, whole)
        else:
            yield whole, command


def command_table() -> str:
    """One line per command: what must be given, and what it does."""
    lines = [f"| `{' '.join([name, *_needed(c)])}` | {_does(c)} |" for name, c in commands()]
    return "\n".join(["| command | does |", "| --- | --- |", *lines, ""])


def _needed(command: Any) -> list[str]:
    return [
        parameter.name.upper() if parameter.param_type_name == "argument"
        else f"{parameter.opts[0]} ..."
        for parameter in command.params
        if parameter.required
    ]  # fmt: skip


def _does(command: Any) -> str:
    sentence: str = command.help.split("\n\n")[0].replace("\n", " ").strip()
    return sentence.removesuffix(".")
