"""Backwards: from the glass that is wanted to the stir, the water or the pours that make it."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from service.counter.reach import backwards
from service.counter.reach_json import reach_json
from service.web.answers import json_answer
from service.web.api.v1.reach_requests import ReachRequest
from service.web.api.v1.requests import described
from service.web.api.v1.responses.reach import Reach
from service.web.deps import KnownHere, ThisBarHere

router = APIRouter(tags=["drinks"])


@router.post(
    "/reach",
    summary="A strength, a volume or both in the glass: by stirring, by water, by amounts",
    responses={200: {"model": Reach}},
)
async def reach(known: KnownHere, this_bar: ThisBarHere, asked: ReachRequest) -> Response:
    question = asked.question()
    if asked.among is not None:
        bar = await run_in_threadpool(this_bar)
        known = bar.known_of(described(asked.coffee))
        question = asked.question(bar.house.lattice)
    # A search, of some hundred readings: others are answered meanwhile.
    return json_answer(reach_json(await run_in_threadpool(backwards, known, question)))
