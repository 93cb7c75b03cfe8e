"""A bottle is out: what to pour instead."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from service.counter.swap import swap
from service.counter.swap_json import swap_json
from service.counter.this_bar import swapped
from service.web.answers import json_answer
from service.web.api.v1.requests import SHELF, described
from service.web.api.v1.responses import Replacements, Rescue
from service.web.api.v1.swap_requests import SwapRequest
from service.web.deps import KnownHere, ThisBarHere

router = APIRouter(tags=["drinks"])


@router.post(
    "/swaps",
    summary="Replacements for a bottle; with a drink, all new amounts",
    responses={200: {"model": Replacements | Rescue}},
)
async def replace(known: KnownHere, this_bar: ThisBarHere, asked: SwapRequest) -> Response:
    question = asked.question()
    if asked.among is not None:
        bar = await run_in_threadpool(this_bar)
        known = bar.known_of(described(asked.coffee))
        question = swapped(question, bar, on_shelf=asked.among == SHELF)
    return json_answer(swap_json(known, swap(known, question)))
