"""Options and questions of the commands that can ask this bar instead of the dataset alone."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

from service.cli.bar import looking
from service.counter.known import Known
from service.counter.this_bar import BarMemory, ThisBar


class Among(StrEnum):
    """From what: the bar's shelf, or whatever the bar knows."""

    SHELF = "shelf"
    EVERYTHING = "everything"


AmongOption = Annotated[
    Among | None,
    typer.Option(
        "--among",
        help="this bar's own bottles, with what it learnt: only its shelf, or everything it knows",
    ),
]


def this_bar(base: Known) -> ThisBar:
    """The bar of the environment's database, tonight."""
    with looking() as unit:
        return BarMemory().this_bar(unit, base)
