"""Every answer is exactly what its documented model says: no field more, none less."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response

from tests.web.api.operations import JSON, Operation, hold_to_model, operations
from tests.web.api.samples import DRINKS, LOW_TIDE, PREPARATIONS, SAMPLES, Sample
from tests.web.api.strategies import Schemas


def asked(client: TestClient, operation: Operation, sample: Sample) -> Response:
    return client.request(
        operation.method,
        operation.path.format(**sample.place),
        params=sample.query,
        json=sample.body,
    )


def app_of(client: TestClient) -> FastAPI:
    app = client.app
    assert isinstance(app, FastAPI)
    return app


def schemas_of(client: TestClient) -> Schemas:
    return Schemas(app_of(client).openapi()["components"]["schemas"])


def test_every_operation_has_real_requests(client: TestClient) -> None:
    every = {operation.id for operation in operations(app_of(client)) if not operation.of_records}
    assert every == set(SAMPLES)


def test_every_operation_documents_its_answer_and_its_problems(client: TestClient) -> None:
    for operation in operations(app_of(client)):
        (good,) = (status for status in operation.described["responses"] if status < "300")
        content = operation.described["responses"][good].get("content", {})
        assert good == "204" or operation.model(int(good)) or JSON not in content, operation.id
        problems = operation.described["responses"]["4XX"]["content"]
        assert list(problems) == ["application/problem+json"], operation.id
        assert operation.described["summary"]


@pytest.mark.parametrize("name", SAMPLES)
def test_real_answers_are_what_the_document_says(client: TestClient, name: str) -> None:
    (operation,) = (o for o in operations(app_of(client)) if o.id == name)
    for sample in SAMPLES[name]:
        answer = asked(client, operation, sample)
        assert answer.status_code == 200, answer.text
        hold_to_model(operation, answer)


@pytest.mark.parametrize("name", [n for n in SAMPLES if n != "get_graph"])
def test_intervals_are_in_order(client: TestClient, name: str) -> None:
    (operation,) = (o for o in operations(app_of(client)) if o.id == name)
    for sample in SAMPLES[name]:
        for interval in intervals(asked(client, operation, sample).json()):
            assert interval["low"] <= interval["mid"] <= interval["high"]


def intervals(value: Any) -> Iterator[dict[str, Any]]:
    match value:
        case {"low": list(low), "mid": mid, "high": high}:
            for three in zip(low, mid, high, strict=True):
                yield dict(zip(("low", "mid", "high"), three, strict=True))
        case {"low": _, "mid": _, "high": _}:
            yield value
        case dict():
            for part in value.values():
                yield from intervals(part)
        case list():
            for part in value:
                yield from intervals(part)


@pytest.mark.parametrize("preparation", PREPARATIONS, ids=lambda p: p["method"])
def test_a_preparation_is_answered_in_the_words_it_was_asked_in(
    client: TestClient, preparation: dict[str, Any]
) -> None:
    answer = client.post("/api/v1/balance", json={**LOW_TIDE, "preparation": preparation}).json()
    assert answer["drink"]["preparation"].items() >= preparation.items()


@pytest.mark.parametrize("step", ["5 ml", "7.5 ml", "1/4 oz"])
def test_a_step_is_answered_in_the_words_it_was_asked_in(client: TestClient, step: str) -> None:
    shelf = [{"ingredient": i} for i in ("armagnac", "dry-madeira", "fig-liqueur", "tea-bitters")]
    answer = client.post("/api/v1/compositions", json={"shelf": shelf, "step": step}).json()
    assert answer["measures"]["step"] == step


def test_a_drink_can_be_sent_again_as_it_was_answered(client: TestClient) -> None:
    first = client.post("/api/v1/balance", json=DRINKS["Rope Walk"]).json()
    pours = [
        {"ingredient": pour["ingredient"], "volume_ml": pour["volume_ml"]}
        for pour in first["drink"]["pours"]
    ]
    again = client.post("/api/v1/balance", json={**DRINKS["Rope Walk"], "pours": pours}).json()
    assert again == first


def test_reasons_sum_to_the_score_in_every_answer(client: TestClient) -> None:
    answer = client.post("/api/v1/pairings", json={"limit": 50}).json()
    for role in answer["pairings"].values():
        for suggestion in role:
            total = sum(reason["amount"] for reason in suggestion["reasons"])
            # Each of up to ten amounts is rounded to six decimals.
            assert total == pytest.approx(suggestion["score"], abs=1e-5)


def test_answers_are_utf_8_without_escapes(client: TestClient) -> None:
    notes = "crème brûlée, acai"
    answer = client.post("/api/v1/coffees/reading", json={"notes": notes})
    assert notes.encode() in answer.content
    assert json.loads(answer.content)["notes"] == notes


def test_examples_in_the_document_are_answered(client: TestClient) -> None:
    components = schemas_of(client)
    tried = 0
    for operation in operations(app_of(client)):
        schema = operation.body
        if schema is None or operation.of_records:
            continue
        (example,) = components[schema["$ref"].rsplit("/", 1)[-1]]["examples"]
        answer = client.request(operation.method, operation.path, json=example)
        assert answer.status_code == 200, answer.text
        tried += 1
    assert tried >= 6


def test_every_body_has_an_example(client: TestClient) -> None:
    components = schemas_of(client)
    for operation in operations(app_of(client)):
        if operation.body is not None:
            named = components[operation.body["$ref"].rsplit("/", 1)[-1]]
            assert named.get("examples"), operation.id
