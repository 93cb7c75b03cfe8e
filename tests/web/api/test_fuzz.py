"""Whatever is sent: an answer as documented or one problem; never a fault, never another shape."""

from __future__ import annotations

import json
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from typing import Any
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient
from httpx import Response
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import one_of

from service.web.limits import LARGEST_BODY
from tests.web.api.operations import Operation, hold_to_model, hold_to_problem, operations
from tests.web.api.samples import SAMPLES
from tests.web.api.strategies import Schema, Schemas, bodies, near, odd_texts, spoiled, texts
from tests.web.api.test_answers import app_of, asked, schemas_of

EXAMPLES = 30
# A search of every bottle there is may take all the time it is given.
SLOW, FEW = {"post_compositions"}, 10
TRIES = settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, database=None,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
WITH_BODY = [name for name in SAMPLES if name.startswith(("post_", "put_", "patch_"))]
WITH_QUERY = [name for name in SAMPLES if name.startswith("get_")]
JSON = {"content-type": "application/json"}


def operation_of(client: TestClient, name: str) -> tuple[Operation, Schema, Schemas]:
    """The operation, the schema of its body, and those that it refers to."""
    (operation,) = (o for o in operations(app_of(client)) if o.id == name)
    return operation, operation.body or {}, schemas_of(client)


def sent(client: TestClient, operation: Operation, body: Any) -> Response:
    place = {k: quote(v, safe="") for k, v in SAMPLES[operation.id][0].place.items()}
    content = json.dumps(body).encode()
    path = operation.path.format(**place)
    return client.request(operation.method, path, content=content, headers=JSON)


@pytest.mark.parametrize("name", WITH_BODY)
def test_bodies_that_the_document_allows_are_answered_as_documented(
    client: TestClient, name: str
) -> None:
    operation, *schema = operation_of(client, name)
    seen: Counter[int] = Counter()

    few = settings(TRIES, max_examples=FEW if name in SLOW else EXAMPLES)

    @few
    @given(one_of(bodies(*schema), *(near(sample.body, *schema) for sample in SAMPLES[name])))
    def ask(body: Any) -> None:
        answer = sent(client, operation, body)
        hold_to_model(operation, answer)
        seen[answer.status_code] += 1

    ask()
    assert seen[200] >= (FEW if name in SLOW else EXAMPLES) / 8, seen


@pytest.mark.parametrize("name", WITH_BODY)
def test_bodies_with_something_wrong_get_a_problem_or_an_answer(
    client: TestClient, name: str
) -> None:
    operation, *schema = operation_of(client, name)
    seen: Counter[int] = Counter()

    few = settings(TRIES, max_examples=FEW if name in SLOW else EXAMPLES)

    @few
    @given(one_of(*(spoiled(sample.body, *schema) for sample in SAMPLES[name])))
    def ask(body: Any) -> None:
        answer = sent(client, operation, body)
        hold_to_model(operation, answer)
        seen[answer.status_code] += 1

    ask()
    assert seen[422] > 0, seen


@pytest.mark.parametrize("name", WITH_BODY)
def test_bytes_that_are_no_json_get_a_problem(client: TestClient, name: str) -> None:
    operation, *_ = operation_of(client, name)
    kinds = st.sampled_from(
        ["application/json", "application/json; charset=utf-16", "text/plain", "", "a/b;c=\x7f",
         "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "image/png"]
    )  # fmt: skip

    @TRIES
    @given(st.binary(max_size=200), kinds)
    def ask(content: bytes, kind: str) -> None:
        headers = {"content-type": kind.encode()}
        answer = client.request(operation.method, operation.path, content=content, headers=headers)
        hold_to_problem(answer)

    ask()


@pytest.mark.parametrize(
    "content",
    [
        b"[" * 100_000,
        b'{"coffee":' * 50_000 + b"1" + b"}" * 50_000,
        b'{"limit":' + b"9" * 100_000 + b"}",
        b'{"novelty":1e' + b"9" * 1_000 + b"}",
        b'{"novelty":-' + b"0" * 10_000 + b"}",
        b'{"limit":1,"limit":2,"limit":"three"}',
        b'\xef\xbb\xbf{"limit":"x"}',
        '{"limit":"x"}'.encode("utf-16"),
        b'{"coffee":{"notes":"\xc3\x28"}}',
        b'{"coffee":{"notes":"\\ud83d"}}',
        b'{"\\ud83d":1}',
        b'{"\\u0000":1}',
        b'{"among":["' + b'","'.join([b"x"] * 3_000) + b'"]}',
        b"null",
        b"0",
        b'"coffee"',
        b"{} {}",
        b"Infinity",
    ],
    ids=range(18),
)  # fmt: skip
def test_json_at_its_worst_gets_one_short_problem(client: TestClient, content: bytes) -> None:
    answer = client.post("/api/v1/pairings", content=content, headers=JSON)
    hold_to_problem(answer)
    assert len(answer.content) < 4_000


@pytest.mark.parametrize("name", WITH_QUERY)
def test_odd_places_and_queries_get_a_problem_or_an_answer(client: TestClient, name: str) -> None:
    operation, *_ = operation_of(client, name)
    names = [p["name"] for p in operation.parameters if p["in"] == "query"] or ["role"]
    odd = one_of(odd_texts(), texts(), st.text(max_size=30))
    # Without a place the address is another: that of the list.
    odd_place = odd.filter(lambda place: place not in {"", ".", ".."})

    @TRIES
    @given(odd_place, st.dictionaries(st.sampled_from(names), odd, max_size=3))
    def ask(place: str, query: dict[str, str]) -> None:
        raw = {k: v.encode("utf-8", "surrogatepass") for k, v in query.items()}
        path = operation.path
        for key in SAMPLES[name][0].place:
            path = path.replace(
                f"{{{key}}}", quote(place.encode("utf-8", "surrogatepass"), safe="")
            )
        line = "&".join(f"{k}={quote(v)}" for k, v in raw.items())
        hold_to_model(operation, client.get(f"{path}?{line}"))

    ask()


@pytest.mark.parametrize(
    "path",
    [
        "/api/v1/", "/api/v1", "/api/v2/health", "/api/v1/ingredients/", "/api/v1/%00",
        "/api/v1/ingredients/%00", "/api/v1/ingredients/a%2Fb", "/api/v1/ingredients/%ff%fe",
        "/api/v1/ingredients/" + "a" * 5_000, "/api/v1/ingredients/..%2F..%2Fetc%2Fpasswd",
        "/api/v1/ingredients?after=%ff", "/api/v1/ingredients?text=%00&role=", "/problems/%00",
        "/api/v1/ingredients?limit=1e9999", "/api/v1/ingredients?limit=" + "9" * 5_000,
        "/api/v1/ingredients?limit=1&limit=x", "/api/v1/health?" + "a=1&" * 2_000,
        "/api/v1/graph?format=GRAPHML", "/api/v1/%E2%80%AEhtlaeh",
    ],
)  # fmt: skip
def test_odd_addresses_are_never_a_fault(client: TestClient, path: str) -> None:
    answer = client.get(path)
    if answer.status_code >= 400:
        hold_to_problem(answer)
        assert len(answer.content) < 4_000


@pytest.mark.parametrize(
    "method", ["GET", "POST", "PUT", "PATCH", "DELETE", "HEAD", "OPTIONS", "BREW"]
)
@pytest.mark.parametrize("path", ["/api/v1/health", "/api/v1/pairings", "/api/v1/nothing"])
def test_other_methods_are_never_a_fault(client: TestClient, method: str, path: str) -> None:
    answer = client.request(method, path)
    assert answer.status_code < 500
    if answer.status_code >= 400 and method != "HEAD":
        hold_to_problem(answer)


def test_many_at_once_get_what_each_gets_alone(client: TestClient) -> None:
    calls = [
        (operation, sample)
        for operation in operations(app_of(client))
        for sample in SAMPLES.get(operation.id, [])[:4]
        if operation.id != "get_graph"
    ]
    alone = [asked(client, *call).content for call in calls]
    with ThreadPoolExecutor(8) as threads:
        together = list(threads.map(lambda call: asked(client, *call).content, calls * 3))
    assert together == alone * 3


@pytest.mark.parametrize("announced", [True, False])
def test_a_body_too_large_is_refused_whether_or_not_it_says_so(
    client: TestClient, announced: bool
) -> None:
    pieces = [b'{"coffee":{"notes":"', *[b"a" * 65_536] * 40, b'"}}']
    content = b"".join(pieces) if announced else iter(pieces)
    answer = client.post("/api/v1/pairings", content=content, headers=JSON)
    assert hold_to_problem(answer).type == "/problems/too-large"


def test_a_body_of_just_the_limit_is_read(client: TestClient) -> None:
    body = b'{"limit":1}'
    content = body + b" " * (LARGEST_BODY - len(body))
    assert client.post("/api/v1/pairings", content=content, headers=JSON).status_code == 200
    assert client.post("/api/v1/pairings", content=content + b" ", headers=JSON).status_code == 413


@pytest.mark.parametrize(
    ("method", "path", "hint"),
    [("GET", "/api/v1/nothing", "/api/v1/openapi.json"), ("GET", "/api/v1/pairings", "Allow")],
)
def test_a_wrong_address_or_method_says_what_to_do(
    client: TestClient, method: str, path: str, hint: str
) -> None:
    answer = client.request(method, path)
    assert hint in hold_to_problem(answer).detail
    assert answer.status_code == 404 or answer.headers["allow"] == "POST"


def test_a_search_without_end_is_answered_in_time_and_said_to_be_unproved(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.counter.compose.MOST_SECONDS", 0.5)
    endless = {"limit": 20, "free_dose": True, "step": "5 ml"}
    begun = time.process_time()
    answer = client.post("/api/v1/compositions", json=endless).json()
    # The whole of it takes most of a minute; getting ready for it about a second.
    assert time.process_time() - begun < 10
    assert answer["certificate"]["proved"] is False
    assert len(answer["drinks"]) < 20
