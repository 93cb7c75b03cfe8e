"""`marc affinity`: score a list of pairs."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from service.counter.known import load_known
from service.counter.pairs import affinities_of_csv
from service.kit import BadData


def affinity(
    pairs: Annotated[Path, typer.Argument(help="CSV with the columns a and b; - for stdin")],
) -> None:
    """Write the score and its four parts for each pair of a CSV file.

    Lines that cannot be scored keep their place with the reason; then the exit code is 1.
    """
    found = affinities_of_csv(load_known(), _text(pairs))
    sys.stdout.write(found.text)
    if found.problems:
        print(
            f"marc: {len(found.problems)} of {found.lines} lines have no score; first: "
            f"{found.problems[0]}",
            file=sys.stderr,
        )
        raise typer.Exit(1)


def _text(path: Path) -> str:
    from_pipe = str(path) == "-"
    try:
        content = sys.stdin.buffer.read() if from_pipe else path.read_bytes()
        return content.decode("utf-8-sig")
    except FileNotFoundError:
        raise BadData(f"there is no file {path}", field="PAIRS") from None
    except UnicodeDecodeError:
        name = "what came in" if from_pipe else path
        raise BadData(f"{name} is not UTF-8 text; save it as CSV in UTF-8", field="PAIRS") from None
