"""The JSON of ranked pairings, the same for page, API and command."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import orjson

from service.counter.known import Known
from service.counter.readings import standard_json
from service.counter.shapes import affinity_json, coffee_json
from service.counter.standard import MOST_KEPT, StandardReading
from service.counter.suggest import Pairings, Suggestion

Json = dict[str, Any]


def pairings_json(known: Known, answer: Pairings) -> Json:
    """Coffee, weights, and the suggestions of each role."""
    return {
        "dataset_version": known.catalogue.version,
        "coffee": coffee_json(known, answer.coffee),
        "weights": answer.weights.as_json(),
        "pairings": {
            str(role): [suggestion_json(s) for s in found]
            for role, found in answer.suggestions.items()
        },
    }


def suggestion_json(suggestion: Suggestion) -> Json:
    ingredient = suggestion.ingredient
    return {
        "ingredient": ingredient.id,
        "name": ingredient.name,
        "role": str(ingredient.role),
        "allergens": sorted(ingredient.allergens),
        **affinity_json(suggestion.affinity),
        "liking": None if suggestion.liking is None else round(suggestion.liking, 3),
        "balance": _balance(suggestion.standard),
    }


@lru_cache(maxsize=MOST_KEPT)
def _balance(standard: StandardReading) -> orjson.Fragment:
    """The JSON of a kept reading, written once."""
    return orjson.Fragment(orjson.dumps(standard_json(standard)))
