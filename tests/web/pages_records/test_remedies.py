"""What is suggested to put a drink right can be poured with what this bar measures by."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import urlencode

import pytest

from tests.web.pages_records.conftest import Desk

COFFEES = ("dark chocolate, dried cherry", "lemon, black tea", "dried fig, red plum, hazelnut")
ROLES = ("base", "modifier", "bitters")


def remedies(desk: Desk, among: str | None) -> list[dict[str, Any]]:
    """The remedy of each suggestion that is out of balance, for several coffees."""
    found = []
    for notes in COFFEES:
        body = {"coffee": {"notes": notes}, "limit": 25, **({"among": among} if among else {})}
        answer = desk.client.post("/api/v1/pairings", json=body)
        assert answer.status_code == 200, answer.text
        every = answer.json()["pairings"]
        found += [s["balance"]["remedy"] for role in ROLES for s in every[role]]
    return [remedy for remedy in found if remedy]


def keep_lattice(desk: Desk, lattice: str) -> None:
    settings = desk.client.get("/api/v1/bar/settings")
    body = {**settings.json(), "lattice": lattice}
    answer = desk.client.put("/api/v1/bar/settings", json=body)
    assert answer.status_code == 200, answer.text


def by_hand(remedy: dict[str, Any], lattice: str | None) -> float:
    """The step that an amount must be whole steps of [mL]: what the bar's jiggers measure."""
    if remedy["lever"] == "bitters":
        return 0.8
    ounce = 29.5735295625
    if lattice is None:
        return 2.5
    step, fine, below = {
        "5 ml": (5.0, 2.5, 10.0), "7.5 ml": (7.5, 2.5, 7.5),
        "1/4 oz": (ounce / 4, ounce / 8, ounce / 4),
    }[lattice]  # fmt: skip
    return fine if remedy["then"] <= below + 0.01 else step


@pytest.mark.parametrize("lattice", [None, "5 ml", "7.5 ml", "1/4 oz"])
def test_every_remedy_of_a_suggestion_can_be_poured(desk: Desk, lattice: str | None) -> None:
    """With the bar's own jiggers where the bar is asked, else with those of any bar."""
    if lattice is not None:
        keep_lattice(desk, lattice)
    poured = [r for r in remedies(desk, "everything" if lattice else None) if r["unit"] == "mL"]
    assert len(poured) >= 8
    for remedy in poured:
        steps = remedy["then"] / by_hand(remedy, lattice)
        assert steps == pytest.approx(round(steps), abs=0.01), remedy
        if remedy["lever"] == "bitters":
            assert re.match(r"(\d dash(es)? of|leave out the) ", remedy["words"]), remedy


def test_the_page_says_the_same_in_ounces(desk: Desk) -> None:
    """A bar of ounces reads whole quarters, or eighths below one."""
    settings = desk.client.get("/api/v1/bar/settings").json()
    body = {**settings, "lattice": "1/4 oz", "units": "oz"}
    assert desk.client.put("/api/v1/bar/settings", json=body).status_code == 200
    said = []
    for notes in COFFEES:
        page = desk.get(f"/pairings?{urlencode({'notes': notes, 'from': 'everything'})}")
        said += [each.text for each in page.every("p") if each.text.startswith("Remedy.")]
    ounces = [words for words in said if " oz" in words]
    assert ounces
    for words in ounces:
        assert re.search(r"(\d|\d?[\u00bc\u00bd\u00be]|0\.125|0\.13) oz", words), words
