"""Curves of one drink: through the stir, and through the coffee."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from service.counter.physics import bed_curve_json, stir_json, stirred, through_bed
from service.counter.suggest import bed_of
from service.web.answers import json_answer
from service.web.api.v1.requests import BedRequest, StirRequest, poured_lines
from service.web.api.v1.responses import BedCurve, StirCurve
from service.web.deps import KnownHere

router = APIRouter(tags=["drinks"])


@router.post(
    "/stir",
    summary="Dilution, temperature and strength against stirring time",
    responses={200: {"model": StirCurve}},
)
async def stir(known: KnownHere, asked: StirRequest) -> Response:
    curve = stirred(known, poured_lines(asked.pours), asked.stirring(), asked.until_seconds)
    return json_answer(stir_json(curve))


@router.post(
    "/bed",
    summary="Caffeine, solids and bitterness against contact time",
    responses={200: {"model": BedCurve}},
)
async def bed(known: KnownHere, asked: BedRequest) -> Response:
    curve = through_bed(
        known,
        poured_lines(asked.pours),
        asked.preparation.preparation(),
        bed_of(asked.coffee.coffee()),
        asked.until_seconds,
    )
    return json_answer(bed_curve_json(curve))
