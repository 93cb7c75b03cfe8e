"""The shelf: bottles, what is out, and the shelf as a file."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, File, Query, UploadFile
from starlette.responses import Response

from service.bar import (
    Bottle,
    add_bottle,
    bar_dialect,
    bottles_on_shelf,
    csv_lines,
    load_shelf,
    move_stock,
    read_bottle,
    remove_bottle,
    rewrite_bottle,
    set_out,
    slice_of,
)
from service.counter.record_json import import_json, record_json, slice_json
from service.counter.shelf import catalogue_in
from service.web.answers import csv_answer, json_answer
from service.web.api.v1.record_requests import BottleChange, BottleRequest, StockRequest
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
from service.web.deps import KnownHere, LookHere, UnitHere

router = APIRouter(prefix="/shelf", tags=["records", "shelf"])
Upload = Annotated[UploadFile, File(description="UTF-8 CSV; commas, semicolons or tabs")]
ONE: dict[int | str, dict[str, Any]] = {200: {"model": records.Bottle}}
IMPORTED: dict[int | str, dict[str, Any]] = {200: {"model": records.ShelfImport}}


@router.get("", summary="Bottles in order of id", responses={200: {"model": records.BottlePart}})
def shelf(
    unit: LookHere,
    after: After = None,
    limit: Limit = 100,
    ingredient: Annotated[str, Query(max_length=100, pattern=r"^[a-z0-9-]*$")] = "",
    out: Annotated[bool | None, Query(description="only what is out, or only what is not")] = None,
) -> Response:
    wanted: dict[str, Any] = {"ingredient": ingredient} if ingredient else {}
    wanted |= {} if out is None else {"out": out}
    return json_answer(slice_json(slice_of(unit, Bottle, after=after, limit=limit, **wanted)))


@router.post(
    "",
    summary="Put a bottle on the shelf",
    status_code=201,
    responses={201: {"model": records.Bottle}},
)
def put(unit: UnitHere, known: KnownHere, asked: BottleRequest) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    bottle = add_bottle(unit, catalogue, asked.draft(catalogue))
    return versioned(record_json(bottle), 201, f"/api/v1/shelf/{bottle.id}")


@router.get(
    "/export",
    summary="The shelf as CSV, as spreadsheets in the bar's language open it",
    responses={200: {"content": {"text/csv": {"schema": {"type": "string"}}}}},
    response_class=Response,
)
def export(unit: LookHere) -> Response:
    return csv_answer(csv_lines(bottles_on_shelf(unit), bar_dialect(unit)), "shelf.csv")


@router.post(
    "/import/preview", summary="What loading a file would do; writes nothing", responses=IMPORTED
)
def preview(unit: LookHere, known: KnownHere, file: Upload) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    return json_answer(import_json(load_shelf(unit, catalogue, file.file, write=False)))


@router.post(
    "/import",
    summary="Load a file: good rows are kept, bad ones come back with line and reason",
    responses=IMPORTED,
)
def load(unit: UnitHere, known: KnownHere, file: Upload) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    return json_answer(import_json(load_shelf(unit, catalogue, file.file, write=True)))


@router.get("/{bottle_id}", summary="One bottle", responses=ONE)
def one(unit: LookHere, bottle_id: RecordId) -> Response:
    return versioned(record_json(read_bottle(unit, bottle_id)))


@router.put("/{bottle_id}", summary="Correct what is written of a bottle", responses=ONE)
def correct(
    unit: UnitHere,
    known: KnownHere,
    bottle_id: RecordId,
    asked: BottleChange,
    if_match: IfMatch = None,
) -> Response:
    catalogue = catalogue_in(unit, known.catalogue)
    version = seen(asked.version, if_match)
    bottle = rewrite_bottle(unit, catalogue, bottle_id, version, asked.draft(catalogue))
    return versioned(record_json(bottle))


@router.post("/{bottle_id}/out", summary="A bottle is out", responses=ONE)
def mark_out(unit: UnitHere, bottle_id: RecordId) -> Response:
    return versioned(record_json(set_out(unit, bottle_id, True)))


@router.post("/{bottle_id}/in", summary="A bottle is back in", responses=ONE)
def mark_in(unit: UnitHere, bottle_id: RecordId) -> Response:
    return versioned(record_json(set_out(unit, bottle_id, False)))


@router.post("/{bottle_id}/stock", summary="So much came in, or went", responses=ONE)
def count(unit: UnitHere, bottle_id: RecordId, asked: StockRequest) -> Response:
    return versioned(record_json(move_stock(unit, bottle_id, asked.by_ml)))


@router.delete("/{bottle_id}", summary="A bottle leaves the shelf for good", status_code=204)
def take_off(
    unit: UnitHere, bottle_id: RecordId, version: VersionSeen = None, if_match: IfMatch = None
) -> Response:
    remove_bottle(unit, bottle_id, seen(version, if_match))
    return Response(status_code=204)
