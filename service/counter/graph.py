"""The ingredient graph for other programs."""

from __future__ import annotations

from io import BytesIO
from typing import Literal

from service.counter.known import Known

Format = Literal["graphml", "json"]
MEDIA_TYPES: dict[Format, str] = {
    "graphml": "application/graphml+xml",
    "json": "application/json",
}


def exported_graph(known: Known, format: Format) -> bytes:
    """The whole graph as GraphML (graphml.graphdrawing.org) or as node-link JSON."""
    # networkx costs a quarter of a second: only who asks for the graph pays it.
    import json

    import networkx as nx

    from service.aroma.graph import build_graph, graph_json

    graph = build_graph(known.catalogue, known.knowledge.space)
    if format == "json":
        return json.dumps(graph_json(graph), ensure_ascii=False).encode()
    out = BytesIO()
    nx.write_graphml(graph, out)
    return out.getvalue()
