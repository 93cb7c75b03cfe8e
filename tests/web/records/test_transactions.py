"""One request, one transaction: all of it is kept before the answer leaves, or none of it."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from sqlalchemy import Connection

from service.bar import Bar, audit_lines
from tests.bar.everything import everything
from tests.web.records.asking import Asker
from tests.web.records.conftest import Workers
from tests.web.records.drafts import BOTTLE, COFFEE, SPEC

HANDS = 60


def bar_of(ask: Asker) -> Bar:
    bar: Bar = ask.client.app.state.bar  # type: ignore[attr-defined]
    return bar


def broken(*_: Any, **__: Any) -> Any:
    raise RuntimeError("pulled out half-way")


def test_a_fault_after_the_write_leaves_nothing(
    ask: Asker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The record is written and audited; then making the answer fails."""
    ask("POST", "/coffees", 201, json=COFFEE)
    before = everything(bar_of(ask))
    monkeypatch.setattr("service.web.api.v1.specs.record_json", broken)
    answer = ask.client.post("/api/v1/specs", json=SPEC)
    assert answer.status_code == 500
    assert "nothing was changed" in answer.json()["detail"]
    assert everything(bar_of(ask)) == before


def test_a_fault_between_two_writes_leaves_nothing(
    ask: Asker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The spec's row is there, its pours are not yet."""
    before = everything(bar_of(ask))
    monkeypatch.setattr("service.bar.specs._write_revision", broken)
    assert ask.client.post("/api/v1/specs", json=SPEC).status_code == 500
    assert everything(bar_of(ask)) == before


def test_a_refusal_half_way_through_a_file_leaves_nothing(
    ask: Asker, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("service.bar.loading.BATCH", 2)
    csv = b"ingredient,size_ml\n" + b"cognac,700\n" * 5 + b"\xff\n"
    before = everything(bar_of(ask))
    answer = ask.answer("POST", "/shelf/import", files={"file": ("x.csv", csv)})
    assert answer.status_code == 422
    assert everything(bar_of(ask)) == before


def test_a_commit_that_fails_is_never_answered_as_kept(
    ask: Asker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The answer is made, but must not leave before the commit is through."""
    monkeypatch.setattr(Connection, "_commit_impl", broken)
    answer = ask.client.post("/api/v1/coffees", json=COFFEE)
    monkeypatch.undo()
    assert answer.status_code == 500
    assert ask("GET", "/coffees")["total"] == 0


def test_what_is_acknowledged_is_there_for_every_other_worker(worker: Workers) -> None:
    one, other = worker(), worker()
    for number in range(1, 11):
        place = one.answer("POST", "/coffees", json=COFFEE).headers["location"]
        assert other("GET", place.removeprefix("/api/v1"))["name"] == COFFEE["name"]
        assert other("GET", "/coffees")["total"] == number


def test_a_reader_holds_nobody_up_and_a_refusal_gives_its_turn_back(ask: Asker) -> None:
    for _ in range(HANDS):
        ask("POST", "/coffees", 422, json={**COFFEE, "dose_g": -1})
        ask("PUT", "/coffees/1", 404, json={**COFFEE, "version": 1})
    assert bar_of(ask).engine.pool.checkedout() == 0  # type: ignore[attr-defined]
    ask("POST", "/coffees", 201, json=COFFEE)


def test_more_hands_than_threads_and_connections_do_not_lock_one_another(ask: Asker) -> None:
    """More writers at once than the service has threads; every pour counts."""
    place = f"/shelf/{ask('POST', '/shelf', 201, json=BOTTLE)['id']}"
    address = f"/api/v1{place}/stock"
    ready = threading.Barrier(HANDS)

    def pour(_: int) -> int:
        ready.wait()
        return ask.client.post(address, json={"by_ml": -10}).status_code

    with ThreadPoolExecutor(HANDS) as hands:
        assert list(hands.map(pour, range(HANDS))) == [200] * HANDS
    assert ask("GET", place)["stock_ml"] == BOTTLE["stock_ml"] - 10 * HANDS


def test_each_change_has_its_line_and_a_refusal_has_none(ask: Asker) -> None:
    made = ask("POST", "/coffees", 201, json=COFFEE)
    ask("PUT", f"/coffees/{made['id']}", json={**COFFEE, "dose_g": 17, "version": 1})
    ask("PUT", f"/coffees/{made['id']}", 409, json={**COFFEE, "dose_g": 18, "version": 1})
    with bar_of(ask).look() as unit:
        lines = audit_lines(unit)
    said = [(line.what, line.who, line.changes.get("dose_g")) for line in lines]
    assert said == [("changed", "local", [15.0, 17.0]), ("added", "local", [None, 15.0])]
