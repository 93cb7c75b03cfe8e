"""Whole drinks for a coffee, with amounts and the proof that none is better."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.compose import compose
from service.counter.compose_json import compose_json
from service.web.answers import json_answer
from service.web.api.v1.compose_requests import CompositionRequest
from service.web.deps import KnownHere

router = APIRouter(tags=["drinks"])


@router.post("/compositions", summary="The best drinks of a shelf for a coffee, with amounts")
def compositions(known: KnownHere, asked: CompositionRequest) -> Response:
    return json_answer(compose_json(known, compose(known, asked.question())))
