"""Whether a drink is in balance, before and after the coffee."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from service.counter.measure import measure
from service.counter.readings import measured_json
from service.web.answers import json_answer
from service.web.api.v1.requests import BalanceRequest, described
from service.web.api.v1.responses import Measured
from service.web.deps import KnownHere, ThisBarHere

router = APIRouter(tags=["drinks"])


@router.post(
    "/balance",
    summary="Any pours, read before and after the coffee, with remedies",
    responses={200: {"model": Measured}},
)
async def balance(known: KnownHere, this_bar: ThisBarHere, asked: BalanceRequest) -> Response:
    if asked.among is not None:
        bar = await run_in_threadpool(this_bar)
        known = bar.known_of(described(asked.coffee))
    return json_answer(measured_json(measure(known, asked.measure())))
