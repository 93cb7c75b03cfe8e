"""API and command give the same answer for the same coffee."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from fastapi.testclient import TestClient

MARC = Path(sys.executable).with_name("marc")
COFFEE = {"roast": "light", "process": "natural", "notes": "blueberry, milk chocolate"}


def marc(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([MARC, *words], capture_output=True, text=True, check=False)


def test_command_and_api_give_the_same_pairings(client: TestClient) -> None:
    asked = [w for name, value in COFFEE.items() for w in (f"--{name}", value)]
    said = marc("pair", *asked, "--role", "modifier", "--limit", "7", "--json")
    answer = client.post(
        "/api/v1/pairings", json={"coffee": COFFEE, "roles": ["modifier"], "limit": 7}
    )
    assert json.loads(said.stdout) == answer.json()


def test_command_and_api_give_the_same_balance(client: TestClient) -> None:
    said = marc("balance", "--pour", "bourbon=45ml", "--pour", "sweet vermouth=1 oz", "--json")
    pours = [
        {"ingredient": "bourbon", "volume_ml": 45},
        {"ingredient": "sweet vermouth", "amount": "1 oz"},
    ]
    answer = client.post("/api/v1/balance", json={"pours": pours, "coffee": {}})
    assert json.loads(said.stdout) == answer.json()


def test_command_and_api_weigh_the_same(client: TestClient) -> None:
    said = marc("balance", "--pour", "bourbon=42.5g", "--pour", "sweet vermouth=30 g", "--json")
    pours = [
        {"ingredient": "bourbon", "mass_g": 42.5},
        {"ingredient": "sweet vermouth", "amount": "30g"},
    ]
    answer = client.post("/api/v1/balance", json={"pours": pours, "coffee": {}}).json()
    assert json.loads(said.stdout) == answer
    assert [pour["mass_g"] for pour in answer["drink"]["pours"]] == [42.5, 30.0]
    assert (
        answer["drink"]["pours"][0]["volume_ml"] > 42.5 > answer["drink"]["pours"][1]["volume_ml"]
    )


def test_command_and_api_reach_the_same(client: TestClient) -> None:
    said = marc("reach", "--pour", "bourbon=45g", "--pour", "sweet vermouth=1 oz",
                "--strength", "25", "--glass", "90ml", "--json")  # fmt: skip
    body = {
        "pours": [
            {"ingredient": "bourbon", "mass_g": 45},
            {"ingredient": "sweet vermouth", "amount": "1 oz"},
        ],
        "coffee": {}, "abv_percent": 25, "glass_ml": 90,
    }  # fmt: skip
    answer = client.post("/api/v1/reach", json=body).json()
    assert json.loads(said.stdout) == answer
    assert [way["reaches"] for way in answer["ways"]] == [True, True, False]
    for way in answer["ways"][:2]:
        assert abs(way["exact"]["glass"]["abv_percent"]["mid"] - 25) < 1e-6
        assert abs(way["exact"]["glass"]["volume_ml"]["mid"] - 90) < 1e-6


def test_command_and_api_list_the_same_ingredients(client: TestClient) -> None:
    said = json.loads(marc("ingredients", "--json").stdout)
    answer = client.get("/api/v1/ingredients", params={"limit": 500}).json()
    assert said == answer
    assert said["next_after"] is None


def test_an_error_is_one_plain_line_and_exit_code_1() -> None:
    done = marc("balance", "--pour", "moonbeam=45ml")
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.startswith("marc: pours.0.ingredient: 'moonbeam' is no ingredient")
    assert len(done.stderr.splitlines()) == 1


def test_a_list_of_pairs_keeps_every_line(tmp_path: Path) -> None:
    pairs = tmp_path / "pairs.csv"
    pairs.write_text("\ufeffa,b\nbourbon,sweet-vermouth\nbourbon,moonbeam\n", encoding="utf-8")
    done = marc("affinity", str(pairs))
    head, first, second = done.stdout.splitlines()
    assert head == "a,b,score,echo,bridge,contrast,custom,problem"
    score, *parts = (float(cell) for cell in first.split(",")[2:7])
    assert abs(score - sum(parts)) < 5e-6
    assert second.startswith("bourbon,moonbeam,,,,,,")
    assert done.returncode == 1
