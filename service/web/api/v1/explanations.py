"""Why: for a guest, for staff, and for whoever doubts it."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from service.counter.explain import (
    explain_poured,
    explain_with_coffee,
    explanation_json,
    what_if_changed,
    what_if_json,
    why_not_json,
    why_not_suggested,
)
from service.web.answers import json_answer
from service.web.api.v1.requests import described
from service.web.api.v1.responses import Explanation, WhatIf, WhyNot
from service.web.api.v1.swap_requests import (
    DrinkExplanationRequest,
    PairingExplanationRequest,
    WhatIfRequest,
    WhyNotRequest,
)
from service.web.deps import KnownHere, ThisBarHere

router = APIRouter(tags=["explanations"])


@router.post(
    "/explanations/pairing",
    summary="Why a bottle goes with a coffee",
    responses={200: {"model": Explanation}},
)
async def pairing(known: KnownHere, asked: PairingExplanationRequest) -> Response:
    found = explain_with_coffee(known, asked.coffee.coffee(), asked.ingredient)
    return json_answer(explanation_json(known, found))


@router.post(
    "/explanations/drink",
    summary="Why a drink works, before and after the coffee",
    responses={200: {"model": Explanation}},
)
async def drink(
    known: KnownHere, this_bar: ThisBarHere, asked: DrinkExplanationRequest
) -> Response:
    if asked.among is not None:
        bar = await run_in_threadpool(this_bar)
        known = bar.known_of(described(asked.coffee))
    return json_answer(explanation_json(known, explain_poured(known, asked.poured())))


@router.post(
    "/explanations/why-not",
    summary="Why a bottle was not suggested",
    responses={200: {"model": WhyNot}},
)
async def why_not(known: KnownHere, asked: WhyNotRequest) -> Response:
    found = why_not_suggested(
        known, asked.coffee.coffee(), asked.ingredient, asked.among, asked.limit
    )
    return json_answer(why_not_json(found))


@router.post(
    "/explanations/what-if",
    summary="What a change does to a drink",
    responses={200: {"model": WhatIf}},
)
async def what_if(known: KnownHere, asked: WhatIfRequest) -> Response:
    return json_answer(what_if_json(what_if_changed(known, asked.was.poured(), asked.now.poured())))
