"""Lists in parts: each begins after an id, so nothing is missed or comes twice."""

from __future__ import annotations

from typing import Any

import pytest

from tests.web.records.asking import Asker
from tests.web.records.drafts import COFFEE, SPEC


def every(ask: Asker, path: str, limit: int) -> list[Any]:
    """All items, part after part."""
    found: list[Any] = []
    after = ""
    while True:
        part = ask("GET", f"{path}?limit={limit}{after}")
        found += part["items"]
        if part["next_after"] is None:
            return found
        after = f"&after={part['next_after']}"


@pytest.mark.parametrize("limit", [1, 3, 7, 500])
def test_all_parts_together_are_the_whole_in_order(ask: Asker, limit: int) -> None:
    for number in range(7):
        ask("POST", "/coffees", 201, json={**COFFEE, "name": f"coffee {number}"})
        ask("POST", "/specs", 201, json={**SPEC, "name": f"drink {6 - number}"})
    assert [c["name"] for c in every(ask, "/coffees", limit)] == [f"coffee {n}" for n in range(7)]
    assert [s["id"] for s in every(ask, "/specs", limit)] == [1, 2, 3, 4, 5, 6, 7]


def test_what_comes_and_goes_meanwhile_shifts_nothing(ask: Asker) -> None:
    for number in range(6):
        ask("POST", "/coffees", 201, json={**COFFEE, "name": f"coffee {number}"})
    first = ask("GET", "/coffees?limit=3")
    ask("DELETE", "/coffees/1?version=1", 204)
    ask("DELETE", "/coffees/3?version=1", 204)
    ask("POST", "/coffees", 201, json=COFFEE)
    rest = ask("GET", f"/coffees?limit=3&after={first['next_after']}")
    assert [c["id"] for c in rest["items"]] == [4, 5, 6]
    assert rest["total"] == 5


def test_an_empty_list_has_one_empty_part(ask: Asker) -> None:
    nothing = {"items": [], "next_after": None, "total": 0}
    for path in ("shelf", "coffees", "specs", "own-ingredients", "trials", "guest-links"):
        assert ask("GET", f"/{path}") == nothing


def test_changes_are_read_backwards_part_by_part(ask: Asker) -> None:
    for number in range(5):
        ask("POST", "/coffees", 201, json={**COFFEE, "name": f"coffee {number}"})
    latest = ask("GET", "/bar/changes?noun=coffee&limit=2")
    assert [line["record"] for line in latest["items"]] == ["5", "4"]
    older = ask("GET", f"/bar/changes?noun=coffee&before={latest['next_before']}")
    assert [line["record"] for line in older["items"]] == ["3", "2", "1"]
    assert older["next_before"] is None
    assert ask("GET", "/bar/changes?noun=coffee&record=2")["items"] == older["items"][1:2]


@pytest.mark.parametrize("limit", [0, -1, 501, "many"])
def test_a_limit_that_is_none_is_named(ask: Asker, limit: Any) -> None:
    problem = ask("GET", f"/coffees?limit={limit}", 422)
    assert problem["errors"][0]["field"] == "limit"
