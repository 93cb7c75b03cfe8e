"""Links for guests: short addresses that nobody can guess."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.responses import Response

from service.bar import GuestLink, make_guest_link, revoke_guest_link, slice_of
from service.counter.record_json import guest_link_json, slice_json
from service.web.answers import json_answer
from service.web.api.v1.record_requests import HIGHEST_ID
from service.web.api.v1.responses import drinks
from service.web.api.v1.spec_requests import GuestLinkRequest
from service.web.api.v1.versions import After, Limit, RecordId, versioned
from service.web.deps import LookHere, UnitHere

router = APIRouter(prefix="/guest-links", tags=["records", "guests"])


@router.get("", summary="Links that are open", responses={200: {"model": drinks.GuestLinkPart}})
def links(
    unit: LookHere,
    after: After = None,
    limit: Limit = 100,
    spec_id: Annotated[int | None, Query(ge=1, le=HIGHEST_ID)] = None,
) -> Response:
    wanted: dict[str, Any] = {"revoked_at": None}
    wanted |= {} if spec_id is None else {"spec_id": spec_id}
    part = slice_of(unit, GuestLink, after=after, limit=limit, **wanted)
    return json_answer(slice_json(part, guest_link_json))


@router.post(
    "",
    summary="A new link to a spec's guest page",
    status_code=201,
    responses={201: {"model": drinks.GuestLink}},
)
def invite(unit: UnitHere, asked: GuestLinkRequest) -> Response:
    return versioned(guest_link_json(make_guest_link(unit, asked.spec_id)), 201)


@router.delete(
    "/{link_id}",
    summary="The link leads nowhere from now on",
    responses={200: {"model": drinks.GuestLink}},
)
def revoke(unit: UnitHere, link_id: RecordId) -> Response:
    return versioned(guest_link_json(revoke_guest_link(unit, link_id)))
