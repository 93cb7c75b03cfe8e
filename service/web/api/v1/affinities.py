"""What goes with what."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.pairs import affinities
from service.counter.shapes import pair_json
from service.web.answers import json_answer
from service.web.api.v1.requests import PairsRequest
from service.web.api.v1.responses import Affinities
from service.web.deps import KnownHere

router = APIRouter(tags=["pairings"])


@router.post(
    "/affinities",
    summary="The score and its four parts for up to 1 000 pairs",
    responses={200: {"model": Affinities}},
)
async def score_pairs(known: KnownHere, asked: PairsRequest) -> Response:
    found = affinities(known, [(pair.a, pair.b) for pair in asked.pairs])
    return json_answer(
        {
            "dataset_version": known.catalogue.version,
            "weights": known.knowledge.weights.as_json(),
            "affinities": [pair_json(affinity) for affinity in found],
        }
    )
