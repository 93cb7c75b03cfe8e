"""Version 1 of the API: one router per noun."""

from fastapi import APIRouter

from service.web.api.v1 import affinities, balance, coffees, graph, ingredients, pairings, physics

router = APIRouter()
for part in (ingredients, coffees, pairings, affinities, balance, physics, graph):
    router.include_router(part.router)

__all__ = ["router"]
