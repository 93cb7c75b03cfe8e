"""Drafts that many tests start from."""

from __future__ import annotations

from service.bar import (
    Bar,
    BarSpec,
    Bottle,
    BottleDraft,
    CoffeeDraft,
    SpecDraft,
    add_bottle,
    add_coffee,
    add_spec,
)
from service.ingredients import Catalogue
from service.ingredients.records import SpecPour

WHO = "MB"
BOTTLE = BottleDraft(
    ingredient="cognac", label="left of the till", abv_percent=44.7, price=33.0, stock_ml=1400.0
)
COFFEE = CoffeeDraft(name="Breakwater", notes="dried fig, red plum")
POURS = (SpecPour("cognac", 45.0), SpecPour("fig-liqueur", 15.0), SpecPour("fig-bitters", 0.8))
SPEC = SpecDraft(name="Rope Walk", pours=POURS)


def a_bottle(bar: Bar, catalogue: Catalogue, draft: BottleDraft = BOTTLE) -> Bottle:
    with bar.unit(WHO) as unit:
        return add_bottle(unit, catalogue, draft)


def a_spec(bar: Bar, catalogue: Catalogue, draft: SpecDraft = SPEC) -> BarSpec:
    with bar.unit(WHO) as unit:
        return add_spec(unit, catalogue, draft)


def a_coffee(bar: Bar) -> int:
    with bar.unit(WHO) as unit:
        return add_coffee(unit, COFFEE).id
