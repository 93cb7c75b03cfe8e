"""The ingredient graph in networkx: for paths, families and export. The matrices must agree."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from service.aroma.space import AromaSpace
from service.ingredients import Catalogue

if TYPE_CHECKING:  # networkx costs a quarter of a second: only who asks for the graph pays it
    import networkx as nx


def build_graph(catalogue: Catalogue, space: AromaSpace) -> nx.Graph[str]:
    """Ingredients, odorants, descriptors, families and their links, with weights.

    Node names carry their kind (`ingredient:bourbon`), because kinds may share words.
    """
    import networkx as nx

    graph: nx.Graph[str] = nx.Graph(dataset_version=catalogue.version)
    for ingredient_id in space.ingredients:
        ingredient = catalogue.ingredients[ingredient_id]
        graph.add_node(
            f"ingredient:{ingredient_id}", kind="ingredient", name=ingredient.name,
            role=str(ingredient.role),
        )  # fmt: skip
    for odorant in catalogue.odorants.values():
        graph.add_node(f"odorant:{odorant.id}", kind="odorant", name=odorant.name, cas=odorant.cas)
    for descriptor in catalogue.descriptors.values():
        graph.add_node(f"descriptor:{descriptor.id}", kind="descriptor", name=descriptor.name)
        graph.add_edge(
            f"descriptor:{descriptor.id}", f"family:{descriptor.family}", kind="in family"
        )
    for family_id, name in catalogue.families.items():
        graph.add_node(f"family:{family_id}", kind="family", name=name)
    graph.add_weighted_edges_from(_odorant_links(space), kind="smells of")
    graph.add_weighted_edges_from(_note_links(catalogue), kind="note of")
    return graph


def strongest_paths(
    graph: nx.Graph[str], a: str, b: str, limit: int = 5
) -> list[tuple[list[str], float]]:
    """The odorant-and-note paths that join two ingredients, strongest first.

    Only paths ingredient - odorant - ingredient and ingredient - odorant - descriptor - odorant -
    ingredient count; the strength of a path is the product of its weights.
    """
    left, right = f"ingredient:{a}", f"ingredient:{b}"
    found: list[tuple[list[str], float]] = []
    right_odorants = _odorants_of(graph, right)
    for odorant, weight in _odorants_of(graph, left).items():
        if odorant in right_odorants:
            found.append(([left, odorant, right], weight * right_odorants[odorant]))
        for note, share in _notes_of(graph, odorant).items():
            for other, other_share in _notes_of(graph, note).items():
                if other in right_odorants and other != odorant:
                    strength = weight * share * other_share * right_odorants[other]
                    found.append(([left, odorant, note, other, right], strength))
    return sorted(found, key=lambda item: (-item[1], item[0]))[:limit]


def graph_json(graph: nx.Graph[str]) -> dict[str, Any]:
    """The graph as node-link JSON."""
    import networkx as nx

    data: dict[str, Any] = nx.node_link_data(graph, edges="edges")
    return data


def write_graphml(graph: nx.Graph[str], path: Path) -> None:
    """The graph as GraphML (graphml.graphdrawing.org), for other programs."""
    import networkx as nx

    nx.write_graphml(graph, path)


def _odorant_links(space: AromaSpace) -> Iterator[tuple[str, str, float]]:
    matrix = space.odorants.tocoo()
    for row, column, value in zip(matrix.row, matrix.col, matrix.data, strict=True):
        yield (
            f"ingredient:{space.ingredients[row]}",
            f"odorant:{space.odorant_ids[column]}",
            float(value),
        )


def _note_links(catalogue: Catalogue) -> Iterator[tuple[str, str, float]]:
    for note in catalogue.odorant_notes:
        yield f"odorant:{note.subject}", f"descriptor:{note.descriptor}", note.weight


def _odorants_of(graph: nx.Graph[str], node: str) -> dict[str, float]:
    return _weights(graph, node, "smells of")


def _notes_of(graph: nx.Graph[str], node: str) -> dict[str, float]:
    return _weights(graph, node, "note of")


def _weights(graph: nx.Graph[str], node: str, kind: str) -> dict[str, float]:
    return {n: d["weight"] for n, d in graph.adj[node].items() if d["kind"] == kind}
