"""Tonight: rescues that were accepted; the sheet changes for the night, the spec does not."""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.bar import night_of, sheet, substitute, substitutions_of, undo_substitution
from service.counter.record_json import record_json, sheet_json
from service.counter.shelf import catalogue_in
from service.web.answers import json_answer
from service.web.api.v1.responses import drinks
from service.web.api.v1.spec_requests import SubstitutionRequest
from service.web.api.v1.versions import IfMatch, RecordId, VersionSeen, seen, versioned
from service.web.deps import KnownHere, LookHere, UnitHere

router = APIRouter(tags=["records", "tonight"])
Night = Annotated[date | None, Query(description="a night; this one where left out")]
ONE: dict[int | str, dict[str, Any]] = {200: {"model": drinks.Substitution}}


def this_night() -> date:
    """The night of service that it is now, in the bar's own time."""
    return night_of(datetime.now())


@router.get(
    "/substitutions",
    summary="All that was accepted for a night",
    responses={200: {"model": drinks.Substitutions}},
)
def accepted(unit: LookHere, night: Night = None) -> Response:
    when = night or this_night()
    items = [record_json(each) for each in substitutions_of(unit, when)]
    return json_answer({"night": when.isoformat(), "items": items})


@router.get(
    "/specs/{spec_id}/sheet",
    summary="A spec as it is made on a night",
    responses={200: {"model": drinks.Sheet}},
)
def tonight(unit: LookHere, spec_id: RecordId, night: Night = None) -> Response:
    return json_answer(sheet_json(sheet(unit, spec_id, night or this_night())))


@router.put(
    "/specs/{spec_id}/substitution",
    summary="Accept a rescue for the night; where there is one, its version says it was seen",
    responses=ONE,
)
def accept(
    unit: UnitHere,
    known: KnownHere,
    spec_id: RecordId,
    asked: SubstitutionRequest,
    if_match: IfMatch = None,
) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    out, pours = asked.swapped(catalogue)
    first = asked.version is None and if_match is None
    kept = substitute(
        unit,
        catalogue,
        spec_id,
        night=asked.night or this_night(),
        ingredient_out=out,
        pours=pours,
        remarks=asked.remarks,
        version=None if first else seen(asked.version, if_match),
    )
    return versioned(record_json(kept))


@router.delete(
    "/substitutions/{substitution_id}", summary="Back to the spec as written", status_code=204
)
def undo(
    unit: UnitHere, substitution_id: RecordId, version: VersionSeen = None, if_match: IfMatch = None
) -> Response:
    undo_substitution(unit, substitution_id, seen(version, if_match))
    return Response(status_code=204)
