"""`among: "shelf"`: questions about coffees asked of this bar, as every worker sees it at once."""

from __future__ import annotations

from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.web.records.asking import Asker
from tests.web.records.conftest import Workers
from tests.web.records.drafts import BOTTLE, COFFEE, SPEC, TRIAL

Json = dict[str, Any]
SHELF = ("cognac", "bourbon", "fig-liqueur", "sweet-vermouth", "fig-bitters", "aromatic-bitters")
DRINK: Json = {
    "pours": [{"ingredient": "bourbon", "volume_ml": 60}],
    "coffee": {"dose_g": 15},
    "among": "shelf",
}


def stock(ask: Asker) -> dict[str, int]:
    """Bottles on the shelf: ingredient to id."""
    return {
        name: ask("POST", "/shelf", 201, json={"ingredient": name, "stock_ml": 700})["id"]
        for name in SHELF
    }


def suggested(ask: Asker, **more: Any) -> set[str]:
    answer = ask("POST", "/pairings", json={"among": "shelf", "limit": 100, **more})
    return {s["ingredient"] for found in answer["pairings"].values() for s in found}


def instead_of_bourbon(ask: Asker) -> set[str]:
    answer = ask("POST", "/swaps", json={"ingredient": "bourbon", "among": "shelf"})
    return {one["ingredient"] for one in answer["replacements"]}


def test_an_empty_shelf_suggests_nothing(ask: Asker) -> None:
    assert suggested(ask) == set()
    problem = ask("POST", "/compositions", 409, json={"among": "shelf"})
    assert problem["type"] == "/problems/cannot-compose"


def test_another_workers_bottle_is_out_at_once(worker: Workers) -> None:
    one, other = worker(), worker()
    ids = stock(one)
    assert suggested(other) == set(SHELF)
    assert "cognac" in instead_of_bourbon(other)
    one("POST", f"/shelf/{ids['cognac']}/out")
    assert suggested(other) == set(SHELF) - {"cognac"}
    assert "cognac" not in instead_of_bourbon(other)
    one("POST", f"/shelf/{ids['cognac']}/in")
    assert suggested(other) == set(SHELF)


def test_another_workers_own_ingredient_is_known_at_once(worker: Workers) -> None:
    one, other = worker(), worker()
    stock(one)
    amaro = {"name": "pier amaro", "role": "modifier", "like": "fernet", "notes": {"smoke": 0.5}}
    asked = {**DRINK, "pours": [{"ingredient": "pier amaro", "volume_ml": 30}]}
    other("POST", "/balance", 404, json=asked)
    one("POST", "/own-ingredients", 201, json=amaro)
    one("POST", "/shelf", 201, json={"ingredient": "pier amaro"})
    assert "own-pier-amaro" in suggested(other)
    was = other("POST", "/balance", json=asked)["before"]["state"]["abv_percent"]["mid"]
    holds = {"abv_percent": {"low": 20, "mid": 21, "high": 22}}
    change = {**amaro, "composition": holds, "version": 1}
    one("PUT", "/own-ingredients/own-pier-amaro", json=change)
    now = other("POST", "/balance", json=asked)["before"]["state"]["abv_percent"]["mid"]
    assert now < was
    other("POST", "/balance", 404, json={**asked, "among": None})


def test_the_label_on_the_shelf_is_what_is_reckoned_with(worker: Workers) -> None:
    one, other = worker(), worker()
    strong = {**BOTTLE, "ingredient": "bourbon", "abv_percent": 60}
    bottle = one("POST", "/shelf", 201, json=strong)
    unstirred = {**DRINK, "preparation": {"method": "none"}, "coffee": None}
    held = other("POST", "/balance", json=unstirred)["before"]["state"]
    # Nothing is added: the strength in the glass is that of the label.
    assert held["abv_percent"] == pytest.approx({"low": 60.0, "mid": 60.0, "high": 60.0}, abs=0.02)
    usual = other("POST", "/balance", json={**unstirred, "among": None})["before"]["state"]
    assert usual["abv_percent"]["mid"] < 50
    one("PUT", f"/shelf/{bottle['id']}", json={**strong, "abv_percent": 43, "version": 1})
    again = other("POST", "/balance", json=unstirred)["before"]["state"]
    assert again["abv_percent"]["mid"] == pytest.approx(43.0, abs=0.02)


def test_the_balance_beside_a_suggestion_is_that_of_the_shelfs_own_bottle(ask: Asker) -> None:
    """And the answers without the shelf stay what they are."""
    plain = {"limit": 100, "roles": ["base"]}
    before = ask("POST", "/pairings", json=plain)
    ask("POST", "/shelf", 201, json={"ingredient": "bourbon", "abv_percent": 65})
    (own,) = ask("POST", "/pairings", json={**plain, "among": "shelf"})["pairings"]["base"]
    (usual,) = [s for s in before["pairings"]["base"] if s["ingredient"] == "bourbon"]
    strength = [s["balance"]["strength"]["before"]["mid"] for s in (own, usual)]
    assert strength[0] > strength[1] + 3
    assert ask("POST", "/pairings", json=plain) == before


def test_trials_teach_the_forecast_and_undoing_them_unteaches_it_exactly(worker: Workers) -> None:
    one, other = worker(), worker()
    stock(one)
    coffee = one("POST", "/coffees", 201, json=COFFEE)["id"]
    spec = one("POST", "/specs", 201, json={**SPEC, "coffee_id": coffee})["id"]
    before = other("POST", "/balance", json=DRINK)
    ids = [_trial(one, spec, kept_ml=8.0 + number % 3) for number in range(8)]
    after = other("POST", "/balance", json=DRINK)
    # 115 mL in, about 9 mL kept by 15 g: 0.6 mL/g, where the prior says 1.3.
    assert after["bed"]["kept_ml"]["mid"] < 0.75 * before["bed"]["kept_ml"]["mid"]
    width = [a["bed"]["kept_ml"]["high"] - a["bed"]["kept_ml"]["low"] for a in (before, after)]
    assert width[1] < 0.6 * width[0]
    assert other("POST", "/balance", json={**DRINK, "among": None}) == before
    for trial in ids:
        one("POST", f"/trials/{trial}/undo")
    assert other("POST", "/balance", json=DRINK) == before


def test_what_was_found_too_sweet_moves_the_middle_of_this_house(ask: Asker) -> None:
    stock(ask)
    coffee = ask("POST", "/coffees", 201, json=COFFEE)["id"]
    spec = ask("POST", "/specs", 201, json={**SPEC, "coffee_id": coffee})["id"]
    sweet = {**DRINK, "pours": SPEC["pours"]}
    before = ask("POST", "/balance", json=sweet)["sweetness"]["leaning_after"]
    for taster in ("MB", "AK", "JO") * 3:
        said = {"spec_id": spec, "sweetness": 2, "taster": taster, "liking": 3}
        ask("POST", "/trials", 201, json=said)
    assert ask("POST", "/balance", json=sweet)["sweetness"]["leaning_after"] > before + 0.1


def test_whole_drinks_come_from_the_shelf_and_leave_out_what_the_list_has(ask: Asker) -> None:
    stock(ask)
    answer = ask.client.post("/api/v1/compositions", json={"among": "shelf", "limit": 3}).json()
    poured = {p["ingredient"] for drink in answer["drinks"] for p in _pours(drink)}
    assert poured
    assert poured <= set(SHELF)
    shelf = [{"ingredient": name} for name in SHELF]
    both = {"among": "shelf", "shelf": shelf}
    assert ask("POST", "/compositions", 422, json=both)["errors"][0]["field"] == "among"
    swap = {"ingredient": "cognac", "among": "shelf", "shelf": list(SHELF)}
    assert ask("POST", "/swaps", 422, json=swap)["errors"][0]["field"] == "among"


@pytest.mark.parametrize("path", ["pairings", "balance", "swaps", "compositions"])
def test_no_other_word_stands_for_a_shelf(client: TestClient, path: str) -> None:
    bodies: dict[str, Json] = {
        "balance": DRINK, "swaps": {"ingredient": "cognac"}, "pairings": {}, "compositions": {}
    }  # fmt: skip
    answer = client.post(f"/api/v1/{path}", json={**bodies[path], "among": "cellar"})
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} == {"among"}


def test_without_a_shelf_no_record_is_touched(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def touched(*_: Any) -> None:
        raise AssertionError("the records were read")

    bar = client.app.state.bar  # type: ignore[attr-defined]
    monkeypatch.setattr(type(bar), "look", touched)
    monkeypatch.setattr(type(bar), "unit", touched)
    for path, body in (("pairings", {"limit": 3}), ("balance", {**DRINK, "among": None})):
        assert client.post(f"/api/v1/{path}", json=body).status_code == 200


def _trial(ask: Asker, spec: int, kept_ml: float) -> int:
    measured = {"liquid_in_ml": 115, "liquid_out_ml": 115 - kept_ml, "spec_id": spec}
    untasted = {"sweetness": None, "liking": None, "drain_seconds": None}
    trial = ask("POST", "/trials", 201, json={**TRIAL, **untasted, **measured})
    assert trial["conditions"]["volume_ml"] > 0
    number: int = trial["id"]
    return number


def _pours(drink: Json) -> list[Json]:
    pours: list[Json] = drink["pours"] if "pours" in drink else drink["drink"]["pours"]
    return pours
