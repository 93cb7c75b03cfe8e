"""Health, and the list of ingredients."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query
from starlette.responses import Response

from service.counter.browse import counts, ingredient_evidence, list_ingredients
from service.counter.shapes import evidence_json, page_json
from service.ingredients.records import Role
from service.web.answers import json_answer
from service.web.api.v1.responses import Health, IngredientEvidence, IngredientPage
from service.web.deps import KnownHere

router = APIRouter(tags=["dataset"])


@router.get(
    "/health",
    summary="Whether the service answers, and how much it knows",
    responses={200: {"model": Health}},
)
async def health(known: KnownHere) -> Response:
    catalogue = known.catalogue
    return json_answer(
        {"status": "ok", "dataset_version": catalogue.version, "counts": counts(catalogue)}
    )


@router.get(
    "/ingredients",
    summary="Ingredients by role or name, page by page",
    responses={200: {"model": IngredientPage}},
)
async def ingredients(
    known: KnownHere,
    role: Annotated[Role | None, Query(description="only this role")] = None,
    text: Annotated[str, Query(max_length=100, description="a word of the name")] = "",
    after: Annotated[str, Query(max_length=100, description="the id to go on after")] = "",
    limit: Annotated[int, Query(ge=1, le=500)] = 100,
) -> Response:
    page = list_ingredients(known, role=role, text=text, after=after, limit=limit)
    return json_answer(page_json(page))


@router.get(
    "/ingredients/{ingredient_id}",
    summary="One ingredient with all its evidence",
    responses={200: {"model": IngredientEvidence}},
)
async def ingredient(
    known: KnownHere,
    ingredient_id: Annotated[str, Path(max_length=100, examples=["amontillado-sherry"])],
) -> Response:
    evidence = ingredient_evidence(known, ingredient_id)
    return json_answer(evidence_json(known.catalogue, evidence))
