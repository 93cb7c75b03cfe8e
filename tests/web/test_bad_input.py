"""Whatever is sent, the answer is one clear problem (RFC 9457), never a 500."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

Body = dict[str, Any]
POURS: Body = {"pours": [{"ingredient": "bourbon", "volume_ml": 45}]}


def with_pour(**changes: Any) -> Body:
    return {"pours": [{**POURS["pours"][0], **changes}]}


BAD: list[tuple[str, Body, int, str]] = [
    ("/api/v1/balance", with_pour(ingredient="moonbeam"), 404, "pours.0.ingredient"),
    ("/api/v1/balance", with_pour(ingredient="lemon-peel"), 422, "pours.0.ingredient"),
    ("/api/v1/balance", with_pour(volume_ml=-5), 422, "pours.0.volume_ml"),
    ("/api/v1/balance", with_pour(volume_ml=0), 422, "pours.0.volume_ml"),
    ("/api/v1/balance", with_pour(volume_ml=1e12), 422, "pours.0.volume_ml"),
    ("/api/v1/balance", with_pour(volume_ml="lots"), 422, "pours.0.volume_ml"),
    ("/api/v1/balance", with_pour(volume_ml=True), 422, "pours.0.volume_ml"),
    ("/api/v1/balance", with_pour(volume_ml=None, amount="5 glugs"), 422, "pours.0.amount"),
    ("/api/v1/balance", with_pour(amount="1 oz"), 422, "pours.0"),
    ("/api/v1/balance", with_pour(mass_g=42), 422, "pours.0"),
    ("/api/v1/balance", with_pour(volume_ml=None), 422, "pours.0"),
    ("/api/v1/balance", with_pour(volume_ml=None, mass_g=-5), 422, "pours.0.mass_g"),
    ("/api/v1/balance", with_pour(volume_ml=None, mass_g=1e12), 422, "pours.0.mass_g"),
    ("/api/v1/balance", with_pour(volume_ml=None, amount="0 g"), 422, "pours.0.mass_g"),
    ("/api/v1/balance", with_pour(volume_ml=None, amount="5 stone"), 422, "pours.0.amount"),
    ("/api/v1/balance", {**POURS, "coffee": {"dose_g": 1}}, 422, "coffee.dose_g"),
    ("/api/v1/balance", with_pour(abv_percent=120), 422, "pours.0.abv_percent"),
    ("/api/v1/balance", {"pours": []}, 422, "pours"),
    ("/api/v1/balance", {"pours": "bourbon"}, 422, "pours"),
    ("/api/v1/balance", {**POURS, "coffee": {"dose_g": 0}}, 422, "coffee.dose_g"),
    ("/api/v1/balance", {**POURS, "coffee": {"dose_g": 5000}}, 422, "coffee.dose_g"),
    ("/api/v1/balance", {**POURS, "country": "XX"}, 422, "country"),
    ("/api/v1/balance", {**POURS, "preparation": {"method": "none", "seconds": 3}}, 422,
     "preparation"),
    ("/api/v1/balance", {**POURS, "preparation": {"method": "shaken"}}, 422, "preparation.method"),
    ("/api/v1/reach", POURS, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "abv_percent": 0}, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "abv_percent": -28}, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "abv_percent": 0.28}, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "abv_percent": 1e9}, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "abv_percent": "strong"}, 422, "abv_percent"),
    ("/api/v1/reach", {**POURS, "glass_ml": 0}, 422, "glass_ml"),
    ("/api/v1/reach", {**POURS, "glass_ml": -110}, 422, "glass_ml"),
    ("/api/v1/reach", {**POURS, "glass_ml": 1e9}, 422, "glass_ml"),
    ("/api/v1/reach", {**POURS, "glass_ml": "4oz"}, 422, "glass_ml"),
    ("/api/v1/reach", {**POURS, "strength": 28}, 422, "strength"),
    ("/api/v1/reach", {**POURS, "abv_percent": 28, "lattice": "1 ml"}, 422, "lattice"),
    ("/api/v1/reach", {**POURS, "abv_percent": 28, "country": "XX"}, 422, "country"),
    ("/api/v1/reach", {"pours": [], "abv_percent": 28}, 422, "pours"),
    ("/api/v1/pairings", {"coffee": {"roast": "burnt"}}, 422, "coffee.roast"),
    ("/api/v1/pairings", {"coffee": {"notes": 7}}, 422, "coffee.notes"),
    ("/api/v1/pairings", {"coffee": {"notes": "x" * 5000}}, 422, "coffee.notes"),
    ("/api/v1/pairings", {"coffee": {"grind": "dust"}}, 422, "coffee.grind"),
    ("/api/v1/pairings", {"limit": 0}, 422, "limit"),
    ("/api/v1/pairings", {"limit": 10**9}, 422, "limit"),
    ("/api/v1/pairings", {"novelty": 2}, 422, "novelty"),
    ("/api/v1/pairings", {"roles": ["garnish"]}, 422, "roles.0"),
    ("/api/v1/pairings", {"rolls": ["base"]}, 422, "rolls"),
    ("/api/v1/pairings", {"partners": {"base": "moonbeam"}}, 404, "partners"),
    ("/api/v1/affinities", {"pairs": []}, 422, "pairs"),
    ("/api/v1/affinities", {"pairs": [{"a": "bourbon", "b": "nope"}]}, 404, "pairs.0.b"),
    ("/api/v1/affinities", {"pairs": [{"a": "bourbon", "b": "rye-whiskey"}] * 1001}, 422, "pairs"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "body", "status", "field"), BAD)
def test_a_bad_field_is_named_with_its_reason(
    client: TestClient, path: str, body: Body, status: int, field: str
) -> None:
    answer = client.post(path, json=body)
    problem = answer.json()
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    assert set(problem) == {"type", "title", "status", "detail", "errors"}
    assert field in [error["field"] for error in problem["errors"]]
    assert all(error["reason"] for error in problem["errors"])
    assert len(answer.content) < 4_000


@pytest.mark.parametrize(
    ("content", "kind", "status"),
    [
        (b"", "application/json", 422),
        (b"{", "application/json", 422),
        (b"\xff\xfe", "application/json", 422),
        (b'{"coffee": {"notes": "' + b"a" * 1_000_000 + b'"}}', "application/json", 422),
        (b'{"coffee": {"notes": "' + b"a" * 2_000_000 + b'"}}', "application/json", 413),
        (b'{"limit": NaN}', "application/json", 422),
        (b"[]", "application/json", 422),
        (b"coffee=light", "application/x-www-form-urlencoded", 422),
        (b'{"a":' * 10_000, "application/json", 400),
    ],
)
def test_what_is_no_request_gets_one_problem_answer(
    client: TestClient, content: bytes, kind: str, status: int
) -> None:
    answer = client.post("/api/v1/pairings", content=content, headers={"content-type": kind})
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    assert len(answer.content) < 4_000


def test_a_body_in_another_encoding_is_told_that_utf8_is_wanted(client: TestClient) -> None:
    content = '{"coffee": {"notes": "crème brûlée"}}'.encode("latin-1")
    answer = client.post(
        "/api/v1/pairings", content=content, headers={"content-type": "application/json"}
    )
    assert answer.status_code == 400
    [error] = answer.json()["errors"]
    assert error["field"] == "body"
    assert "not in UTF-8" in error["reason"]


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/v1/nothing", 404),
        ("GET", "/api/v1/pairings", 405),
        ("GET", "/api/v1/ingredients/moonbeam", 404),
        ("GET", "/api/v1/ingredients?role=king", 422),
        ("GET", "/api/v1/ingredients?limit=0", 422),
    ],
)
def test_a_wrong_address_gets_the_same_shape(
    client: TestClient, method: str, path: str, status: int
) -> None:
    answer = client.request(method, path)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    assert answer.json()["status"] == status


def test_a_fault_inside_tells_nothing_of_the_inside(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("secret detail")

    monkeypatch.setattr("service.web.api.v1.pairings.pairings", broken)
    never_asked = {"coffee": {"notes": "what nobody has asked before"}}
    answer = client.post("/api/v1/pairings", json=never_asked)
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert answer.headers["content-type"] == "application/problem+json"


def test_empty_notes_are_no_error(client: TestClient) -> None:
    answer = client.post("/api/v1/pairings", json={"coffee": {"notes": ""}})
    assert answer.status_code == 200
    assert len(answer.json()["pairings"]["base"]) == 10
