"""Version 1 of the API: one router per noun."""

from fastapi import APIRouter

from service.web.api.v1 import affinities, coffees, ingredients

router = APIRouter()
router.include_router(ingredients.router)
router.include_router(coffees.router)
router.include_router(affinities.router)

__all__ = ["router"]
