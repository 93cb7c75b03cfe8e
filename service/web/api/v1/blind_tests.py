"""Blind tests: plans drawn by lot, answers, and what they show."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from starlette.responses import Response

from service.bar import BlindTest, answers, give_answer, read_blind_test, slice_of, take_back_answer
from service.counter.blind import close_and_judge, draw_blind_test
from service.counter.record_json import blind_test_json, record_json, slice_json
from service.web.answers import json_answer
from service.web.api.v1.responses import drinks
from service.web.api.v1.spec_requests import BlindAnswerRequest, BlindTestRequest, CloseRequest
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

router = APIRouter(prefix="/blind-tests", tags=["records", "blind tests"])
ONE: dict[int | str, dict[str, Any]] = {200: {"model": drinks.BlindTest}}


@router.get(
    "", summary="Blind tests in order of id", responses={200: {"model": drinks.BlindTestPart}}
)
def blind_tests(unit: LookHere, after: After = None, limit: Limit = 100) -> Response:
    part = slice_of(unit, BlindTest, after=after, limit=limit)
    return json_answer(slice_json(part, blind_test_json))


@router.post(
    "",
    summary="Draw a plan by lot: who gets which glasses in which order",
    status_code=201,
    responses={201: {"model": drinks.BlindTest}},
)
def plan(unit: UnitHere, asked: BlindTestRequest) -> Response:
    test = draw_blind_test(unit, **asked.asked())
    return versioned(blind_test_json(test), 201, f"/api/v1/blind-tests/{test.id}")


@router.get(
    "/{test_id}",
    summary="One blind test with its answers by seat",
    responses={200: {"model": drinks.BlindTestWithAnswers}},
)
def one(unit: LookHere, test_id: RecordId) -> Response:
    test = read_blind_test(unit, test_id)
    given = [record_json(answer) for answer in answers(unit, test_id)]
    answer = json_answer({"test": blind_test_json(test), "answers": given})
    answer.headers["etag"] = f'"{test.version}"'
    return answer


@router.post(
    "/{test_id}/answers",
    summary="What a seat answered",
    status_code=201,
    responses={201: {"model": drinks.BlindAnswer}},
)
def answer(unit: UnitHere, test_id: RecordId, asked: BlindAnswerRequest) -> Response:
    kept = give_answer(unit, test_id, **asked.model_dump())
    return versioned(record_json(kept), 201)


@router.delete("/{test_id}/answers/{answer_id}", summary="Take an answer back", status_code=204)
def take_back(
    unit: UnitHere,
    test_id: RecordId,
    answer_id: RecordId,
    version: VersionSeen = None,
    if_match: IfMatch = None,
) -> Response:
    read_blind_test(unit, test_id)
    take_back_answer(unit, answer_id, seen(version, if_match))
    return Response(status_code=204)


@router.post("/{test_id}/close", summary="Count the answers; none comes after", responses=ONE)
def close(
    unit: UnitHere, test_id: RecordId, asked: CloseRequest, if_match: IfMatch = None
) -> Response:
    version = seen(asked.version, if_match)
    return versioned(blind_test_json(close_and_judge(unit, test_id, version)))
