"""What tests put into the bar. Coffees and drinks are invented."""

from __future__ import annotations

from typing import Any

BOTTLE: dict[str, Any] = {
    "ingredient": "cognac", "label": "left of the till", "abv_percent": 44.7, "price": 33,
    "stock_ml": 1400, "allergens": ["sulphites"], "notes": "for stirring",
}  # fmt: skip
COFFEE: dict[str, Any] = {
    "name": "Breakwater",
    "process": "natural",
    "notes": "dried fig",
    "roasted_on": "2026-11-16",
}
OWN: dict[str, Any] = {
    "name": "kelp tincture", "role": "seasoning", "like": "saline", "notes": {"smoke": 0.5},
    "composition": {"abv_percent": {"low": 38, "mid": 40, "high": 42}},
}  # fmt: skip
SPEC: dict[str, Any] = {
    "name": "Rope Walk",
    "pours": [
        {"ingredient": "cognac", "volume_ml": 45},
        {"ingredient": "fig liqueur", "amount": "1/2 oz"},
        {"ingredient": "fig-bitters", "amount": "1 dash"},
    ],
    "glass": "small stemmed glass",
}
RESCUE: dict[str, Any] = {
    "ingredient_out": "fig bitters",
    "pours": [*SPEC["pours"][:2], {"ingredient": "orange-bitters", "amount": "2 dashes"}],
    "night": "2026-11-20",
}
TRIAL: dict[str, Any] = {
    "dose_g": 15, "liquid_in_ml": 115, "liquid_out_ml": 96, "drain_seconds": 150, "sweetness": 1,
    "liking": 7, "taster": "MB", "words": "plum first",
}  # fmt: skip
BLIND: dict[str, Any] = {"name": "two grinds", "kind": "triangle", "assessors": 6, "seed": 7}
