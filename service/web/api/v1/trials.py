"""Trials of specs: what was made, measured and tasted."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.bar import Trial, add_trial, read_trial, redo_trial, slice_of, undo_trial
from service.counter.record_json import record_json, slice_json
from service.counter.trial_conditions import with_conditions
from service.web.answers import json_answer
from service.web.api.v1.record_requests import HIGHEST_ID
from service.web.api.v1.responses import drinks
from service.web.api.v1.spec_requests import TrialRequest
from service.web.api.v1.versions import After, Limit, RecordId, versioned
from service.web.deps import BarChanged, LookHere, UnitHere

router = APIRouter(prefix="/trials", tags=["records", "trials"])
ONE: dict[int | str, dict[str, Any]] = {200: {"model": drinks.Trial}}
OnlyId = Annotated[int | None, Query(ge=1, le=HIGHEST_ID)]


@router.get("", summary="Trials in order of id", responses={200: {"model": drinks.TrialPart}})
def trials(
    unit: LookHere,
    after: After = None,
    limit: Limit = 100,
    spec_id: OnlyId = None,
    coffee_id: OnlyId = None,
    undone: Annotated[bool, Query(description="those that do not count, too")] = False,
) -> Response:
    given = {"spec_id": spec_id, "coffee_id": coffee_id}
    wanted: dict[str, Any] = {name: value for name, value in given.items() if value is not None}
    wanted |= {} if undone else {"undone_at": None}
    return json_answer(slice_json(slice_of(unit, Trial, after=after, limit=limit, **wanted)))


@router.post("", summary="Keep a trial", status_code=201, responses={201: {"model": drinks.Trial}})
def keep(unit: UnitHere, bar: BarChanged, asked: TrialRequest) -> Response:
    trial = add_trial(unit, with_conditions(unit, bar.house, asked.draft()))
    return versioned(record_json(trial), 201, f"/api/v1/trials/{trial.id}")


@router.get("/{trial_id}", summary="One trial", responses=ONE)
def one(unit: LookHere, trial_id: RecordId) -> Response:
    return versioned(record_json(read_trial(unit, trial_id)))


@router.post("/{trial_id}/undo", summary="A trial counts no longer", responses=ONE)
def undo(unit: UnitHere, trial_id: RecordId) -> Response:
    return versioned(record_json(undo_trial(unit, trial_id)))


@router.post("/{trial_id}/redo", summary="A trial counts again", responses=ONE)
def redo(unit: UnitHere, trial_id: RecordId) -> Response:
    return versioned(record_json(redo_trial(unit, trial_id)))
