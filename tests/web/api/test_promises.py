"""Version 1 keeps its promises: the document of now against the one that is frozen."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from fastapi.testclient import TestClient

from openapi_notes.freeze import FROZEN, frozen, written
from openapi_notes.promises import broken, fingerprint, promises
from tests.web.api.test_answers import app_of

FREEZE = "run `python -m openapi_notes.freeze`, then add a line to openapi_notes/README.md"


def test_no_promise_is_lost(client: TestClient) -> None:
    lost = broken(promises(frozen()), promises(app_of(client).openapi()))
    assert not lost, "version 1 promises this; keep it or begin version 2"


def test_what_was_added_is_written_down(client: TestClient) -> None:
    added = promises(app_of(client).openapi()) - promises(frozen())
    assert not added, FREEZE


def test_the_frozen_document_is_the_one_that_is_served(client: TestClient) -> None:
    served = client.get("/api/v1/openapi.json").json()
    assert written(served) == FROZEN.read_text(encoding="utf-8"), FREEZE


def body_of(document: dict[str, Any]) -> dict[str, Any]:
    return document["components"]["schemas"]["PairingsRequest"]


def answer_of(document: dict[str, Any]) -> dict[str, Any]:
    return document["components"]["schemas"]["CoffeeReading"]


def rename_answer_field(document: dict[str, Any]) -> None:
    properties = answer_of(document)["properties"]
    properties["smell"] = properties.pop("aroma")


def remove_operation(document: dict[str, Any]) -> None:
    del document["paths"]["/api/v1/stir"]


def rename_operation(document: dict[str, Any]) -> None:
    document["paths"]["/api/v1/stir"]["post"]["operationId"] = "swirl"


def answer_sometimes(document: dict[str, Any]) -> None:
    answer_of(document)["required"].remove("unknown")


def answer_null(document: dict[str, Any]) -> None:
    properties = answer_of(document)["properties"]
    properties["notes"] = {"anyOf": [properties["notes"], {"type": "null"}]}


def answer_text_for_number(document: dict[str, Any]) -> None:
    document["components"]["schemas"]["Interval"]["properties"]["mid"] = {"type": "string"}


def need_what_was_optional(document: dict[str, Any]) -> None:
    body_of(document)["required"] = ["limit"]


def need_something_new(document: dict[str, Any]) -> None:
    body_of(document)["properties"]["mood"] = {"type": "string"}
    body_of(document)["required"] = ["mood"]


def refuse_a_word(document: dict[str, Any]) -> None:
    document["components"]["schemas"]["Roast"]["enum"].remove("medium-dark")


@pytest.mark.parametrize(
    "change",
    [
        rename_answer_field, remove_operation, rename_operation, answer_sometimes, answer_null,
        answer_text_for_number, need_what_was_optional, need_something_new, refuse_a_word,
    ],
)  # fmt: skip
def test_a_change_for_the_worse_is_found_out(change: Any) -> None:
    moved = copy.deepcopy(frozen())
    change(moved)
    assert broken(promises(frozen()), promises(moved))


def test_additions_break_nothing_and_are_seen() -> None:
    moved = copy.deepcopy(frozen())
    answer_of(moved)["properties"]["origin"] = {"type": "string"}
    body_of(moved)["properties"]["mood"] = {"type": "string"}
    moved["paths"]["/api/v1/tides"] = copy.deepcopy(moved["paths"]["/api/v1/health"])
    before, now = promises(frozen()), promises(moved)
    assert not broken(before, now)
    assert any(".mood optional" in line for line in now - before)
    assert fingerprint(before) != fingerprint(now)
