"""Invented coffees of the demo bar, for somebody who has no bag at hand."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from service.counter.coffees import Coffee
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species
from service.web.pages.coffee_form import address, coffee_fields


@dataclass(frozen=True, slots=True)
class Example:
    """An invented coffee and the address of its pairings."""

    name: str
    notes: str
    address: str


@lru_cache(maxsize=1)
def examples() -> tuple[Example, ...]:
    """The coffees of the invented demo bar."""
    demo = json.loads(files("service.bar").joinpath("demo/salt_stair.json").read_text("utf-8"))
    return tuple(_example(row) for row in demo["coffees"])


def _example(row: dict[str, str]) -> Example:
    coffee = Coffee(
        CoffeeProfile(Roast(row["roast"]), Process(row["process"]), Species(row["species"])),
        row["notes"],
        float(row["dose_g"]),
        Grind(row["grind"]),
    )
    return Example(row["name"], row["notes"], address("/pairings", coffee_fields(coffee)))
