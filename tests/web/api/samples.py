"""Real requests for every operation. Coffees and drinks are invented, as those of the demo bar."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import service.bar

DEMO: Final = json.loads(
    Path(service.bar.__file__).with_name("demo").joinpath("salt_stair.json").read_text("utf-8")
)
COFFEES: Final[dict[str, dict[str, Any]]] = {
    coffee["name"]: {k: v for k, v in coffee.items() if k not in {"name", "roasted_on"}}
    for coffee in DEMO["coffees"]
}
DRINKS: Final[dict[str, dict[str, Any]]] = {
    drink["name"]: {
        "name": drink["name"],
        "pours": [{"ingredient": i, "volume_ml": ml} for i, ml in drink["pours"]],
        "coffee": COFFEES[drink["coffee"]],
    }
    for drink in DEMO["drinks"]
}
LOW_TIDE = DRINKS["Low Tide Letter"]
SHELF: Final[list[dict[str, Any]]] = [
    {
        "ingredient": bottle["ingredient"],
        "price_per_ml": bottle["price"] / bottle["size_ml"],
        "stock_ml": bottle["stock_ml"],
    }
    for bottle in DEMO["shelf"]
]
ODD_COFFEES: Final[list[dict[str, Any]]] = [
    {},
    {"roast": "light", "process": "fermented", "notes": "strawbery, no smoke", "decaf": True},
    {"roast": "dark", "species": "canephora", "notes": "zzyzx", "dose_g": 30, "grind": "coarse"},
]
PREPARATIONS: Final[list[dict[str, Any]]] = [
    {"method": "stirred", "seconds": 45, "ice_celsius": -12},
    {"method": "on-a-cube", "cube_mm": 55},
    {"method": "pre-diluted", "dilution": 0.25, "celsius": -4},
    {"method": "none"},
]


@dataclass(frozen=True, slots=True)
class Sample:
    """One request that must be answered with 2XX."""

    body: Any = None
    place: dict[str, str] = field(default_factory=dict)
    query: dict[str, str | int] = field(default_factory=dict)


def _no_coffee(drink: dict[str, Any]) -> dict[str, Any]:
    return {**drink, "coffee": None}


def _pours(drink: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"pours": drink["pours"], **more}


SAMPLES: Final[dict[str, list[Sample]]] = {
    "get_health": [Sample()],
    "get_ingredients": [
        Sample(),
        Sample(query={"role": "bitters", "limit": 7}),
        Sample(query={"text": "sherry"}),
        Sample(query={"after": "zzz"}),
        Sample(query={"limit": 500}),
    ],
    "get_ingredients_ingredient_id": [
        Sample(place={"ingredient_id": i})
        for i in (
            "bourbon", "amontillado-sherry", "hazelnut-liqueur", "aromatic-bitters", "saline",
            "lemon-peel", "demerara-syrup", "coffee-dark-washed-canephora",
        )
    ],
    "post_coffees_reading": [Sample(c) for c in [*COFFEES.values(), *ODD_COFFEES]],
    "post_pairings": [
        *(Sample({"coffee": c}) for c in [*COFFEES.values(), *ODD_COFFEES]),
        Sample({"roles": ["bitters"], "limit": 100, "novelty": 1}),
        Sample({"novelty": 0, "among": [b["ingredient"] for b in DEMO["shelf"]]}),
        Sample({"among": []}),
        Sample({"partners": {"base": "armagnac", "modifier": "dry-madeira"}}),
    ],
    "post_affinities": [
        Sample({"pairs": [{"a": "armagnac", "b": "fig-liqueur"}]}),
        Sample({"pairs": [{"a": "coffee-light-washed-arabica", "b": "tea-bitters"},
                          {"a": "armagnac", "b": "armagnac"}]}),
    ],
    "post_balance": [
        *(Sample(drink) for drink in DRINKS.values()),
        Sample(_no_coffee(LOW_TIDE)),
        *(Sample({**LOW_TIDE, "preparation": p}) for p in PREPARATIONS),
        *(Sample({**LOW_TIDE, "coffee": c, "country": "GB"}) for c in ODD_COFFEES),
        Sample({"pours": [{"ingredient": "px-sherry", "volume_ml": 90}], "coffee": {}}),
        Sample({"pours": [{"ingredient": "aromatic-bitters", "volume_ml": 60}], "coffee": {}}),
    ],
    "post_reach": [
        Sample({**_pours(LOW_TIDE), "coffee": LOW_TIDE["coffee"], "abv_percent": 24}),
        Sample({**_pours(LOW_TIDE), "glass_ml": 110, "lattice": "1/4 oz"}),
        Sample({**_pours(LOW_TIDE), "abv_percent": 25, "glass_ml": 90, "among": "everything",
                "preparation": {"method": "pre-diluted", "dilution": 0.2}}),
        Sample({**_pours(LOW_TIDE), "abv_percent": 60, "preparation": {"method": "none"}}),
        Sample({"pours": [{"ingredient": "bourbon", "mass_g": 50}], "coffee": {}, "glass_ml": 1}),
    ],
    "post_stir": [Sample(_pours(d)) for d in DRINKS.values()]
    + [Sample(_pours(LOW_TIDE, preparation=PREPARATIONS[0], until_seconds=900))],
    "post_bed": [Sample(_pours(d, coffee=d["coffee"])) for d in DRINKS.values()]
    + [Sample(_pours(LOW_TIDE, coffee=c, until_seconds=86_400)) for c in ODD_COFFEES],
    "post_swaps": [
        Sample({"ingredient": "fig liqueur"}),
        Sample({"ingredient": "oloroso", "limit": 50, "avoid": ["nuts", "sulphites"]}),
        Sample({"ingredient": "armagnac", "shelf": []}),
        *(Sample({"ingredient": d["pours"][1]["ingredient"], "limit": 3, **_pours(d)})
          for d in DRINKS.values()),
        Sample({"ingredient": "fig-liqueur", "shelf": ["bourbon"], **_pours(LOW_TIDE)}),
        Sample({"ingredient": "cardamom-bitters", "coffee": None, "lattice": "1/4 oz",
                **_pours(LOW_TIDE)}),
    ],
    "post_compositions": [
        Sample({"coffee": COFFEES["Breakwater"], "shelf": SHELF, "limit": 3}),
        Sample({"shelf": SHELF[:25], "step": "1/4 oz", "free_dose": True, "limit": 2,
                "limits": {"must": ["armagnac"], "without_allergens": ["nuts"],
                           "most_caffeine_mg": 300, "most_cost": 5}}),
        Sample({"shelf": SHELF[:25], "step": "5 ml", "most_modifiers": 1, "most_bitters": 0,
                "repeat_pairs": True, "limit": 20, "country": "GB"}),
    ],
    "post_explanations_pairing": [
        *(Sample({"ingredient": i, "coffee": c})
          for c in COFFEES.values() for i in ("armagnac", "hazelnut-liqueur", "tea-bitters")),
        Sample({"ingredient": "saline"}),
    ],
    "post_explanations_drink": [
        *(Sample(_pours(d, coffee=d["coffee"])) for d in DRINKS.values()),
        Sample(_pours(LOW_TIDE, coffee=None)),
        Sample(_pours(LOW_TIDE, preparation=PREPARATIONS[1])),
        Sample({"pours": [{"ingredient": "px-sherry", "volume_ml": 90}]}),
    ],
    "post_explanations_why_not": [
        *(Sample({"ingredient": "peach liqueur", "coffee": c}) for c in COFFEES.values()),
        Sample({"ingredient": "fig liqueur", "coffee": {"notes": "fig"}, "limit": 1}),
        Sample({"ingredient": "bourbon", "among": ["armagnac", "cognac", "bourbon"], "limit": 1}),
    ],
    "post_explanations_what_if": [
        Sample({"was": _pours(LOW_TIDE), "now": _pours(d)}) for d in DRINKS.values()
    ],
    "get_graph": [Sample(), Sample(query={"format": "graphml"})],
}  # fmt: skip
