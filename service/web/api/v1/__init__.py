"""Version 1 of the API: one router per noun."""

from fastapi import APIRouter

from service.web.api.document import operation_id
from service.web.api.v1 import (
    affinities,
    balance,
    coffees,
    explanations,
    graph,
    ingredients,
    pairings,
    physics,
    swaps,
)
from service.web.api.v1.responses import PROBLEM_RESPONSES

router = APIRouter(generate_unique_id_function=operation_id, responses=PROBLEM_RESPONSES)
for part in (
    ingredients,
    coffees,
    pairings,
    affinities,
    balance,
    physics,
    swaps,
    explanations,
    graph,
):
    router.include_router(part.router)

__all__ = ["router"]
