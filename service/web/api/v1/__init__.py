"""Version 1 of the API: one router per noun."""

from fastapi import APIRouter

from service.web.api.document import operation_id
from service.web.api.v1 import (
    affinities,
    balance,
    bar,
    blind_tests,
    coffees,
    coffees_in_use,
    compositions,
    explanations,
    graph,
    guest,
    ingredients,
    own_ingredients,
    pairings,
    physics,
    reach,
    shelf,
    specs,
    swaps,
    tonight,
    trials,
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
    reach,
    compositions,
    swaps,
    explanations,
    graph,
    shelf,
    own_ingredients,
    coffees_in_use,
    specs,
    tonight,
    trials,
    blind_tests,
    guest,
    bar,
):
    router.include_router(part.router)

__all__ = ["router"]
