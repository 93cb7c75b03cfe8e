"""The bar itself: its settings, its tokens, who changed what, and all of it at once."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.background import BackgroundTask
from starlette.responses import FileResponse, Response

from service.bar import (
    audit_lines,
    list_api_tokens,
    make_api_token,
    read_bar_settings,
    revoke_api_token,
    write_bar_settings,
    write_package,
)
from service.counter.record_json import changes_json, record_json
from service.web.answers import json_answer
from service.web.api.v1.record_requests import HIGHEST_ID, SettingsChange, TokenRequest
from service.web.api.v1.responses import records
from service.web.api.v1.versions import IfMatch, Limit, RecordId, seen, versioned
from service.web.deps import LookHere, UnitHere
from service.web.security import WhoHere, may_let_others_in

router = APIRouter(prefix="/bar", tags=["records", "bar"])
SETTINGS: dict[int | str, dict[str, Any]] = {200: {"model": records.BarSettings}}
Plain = Annotated[str, Query(max_length=100, pattern=r"^[A-Za-z0-9 -]*$")]


@router.get("/settings", summary="Name, units, jiggers, country, currency, language",
            responses=SETTINGS)  # fmt: skip
def settings(unit: LookHere) -> Response:
    return versioned(record_json(read_bar_settings(unit)))


@router.put("/settings", summary="Keep other settings", responses=SETTINGS)
def change(unit: UnitHere, asked: SettingsChange, if_match: IfMatch = None) -> Response:
    wanted = asked.settings(seen(asked.version, if_match))
    return versioned(record_json(write_bar_settings(unit, wanted)))


@router.get(
    "/changes",
    summary="Who changed what, the latest first",
    responses={200: {"model": records.Changes}},
)
def changes(
    unit: LookHere,
    noun: Annotated[Plain, Query(description="what kind of record, such as bottle")] = "",
    record: Annotated[Plain, Query(description="its id")] = "",
    before: Annotated[int | None, Query(ge=1, le=HIGHEST_ID)] = None,
    limit: Limit = 100,
) -> Response:
    lines = audit_lines(unit, noun=noun, key=record, before=before, limit=limit + 1)
    return json_answer(changes_json(lines, limit))


@router.get(
    "/tokens", summary="Tokens that are good", responses={200: {"model": records.ApiTokens}}
)
def tokens(unit: LookHere) -> Response:
    return json_answer({"items": [record_json(token) for token in list_api_tokens(unit)]})


@router.post(
    "/tokens",
    summary="Hand out a token; its words are shown this once",
    status_code=201,
    responses={201: {"model": records.NewToken}},
)
def hand_out(unit: UnitHere, who: WhoHere, asked: TokenRequest) -> Response:
    may_let_others_in(who)
    token, words = make_api_token(unit, asked.name, frozenset(asked.scopes))
    answer = json_answer({"token": record_json(token), "words": words}, 201)
    answer.headers["cache-control"] = "no-store"
    return answer


@router.delete(
    "/tokens/{token_id}",
    summary="The token opens nothing from now on",
    responses={200: {"model": records.ApiToken}},
)
def call_in(unit: UnitHere, who: WhoHere, token_id: RecordId) -> Response:
    may_let_others_in(who)
    return versioned(record_json(revoke_api_token(unit, token_id)))


@router.get(
    "/export",
    summary="Every record in open formats: a zip of CSV files with a descriptor",
    responses={200: {"content": {"application/zip": {"schema": {"type": "string"}}}}},
    response_class=Response,
)
def export(unit: LookHere) -> Response:
    folder = TemporaryDirectory()
    place = Path(folder.name) / "bar.zip"
    write_package(unit, place)
    return FileResponse(
        place,
        media_type="application/zip",
        filename="bar.zip",
        background=BackgroundTask(folder.cleanup),
    )
