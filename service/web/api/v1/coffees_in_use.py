"""The coffees that the bar has."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.bar import (
    BarCoffee,
    add_coffee,
    read_bar_coffee,
    remove_coffee,
    rewrite_coffee,
    slice_of,
)
from service.counter.record_json import record_json, slice_json
from service.web.answers import json_answer
from service.web.api.v1.record_requests import BarCoffeeChange, BarCoffeeRequest
from service.web.api.v1.responses import records
from service.web.api.v1.versions import (
    After,
    IfMatch,
    Limit,
    RecordId,
    VersionSeen,
    seen,
    versioned,
)
from service.web.deps import LookHere, UnitHere

router = APIRouter(prefix="/coffees", tags=["records", "coffees in use"])
ONE: dict[int | str, dict[str, Any]] = {200: {"model": records.BarCoffee}}


@router.get("", summary="Coffees in order of id", responses={200: {"model": records.BarCoffeePart}})
def coffees(
    unit: LookHere,
    after: After = None,
    limit: Limit = 100,
    in_use: Annotated[bool | None, Query(description="only those in use, or not")] = None,
) -> Response:
    wanted = {} if in_use is None else {"in_use": in_use}
    return json_answer(slice_json(slice_of(unit, BarCoffee, after=after, limit=limit, **wanted)))


@router.post(
    "",
    summary="A coffee comes into use",
    status_code=201,
    responses={201: {"model": records.BarCoffee}},
)
def open_bag(unit: UnitHere, asked: BarCoffeeRequest) -> Response:
    coffee = add_coffee(unit, asked.draft())
    return versioned(record_json(coffee), 201, f"/api/v1/coffees/{coffee.id}")


@router.get("/{coffee_id}", summary="One coffee", responses=ONE)
def one(unit: LookHere, coffee_id: RecordId) -> Response:
    return versioned(record_json(read_bar_coffee(unit, coffee_id)))


@router.put("/{coffee_id}", summary="Correct what is written of a coffee", responses=ONE)
def correct(
    unit: UnitHere, coffee_id: RecordId, asked: BarCoffeeChange, if_match: IfMatch = None
) -> Response:
    version = seen(asked.version, if_match)
    return versioned(record_json(rewrite_coffee(unit, coffee_id, version, asked.draft())))


@router.delete("/{coffee_id}", summary="Take away one that nothing was made with", status_code=204)
def forget(
    unit: UnitHere, coffee_id: RecordId, version: VersionSeen = None, if_match: IfMatch = None
) -> Response:
    remove_coffee(unit, coffee_id, seen(version, if_match))
    return Response(status_code=204)
