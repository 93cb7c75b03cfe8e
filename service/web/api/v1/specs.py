"""The bar's specs: writing them, putting them on the list, and how they came to be."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.bar import (
    SpecStatus,
    add_spec,
    difference,
    list_specs,
    read_spec,
    revise_spec,
    revisions,
    set_status,
    slice_from,
)
from service.counter.record_json import record_json, slice_json
from service.counter.shelf import catalogue_in
from service.web.answers import json_answer
from service.web.api.v1.record_requests import HIGHEST_VERSION
from service.web.api.v1.responses import drinks
from service.web.api.v1.spec_requests import NewSpecRequest, SpecRevision, StatusChange
from service.web.api.v1.versions import After, IfMatch, Limit, RecordId, seen, versioned
from service.web.deps import KnownHere, LookHere, UnitHere

router = APIRouter(prefix="/specs", tags=["records", "specs"])
ONE: dict[int | str, dict[str, Any]] = {200: {"model": drinks.Spec}}
Revision = Annotated[int, Query(ge=1, le=HIGHEST_VERSION)]


@router.get(
    "",
    summary="Specs at their latest revisions, in order of id",
    responses={200: {"model": drinks.SpecPart}},
)
def specs(
    unit: LookHere, after: After = None, limit: Limit = 100, status: SpecStatus | None = None
) -> Response:
    part = slice_from(list_specs(unit, status), after=after, limit=limit)
    return json_answer(slice_json(part))


@router.post(
    "", summary="Write a new spec", status_code=201, responses={201: {"model": drinks.Spec}}
)
def write(unit: UnitHere, known: KnownHere, asked: NewSpecRequest) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    spec = add_spec(unit, catalogue, asked.draft(catalogue), asked.status)
    return versioned(record_json(spec), 201, f"/api/v1/specs/{spec.id}")


@router.get("/{spec_id}", summary="One spec, at its latest or another revision", responses=ONE)
def one(unit: LookHere, spec_id: RecordId, revision: Revision | None = None) -> Response:
    return versioned(record_json(read_spec(unit, spec_id, revision)))


@router.put("/{spec_id}", summary="New contents: the next revision", responses=ONE)
def revise(
    unit: UnitHere,
    known: KnownHere,
    spec_id: RecordId,
    asked: SpecRevision,
    if_match: IfMatch = None,
) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    version = seen(asked.version, if_match)
    return versioned(
        record_json(revise_spec(unit, catalogue, spec_id, version, asked.draft(catalogue)))
    )


@router.post("/{spec_id}/status", summary="Put a spec on the list, or take it off", responses=ONE)
def change_status(
    unit: UnitHere, spec_id: RecordId, asked: StatusChange, if_match: IfMatch = None
) -> Response:
    version = seen(asked.version, if_match)
    return versioned(record_json(set_status(unit, spec_id, version, asked.status)))


@router.get(
    "/{spec_id}/revisions",
    summary="Every revision of a spec, the first one first",
    responses={200: {"model": drinks.Revisions}},
)
def history(unit: LookHere, spec_id: RecordId) -> Response:
    return json_answer({"items": [record_json(each) for each in revisions(unit, spec_id)]})


@router.get(
    "/{spec_id}/difference",
    summary="What differs between two revisions",
    responses={200: {"model": drinks.Difference}},
)
def differences(unit: LookHere, spec_id: RecordId, before: Revision, after: Revision) -> Response:
    was, now = (read_spec(unit, spec_id, revision) for revision in (before, after))
    changes = [record_json(change) for change in difference(was, now)]
    return json_answer({"before": before, "after": after, "changes": changes})
