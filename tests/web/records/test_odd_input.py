"""Whatever is sent to the records: an answer as documented or one problem, and never a fault."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.bar.databases import DATABASES, MakeDatabase, make_database
from tests.web.api.operations import hold_to_model, operations
from tests.web.conftest import HERE
from tests.web.records.asking import Asker, app_of
from tests.web.records.drafts import BOTTLE, COFFEE, OWN, SPEC

__all__ = ["make_database"]
PLACES = {
    "bottle_id": "1", "coffee_id": "1", "spec_id": "1", "trial_id": "1", "test_id": "1",
    "link_id": "1", "answer_id": "1", "substitution_id": "1", "token_id": "1",
    "own_id": "own-kelp-tincture",
}  # fmt: skip
ODD_PLACES = ["0", "-1", "9" * 15, "9" * 16, "9" * 400, "one", "1.5", "%00", "%F0%9F%8D%B8", "1e3"]


@pytest.fixture(scope="module", params=DATABASES)
def filled(
    request: pytest.FixtureRequest, known: Known, make_database: MakeDatabase
) -> Iterator[Asker]:
    """One bar with a record of each kind, for all that is tried on it."""
    with make_database.lend(request.param) as url:
        app = create_app(Settings(database_url=url, secret="for tests"), known)
        with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
            ask = Asker(client)
            ask("POST", "/own-ingredients", 201, json=OWN)
            ask("POST", "/shelf", 201, json=BOTTLE)
            ask("POST", "/coffees", 201, json=COFFEE)
            ask("POST", "/specs", 201, json={**SPEC, "coffee_id": 1})
            yield ask


JSON = {"content-type": "application/json"}


def test_odd_places_and_questions_are_answered_in_the_same_shape(filled: Asker) -> None:
    for operation in operations(app_of(filled.client)):
        if "records" not in operation.described["tags"] or operation.body:
            continue
        names = [p["name"] for p in operation.parameters if p["in"] == "path"]
        queries = [p["name"] for p in operation.parameters if p["in"] == "query"]
        for odd in ODD_PLACES:
            place = operation.path.format(**{**PLACES, **dict.fromkeys(names, odd)})
            query = "&".join(f"{name}={odd}" for name in queries)
            for address in {f"{place}?{query}", operation.path.format(**PLACES) + f"?{query}"}:
                answer = filled.client.request(operation.method, address)
                assert answer.status_code < 500, (operation.method, address)
                hold_to_model(operation, answer)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"ingredient": "moonbeam"}, "ingredient"), ({"abv_percent": 98}, "abv_percent"),
        ({"size_ml": 0}, "size_ml"), ({"price": -1}, "price"), ({"stock_ml": "lots"}, "stock_ml"),
        ({"allergens": ["joy"]}, "allergens"), ({"notes": "\x07"}, "notes"),
        ({"label": "two\nlines"}, "label"), ({"shelf": 2}, "shelf"), ({"label": "\ud800"}, "label"),
        ({"ingredient": "coffee-light-washed-arabica"}, "ingredient"),
    ],
)  # fmt: skip
def test_a_field_that_cannot_be_kept_is_named(
    filled: Asker, changes: dict[str, Any], field: str
) -> None:
    content = json.dumps({**BOTTLE, **changes}).encode()
    answer = filled.client.post("/api/v1/shelf", content=content, headers=JSON)
    assert answer.status_code in {404, 422}
    assert field in [error["field"] for error in answer.json()["errors"]]


@pytest.mark.parametrize(
    ("content", "field"),
    [
        (b"", "file"),
        (b"\xff\xfe\x00", "file"),
        (b"name,size\na,b\n", "file"),
        (b"\x00" * 50, "file"),
    ],
)
def test_a_file_that_is_none_is_refused_whole(filled: Asker, content: bytes, field: str) -> None:
    answer = filled.answer("POST", "/shelf/import", files={"file": ("x.csv", content)})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == field
    assert filled.client.post("/api/v1/shelf/import").status_code == 422
