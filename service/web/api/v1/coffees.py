"""Reading a coffee."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.coffees import read_coffee
from service.counter.shapes import coffee_json
from service.web.answers import json_answer
from service.web.api.v1.requests import CoffeeRequest
from service.web.api.v1.responses import CoffeeReading
from service.web.deps import KnownHere

router = APIRouter(tags=["coffees"])


@router.post(
    "/coffees/reading",
    summary="What is understood of a coffee and its tasting notes",
    responses={200: {"model": CoffeeReading}},
)
async def reading(known: KnownHere, coffee: CoffeeRequest) -> Response:
    return json_answer(coffee_json(known, read_coffee(known, coffee.coffee())))
