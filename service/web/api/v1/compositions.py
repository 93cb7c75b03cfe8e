"""Whole drinks for a coffee, with amounts and the proof that none is better."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.compose_json import compose_json
from service.counter.this_bar import composed
from service.web.answers import json_answer
from service.web.api.v1.compose_requests import CompositionRequest
from service.web.api.v1.requests import SHELF
from service.web.api.v1.responses import Compositions
from service.web.deps import KnownHere, MemoryHere, ThisBarHere

router = APIRouter(tags=["drinks"])


@router.post(
    "/compositions",
    summary="The best drinks of a shelf for a coffee, with amounts",
    responses={200: {"model": Compositions}},
)
def compositions(
    known: KnownHere, this_bar: ThisBarHere, memory: MemoryHere, asked: CompositionRequest
) -> Response:
    question = asked.question()
    if asked.among is not None:
        bar = this_bar()
        known = bar.known_of(question.coffee)
        question = composed(question, bar, on_shelf=asked.among == SHELF)
    return json_answer(compose_json(known, memory.compose(known, question)))
