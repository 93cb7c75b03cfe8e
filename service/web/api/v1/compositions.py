"""Whole drinks for a coffee, with amounts and the proof that none is better."""

from __future__ import annotations

import time
from typing import Final

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.compose import compose
from service.counter.compose_json import compose_json
from service.counter.this_bar import from_shelf
from service.web.answers import json_answer
from service.web.api.v1.compose_requests import CompositionRequest
from service.web.api.v1.responses import Compositions
from service.web.deps import KnownHere, ThisBarHere

router = APIRouter(tags=["drinks"])
# Nobody waits longer at a bar. What is certain by then is answered, and said not to be proved.
MOST_SECONDS: Final = 10.0


@router.post(
    "/compositions",
    summary="The best drinks of a shelf for a coffee, with amounts",
    responses={200: {"model": Compositions}},
)
def compositions(known: KnownHere, this_bar: ThisBarHere, asked: CompositionRequest) -> Response:
    question = asked.question()
    if asked.among is not None:
        bar = this_bar()
        known, question = bar.known, from_shelf(question, bar)
    end = time.monotonic() + MOST_SECONDS
    answer = compose(known, question, stop=lambda: time.monotonic() > end)
    return json_answer(compose_json(known, answer))
