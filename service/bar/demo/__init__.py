"""The invented demo bar: The Salt Stair in Port Merrow. It fills an empty database only."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, Final

from service.bar.bar_settings import BarSettings, write_bar_settings
from service.bar.bottles import BottleDraft, add_bottle
from service.bar.coffees import CoffeeDraft, add_coffee
from service.bar.specs import SpecDraft, add_spec
from service.bar.unit import Bar, Unit, is_empty, take_turn
from service.bar.words import SpecStatus
from service.ingredients import Catalogue
from service.ingredients.records import Grind, Process, Roast, Species, SpecPour

FILE: Final = Path(__file__).with_name("salt_stair.json")
WHO: Final = "demo"
# Any fixed number: of several processes that start on an empty database, one fills it.
_TURN: Final = 0x64656D6F


def load_demo(bar: Bar, catalogue: Catalogue, file: Path = FILE) -> bool:
    """Fill an empty database with the demo bar; whether it did."""
    with bar.look() as unit:
        if not is_empty(unit):
            return False
    invented = json.loads(file.read_text(encoding="utf-8"))
    with bar.unit(WHO) as unit:
        take_turn(unit, _TURN)
        if not is_empty(unit):
            return False
        _fill(unit, catalogue, invented)
    return True


def _fill(unit: Unit, catalogue: Catalogue, invented: Mapping[str, Any]) -> None:
    write_bar_settings(unit, BarSettings(**invented["bar"]))
    for line in invented["shelf"]:
        add_bottle(unit, catalogue, _bottle(line))
    coffees = {line["name"]: add_coffee(unit, _coffee(line)).id for line in invented["coffees"]}
    for line in invented["drinks"]:
        draft = SpecDraft(
            name=line["name"],
            pours=tuple(SpecPour(ingredient, ml) for ingredient, ml in line["pours"]),
            coffee_id=coffees[line["coffee"]],
        )
        add_spec(unit, catalogue, draft, SpecStatus(line["status"]))


def _bottle(line: Mapping[str, Any]) -> BottleDraft:
    return BottleDraft(**{**line, "allergens": tuple(line.get("allergens", ()))})


def _coffee(line: Mapping[str, Any]) -> CoffeeDraft:
    return CoffeeDraft(
        name=line["name"],
        roast=Roast(line["roast"]),
        process=Process(line["process"]),
        species=Species(line["species"]),
        notes=line["notes"],
        roasted_on=date.fromisoformat(line["roasted_on"]),
        dose_g=line["dose_g"],
        grind=Grind(line["grind"]),
    )
