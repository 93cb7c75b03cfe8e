"""The ingredient graph for other programs, and the paths that explain a pair."""

from __future__ import annotations

from io import BytesIO
from typing import Any, Literal

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


def explaining_paths(known: Known, a: str, b: str, limit: int = 5) -> list[dict[str, Any]]:
    """The strongest odorant-and-note paths between two bottles."""
    from service.aroma.graph import build_graph, strongest_paths

    first, second = known.names.find(a, field="a").id, known.names.find(b, field="b").id
    graph = build_graph(known.catalogue, known.knowledge.space)
    return [
        {"path": path, "strength": round(strength, 4)}
        for path, strength in strongest_paths(graph, first, second, limit)
    ]
