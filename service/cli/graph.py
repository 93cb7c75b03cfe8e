"""`marc graph`: the ingredient graph in a file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from service.counter.graph import exported_graph
from service.counter.known import load_known
from service.kit import BadData


def graph(
    out: Annotated[Path, typer.Argument(help="file to write; .graphml or .json")],
) -> None:
    """Write the graph of ingredients, odorants and notes as GraphML or JSON."""
    match out.suffix:
        case ".graphml":
            content = exported_graph(load_known(), "graphml")
        case ".json":
            content = exported_graph(load_known(), "json")
        case _:
            raise BadData("the file must end in .graphml or .json", field="OUT")
    out.write_bytes(content)
    print(f"wrote {out} ({len(content) // 1024} KiB)")
