"""The JSON of a composition, the same for page, API and command."""

from __future__ import annotations

from typing import Any

from service.counter.compose import ComposeAnswer, ComposedDrink
from service.counter.known import Known
from service.counter.readings import measured_json
from service.counter.shapes import DECIMALS, affinity_json, coffee_json, significant
from service.ingredients.records import Ingredient, Role
from service.kit.jigger import JiggerStep
from service.kit.units import DASH_ML, DROP_ML
from service.recommend.compose import Composed, Limits, Measures

Json = dict[str, Any]
_QUARTERS = {1: "1/4", 2: "1/2", 3: "3/4"}


def compose_json(known: Known, answer: ComposeAnswer) -> Json:
    """What was asked and understood, the drinks best first, and how it is known."""
    question = answer.question
    return {
        "dataset_version": known.catalogue.version,
        "coffee": coffee_json(known, answer.coffee),
        "weights": answer.composition.weights.as_json(),
        "affinity_weights": answer.affinity_weights.as_json(),
        "measures": measures_json(question.measures),
        "limits": limits_json(question.limits),
        "variety": {
            "repeat_pairs": question.variety.repeat_pairs,
            "most_per_bottle": question.variety.most_per_bottle,
        },
        "certificate": answer.composition.certificate.as_json(),
        "drinks": [composed_json(drink, question.measures) for drink in answer.drinks],
    }


def composed_json(drink: ComposedDrink, measures: Measures) -> Json:
    """One drink: pours in the bar's measures, the sum of its score, its reading, its reasons."""
    composed = drink.composed
    bed = composed.drink.bed
    return {
        "score": round(composed.score, DECIMALS),
        "parts": {str(part): round(v, DECIMALS) for part, v in composed.parts.items()},
        "shares": [
            {"part": str(s.part), "ids": list(s.ids), "amount": round(s.amount, DECIMALS)}
            for s in composed.shares
        ],
        "pours": [
            {
                "ingredient": p.ingredient.id,
                "name": p.ingredient.name,
                "role": str(p.ingredient.role),
                "volume_ml": significant(p.volume_ml),
                "amount": spoken_amount(p.ingredient, p.volume_ml, measures),
            }
            for p in composed.drink.pours
        ],
        "dose_g": None if bed is None else bed.dose_g,
        "forecast": forecast_json(composed),
        "reading": measured_json(drink.measured),
        "reasons": {
            "with_coffee": [{"b": a.b, **affinity_json(a)} for a in drink.with_coffee],
            "together": [{"a": a.a, "b": a.b, **affinity_json(a)} for a in drink.together],
        },
    }


def forecast_json(composed: Composed) -> Json:
    """What the search reckoned with; the reading beside it has the uncertainty."""
    return {
        "inside_probability": round(composed.balance, 3),
        "abv_percent": significant(100.0 * composed.abv),
        "volume_ml": significant(composed.volume_ml),
        "caffeine_mg_at_most": significant(composed.caffeine_mg),
        "cost": round(composed.cost, 4),
        "unpriced": list(composed.unpriced),
    }


def limits_json(limits: Limits) -> Json:
    return {
        "must": sorted(limits.must),
        "must_not": sorted(limits.must_not),
        "without_allergens": sorted(limits.without_allergens),
        "abv_percent": [significant(100 * limits.least_abv), significant(100 * limits.most_abv)],
        "most_caffeine_mg": limits.most_caffeine_mg,
        "most_cost": limits.most_cost,
        "glass_ml": [limits.least_glass_ml, limits.most_glass_ml],
        "least_balance": limits.least_balance,
    }


def measures_json(measures: Measures) -> Json:
    return {
        "step": str(measures.step),
        "step_ml": significant(measures.step.ml),
        "base_ml": list(measures.base_ml),
        "modifier_ml": list(measures.modifier_ml),
        "sweetener_ml": list(measures.sweetener_ml),
        "dashes": list(measures.dashes),
    }


def spoken_amount(ingredient: Ingredient, volume_ml: float, measures: Measures) -> str:
    """An amount as a bartender measures it: dashes, drops, mL, or ounces and their quarters."""
    if ingredient.role is Role.BITTERS:
        return _counted(volume_ml / DASH_ML, "dash", "dashes")
    if ingredient.role is Role.SEASONING:
        if volume_ml < DASH_ML - 1e-9:
            return _counted(volume_ml / DROP_ML, "drop", "drops")
        return _counted(volume_ml / DASH_ML, "dash", "dashes")
    if measures.step is not JiggerStep.QUARTER_OUNCE:
        return f"{volume_ml:g} mL"
    quarters = volume_ml / JiggerStep.QUARTER_OUNCE.ml
    if abs(quarters - round(quarters)) > 1e-6:
        return f"{round(2 * quarters)}/8 oz"
    whole, rest = divmod(round(quarters), 4)
    words = [str(whole)] if whole else []
    return f"{' '.join([*words, _QUARTERS[rest]] if rest else words)} oz"


def _counted(number: float, one: str, many: str) -> str:
    count = round(number)
    return f"{count} {one if count == 1 else many}"
