"""The ingredient graph, for other programs."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.counter.graph import MEDIA_TYPES, Format, exported_graph
from service.web.api.v1.responses import Graph
from service.web.deps import KnownHere

router = APIRouter(tags=["dataset"])


@router.get(
    "/graph",
    summary="The ingredient graph as GraphML or node-link JSON",
    responses={200: {"model": Graph, "content": {MEDIA_TYPES["graphml"]: {}}}},
)
def graph(
    known: KnownHere, format: Annotated[Format, Query(description="graphml or json")] = "json"
) -> Response:
    return Response(
        exported_graph(known, format),
        media_type=MEDIA_TYPES[format],
        headers={"content-disposition": f'attachment; filename="marc-measure.{format}"'},
    )
