"""Whatever is written into the bar's records: kept as documented, or one problem; never a fault."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import one_of

from tests.web.api.operations import Operation, hold_to_model, operations
from tests.web.api.strategies import bodies, near, odd_numbers, odd_texts, spoiled
from tests.web.api.test_answers import app_of, schemas_of

EXAMPLES = 12
TRIES = settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, database=None,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
JSON = {"content-type": "application/json"}
# Ids that may be there, cannot be there, and are none.
PLACES = st.one_of(
    st.sampled_from(["1", "1", "1", "2", "3", "own-kelp-tincture"]),
    odd_texts().filter(lambda text: text not in {"", "../../etc"}),
    odd_numbers().map(repr),
)


def path_of(operation: Operation, place: str) -> str:
    path = operation.path
    for parameter in operation.parameters:
        if parameter["in"] == "path":
            raw = quote(place.encode("utf-8", "surrogatepass"), safe="")
            path = path.replace(f"{{{parameter['name']}}}", raw)
    return path


def test_records_take_whatever_comes_without_a_fault(scratch: TestClient) -> None:
    schemas = schemas_of(scratch)
    seen: Counter[str] = Counter()
    with_body = [o for o in operations(app_of(scratch)) if o.of_records and o.body]
    for operation in with_body:
        schema = operation.body or {}
        (example,) = schemas[schema["$ref"].rsplit("/", 1)[-1]]["examples"]
        drawn = one_of(
            st.just(example), near(example, schema, schemas), spoiled(example, schema, schemas),
            bodies(schema, schemas),
        )  # fmt: skip
        seen += sent_to(scratch, operation, drawn)
    assert seen["2XX"] > len(with_body), seen
    assert seen["4XX"] > len(with_body), seen


def sent_to(
    scratch: TestClient, operation: Operation, drawn: st.SearchStrategy[Any]
) -> Counter[str]:
    """What became of bodies sent to one operation."""
    seen: Counter[str] = Counter()

    @TRIES
    @given(PLACES, drawn)
    def ask(place: str, body: Any) -> None:
        answer = scratch.request(
            operation.method, path_of(operation, place), headers=JSON,
            content=json.dumps(body).encode(),
        )  # fmt: skip
        assert answer.status_code < 500, (operation.id, body)
        hold_to_model(operation, answer)
        seen[f"{answer.status_code // 100}XX"] += 1

    ask()
    return seen


def test_records_are_read_by_odd_places_and_queries_without_a_fault(scratch: TestClient) -> None:
    for operation in operations(app_of(scratch)):
        uploads = "multipart/form-data" in str(operation.described.get("requestBody"))
        if operation.of_records and not operation.body and not uploads:
            asked_oddly(scratch, operation)


def asked_oddly(scratch: TestClient, operation: Operation) -> None:
    names = [p["name"] for p in operation.parameters if p["in"] == "query"] or ["after"]
    odd = st.one_of(odd_texts(), odd_numbers().map(repr))

    @TRIES
    @given(PLACES, st.dictionaries(st.sampled_from(names), odd, max_size=2))
    def ask(place: str, query: dict[str, str]) -> None:
        line = "&".join(
            f"{name}={quote(text.encode('utf-8', 'surrogatepass'))}" for name, text in query.items()
        )
        answer = scratch.request(operation.method, f"{path_of(operation, place)}?{line}")
        assert answer.status_code < 500, (operation.id, place, query)
        if answer.status_code != 404:  # an odd place may be another address altogether
            hold_to_model(operation, answer)

    ask()


@pytest.mark.parametrize("path", ["/api/v1/shelf/import/preview", "/api/v1/shelf/import"])
def test_any_file_at_all_is_read_or_refused(scratch: TestClient, path: str) -> None:
    (operation,) = (o for o in operations(app_of(scratch)) if o.path == path)
    heads = st.sampled_from(
        [b"", b"\xef\xbb\xbf", b"ingredient;label;size_ml\n", b"id,ingredient\n"]
    )

    @TRIES
    @given(heads, st.binary(max_size=300))
    def ask(head: bytes, content: bytes) -> None:
        files = {"file": ("shelf.csv", head + content, "text/csv")}
        answer = scratch.post(path, files=files)
        assert answer.status_code < 500, head + content
        hold_to_model(operation, answer)

    ask()
    assert scratch.post(path, content=b"{}", headers=JSON).status_code == 422
