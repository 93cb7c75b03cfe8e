"""`--json` prints exactly what the API answers."""

from __future__ import annotations

import json
from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.cli.running import Marc
from tests.docs.commands import commands
from tests.web.api.samples import LOW_TIDE

COFFEE = {"roast": "dark", "process": "natural", "species": "canephora"}
CUP = [word for name, value in COFFEE.items() for word in (f"--{name}", value)]
POURS = LOW_TIDE["pours"]
GIVEN = [f"{pour['ingredient']}={pour['volume_ml']}ml" for pour in POURS]
POURED = [word for pour in GIVEN for word in ("--pour", pour)]
SPEC = [word for pour in GIVEN for word in ("--spec", pour)]
INSTEAD = ["--instead", "armagnac=45ml"]

ALIKE: list[tuple[list[str], str, Any]] = [
    (["pair", *CUP, "--notes", "fig, no smoke", "--limit", "3", "--novelty", "0.8"],
     "pairings", {"coffee": {**COFFEE, "notes": "fig, no smoke"}, "limit": 3, "novelty": 0.8}),
    (["pair", *CUP, "--role", "bitters", "--dose", "20", "--grind", "coarse"],
     "pairings", {"coffee": {**COFFEE, "dose_g": 20, "grind": "coarse"}, "roles": ["bitters"]}),
    (["balance", *POURED, *CUP], "balance", {"pours": POURS, "coffee": COFFEE}),
    (["balance", *POURED, "--no-coffee", "--country", "GB"],
     "balance", {"pours": POURS, "coffee": None, "country": "GB"}),
    (["reach", *POURED, *CUP, "--strength", "24"],
     "reach", {"pours": POURS, "coffee": COFFEE, "abv_percent": 24}),
    (["reach", *POURED, "--no-coffee", "--strength", "26", "--glass", "4oz", "--seconds", "20"],
     "reach", {"pours": POURS, "coffee": None, "abv_percent": 26, "glass_ml": 118.29411825,
               "preparation": {"seconds": 20}}),
    (["reach", *POURED, *CUP, "--glass", "5ml", "--country", "GB"],
     "reach", {"pours": POURS, "coffee": COFFEE, "glass_ml": 5, "country": "GB"}),
    (["stir", *POURED, "--until", "90"], "stir", {"pours": POURS, "until_seconds": 90}),
    (["bed", *POURED, *CUP, "--until", "300"],
     "bed", {"pours": POURS, "coffee": COFFEE, "until_seconds": 300}),
    (["swap", "fig liqueur", "--limit", "4"], "swaps", {"ingredient": "fig liqueur", "limit": 4}),
    (["swap", "fig liqueur", *SPEC, *CUP, "--avoid", "nuts"], "swaps",
     {"ingredient": "fig liqueur", "pours": POURS, "coffee": COFFEE, "avoid": ["nuts"]}),
    (["compose", *CUP, "--notes", "fig", "--shelf", "armagnac, fig liqueur, px-sherry",
      "--shelf", "tea-bitters", "--limit", "2", "--step", "5ml", "--most-caffeine", "400"],
     "compositions",
     {"coffee": {**COFFEE, "notes": "fig"}, "limit": 2, "step": "5 ml",
      "shelf": [{"ingredient": i} for i in ("armagnac", "fig liqueur", "px-sherry", "tea-bitters")],
      "limits": {"most_caffeine_mg": 400}}),
    (["explain", "fig liqueur", *CUP, "--notes", "fig"], "explanations/pairing",
     {"ingredient": "fig liqueur", "coffee": {**COFFEE, "notes": "fig"}}),
    (["explain", *SPEC, *CUP], "explanations/drink", {"pours": POURS, "coffee": COFFEE}),
    (["explain", "fig liqueur", "--why-not", *CUP], "explanations/why-not",
     {"ingredient": "fig liqueur", "coffee": COFFEE}),
    (["explain", *SPEC, *INSTEAD, *CUP], "explanations/what-if",
     {"was": {"pours": POURS, "coffee": COFFEE},
      "now": {"pours": [{"ingredient": "armagnac", "volume_ml": 45}], "coffee": COFFEE}}),
]  # fmt: skip


@pytest.mark.parametrize(("words", "path", "body"), ALIKE, ids=lambda value: str(value)[:40])
def test_a_command_prints_what_the_api_answers(
    marc: Marc, client: TestClient, words: list[str], path: str, body: Any
) -> None:
    done = marc(*words, "--json")
    answer = client.post(f"/api/v1/{path}", json=body)
    assert done.code == 0, done.said
    assert answer.status_code == 200, answer.text
    assert json.loads(done.out) == answer.json()
    assert done.said == ""


def test_the_list_of_ingredients_is_the_same(marc: Marc, client: TestClient) -> None:
    done = marc("ingredients", "--role", "bitters", "--text", "fig", "--json")
    query: dict[str, str | int] = {"role": "bitters", "text": "fig", "limit": 500}
    assert json.loads(done.out) == client.get("/api/v1/ingredients", params=query).json()


def test_every_command_with_json_is_compared() -> None:
    with_json = {
        name.removeprefix("marc ")
        for name, command in commands()
        if any("--json" in getattr(parameter, "opts", ()) for parameter in command.params)
    }
    # Those of the records are compared beside the records they list.
    records = {name for name in with_json if name.startswith("bar ")}
    elsewhere = {"ingredients", "data report"} | records
    assert with_json == {words[0] for words, _, _ in ALIKE} | elsewhere


def test_the_report_of_the_dataset_is_json_too(marc: Marc) -> None:
    done = marc("data", "report", "--json")
    assert done.code == 0
    assert json.loads(done.out)
