"""The ingredient graph as node-link JSON."""

from __future__ import annotations

from pydantic import Field

from service.ingredients.records import Role
from service.web.api.v1.responses.common import Answer


class GraphHead(Answer):
    """What belongs to the graph as a whole."""

    dataset_version: str


class GraphNode(Answer):
    """An ingredient, an odorant, a descriptor or a family."""

    id: str = Field(description="kind and id", examples=["ingredient:amontillado-sherry"])
    kind: str
    name: str
    role: Role | None = Field(default=None, description="of ingredients")
    cas: str | None = Field(default=None, description="of odorants")


class GraphEdge(Answer):
    """A link between two nodes."""

    source: str
    target: str
    kind: str = Field(examples=["smells of"])
    weight: float | None = Field(default=None, description="how strong it is, where it has one")


class Graph(Answer):
    """Ingredients, odorants, descriptors and families, and their links."""

    directed: bool
    multigraph: bool
    graph: GraphHead
    nodes: list[GraphNode]
    edges: list[GraphEdge]
