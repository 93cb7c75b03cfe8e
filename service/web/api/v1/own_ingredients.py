"""The bar's own ingredients: what the dataset does not know."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, File, Path, Query, UploadFile
from starlette.responses import Response

from service.bar import (
    OwnIngredient,
    add_own_ingredient,
    bar_dialect,
    list_own_ingredients,
    load_own_ingredients,
    own_csv_lines,
    own_template_lines,
    read_own_ingredient,
    remove_own_ingredient,
    rewrite_own_ingredient,
    slice_of,
)
from service.counter.record_json import own_import_json, own_json, slice_json
from service.web.answers import csv_answer, json_answer
from service.web.api.v1.record_requests import OwnIngredientChange, OwnIngredientRequest
from service.web.api.v1.responses import records
from service.web.api.v1.versions import IfMatch, Limit, VersionSeen, seen, versioned
from service.web.deps import KnownHere, LookHere, UnitHere

router = APIRouter(prefix="/own-ingredients", tags=["records", "own ingredients"])
OwnId = Annotated[str, Path(max_length=200, pattern=r"^own-[a-z0-9-]+$")]
Upload = Annotated[UploadFile, File(description="UTF-8 CSV; commas, semicolons or tabs")]
ONE: dict[int | str, dict[str, Any]] = {200: {"model": records.OwnIngredient}}

IMPORTED: dict[int | str, dict[str, Any]] = {200: {"model": records.OwnImport}}
CSV: dict[int | str, dict[str, Any]] = {
    200: {"content": {"text/csv": {"schema": {"type": "string"}}}}
}


@router.get(
    "",
    summary="Own ingredients in order of id",
    responses={200: {"model": records.OwnIngredientPart}},
)
def every(
    unit: LookHere,
    after: Annotated[str, Query(max_length=200, pattern=r"^[a-z0-9-]*$")] = "",
    limit: Limit = 100,
) -> Response:
    part = slice_of(unit, OwnIngredient, after=after or None, limit=limit)
    return json_answer(slice_json(part, own_json))


@router.post(
    "",
    summary="Describe an ingredient that the dataset does not know",
    status_code=201,
    responses={201: {"model": records.OwnIngredient}},
)
def describe(unit: UnitHere, known: KnownHere, asked: OwnIngredientRequest) -> Response:
    own = add_own_ingredient(unit, known.catalogue, asked.draft(known.catalogue))
    return versioned(own_json(own), 201, f"/api/v1/own-ingredients/{own.id}")


@router.get(
    "/export",
    summary="Own ingredients as CSV, as spreadsheets in the bar's language open it",
    responses=CSV,
    response_class=Response,
)
def export(unit: LookHere) -> Response:
    lines = own_csv_lines(list_own_ingredients(unit), bar_dialect(unit))
    return csv_answer(lines, "own-ingredients.csv")


@router.get(
    "/template",
    summary="A CSV to begin with: the columns, and an invented example of each kind",
    responses=CSV,
    response_class=Response,
)
def template(unit: LookHere) -> Response:
    lines = own_template_lines(bar_dialect(unit))
    return csv_answer(lines, "own-ingredients-template.csv")


@router.post(
    "/import/preview", summary="What loading a file would do; writes nothing", responses=IMPORTED
)
def preview(unit: LookHere, known: KnownHere, file: Upload) -> Response:
    done = load_own_ingredients(unit, known.catalogue, file.file, write=False)
    return json_answer(own_import_json(done))


@router.post(
    "/import",
    summary="Load a file: good rows are kept, bad ones come back with line and reason",
    responses=IMPORTED,
)
def load(unit: UnitHere, known: KnownHere, file: Upload) -> Response:
    done = load_own_ingredients(unit, known.catalogue, file.file, write=True)
    return json_answer(own_import_json(done))


@router.get("/{own_id}", summary="One own ingredient", responses=ONE)
def one(unit: LookHere, own_id: OwnId) -> Response:
    return versioned(own_json(read_own_ingredient(unit, own_id)))


@router.put("/{own_id}", summary="Correct what is said of an own ingredient", responses=ONE)
def correct(
    unit: UnitHere,
    known: KnownHere,
    own_id: OwnId,
    asked: OwnIngredientChange,
    if_match: IfMatch = None,
) -> Response:
    catalogue, version = known.catalogue, seen(asked.version, if_match)
    own = rewrite_own_ingredient(unit, catalogue, own_id, version, asked.draft(catalogue))
    return versioned(own_json(own))


@router.delete("/{own_id}", summary="Take away one that nothing uses", status_code=204)
def forget(
    unit: UnitHere, own_id: OwnId, version: VersionSeen = None, if_match: IfMatch = None
) -> Response:
    remove_own_ingredient(unit, own_id, seen(version, if_match))
    return Response(status_code=204)
