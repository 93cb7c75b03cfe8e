"""What goes with a coffee."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.pairings_json import pairings_json
from service.counter.suggest import pairings
from service.web.answers import json_answer
from service.web.api.v1.requests import PairingsRequest
from service.web.api.v1.responses import Pairings
from service.web.deps import KnownHere

router = APIRouter(tags=["pairings"])


@router.post(
    "/pairings",
    summary="Ranked bases, modifiers and bitters for a coffee",
    responses={200: {"model": Pairings}},
)
async def suggest(known: KnownHere, asked: PairingsRequest) -> Response:
    return json_answer(pairings_json(known, pairings(known, asked.question())))
