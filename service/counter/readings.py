"""The JSON of a reading: a drink before and after the bed, its checks, remedies and cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any, Final

from service.counter.measure import Measured
from service.counter.shapes import interval_json, significant
from service.counter.standard import Check, StandardReading
from service.drink import (
    Balance,
    Caution,
    Drink,
    Level,
    Reading,
    Remedy,
    State,
    grams_per_ml,
    no_lever_reaches,
)
from service.liquid import BuiltOnCube, PreDiluted, Preparation, Stirring, Unchilled

Json = dict[str, Any]
# The word by which a preparation is asked for and answered.
METHODS: Final[Mapping[type[Preparation], str]] = {
    Stirring: "stirred",
    BuiltOnCube: "on-a-cube",
    PreDiluted: "pre-diluted",
    Unchilled: "none",
}


def measured_json(measured: Measured | StandardReading) -> Json:
    """A drink with everything that is foretold of it."""
    reading = measured.reading
    return {
        "drink": drink_json(measured.drink),
        "verdict": str(reading.verdict),
        "sweetness": check_json(measured.sweetness),
        "bitterness": check_json(measured.bitterness),
        "before": {"state": state_json(reading.before), **balance_json(reading.balance_before)},
        "after": {"state": state_json(reading.after), **balance_json(reading.balance_after)},
        "bed": None if measured.drink.bed is None else bed_json(reading),
        "remedies": [remedy_json(r) for r in reading.remedies],
        "no_lever_reaches": bool(reading.remedies) and no_lever_reaches(reading.remedies),
        "cautions": [caution_json(c) for c in reading.cautions],
    }


def standard_json(standard: StandardReading) -> Json:
    """The balance of one suggestion in short: build, verdict, the two checks, strength, remedy."""
    reading = standard.reading
    remedy = reading.remedies[0] if reading.remedies else None
    return {
        "build": [
            {"ingredient": p.ingredient.id, "volume_ml": significant(p.volume_ml)}
            for p in standard.drink.pours
        ],
        "verdict": str(reading.verdict),
        "verdict_before": str(reading.balance_before.verdict),
        "words": reading.balance_after.words,
        "inside_probability": round(reading.balance_after.inside_probability, 3),
        "sweetness": check_json(standard.sweetness),
        "bitterness": check_json(standard.bitterness),
        "strength": {
            "before": interval_json(reading.before.abv.scaled(100.0), 3),
            "after": interval_json(reading.after.abv.scaled(100.0), 3),
        },
        "warning": reading.balance_after.warning or None,
        "remedy": None if remedy is None else remedy_json(remedy),
        "cautions": [c.code for c in reading.cautions if c.level is not Level.NOTE],
    }


def drink_json(drink: Drink) -> Json:
    bed = drink.bed
    return {
        "name": drink.name,
        "pours": [
            {
                "ingredient": p.ingredient.id,
                "name": p.ingredient.name,
                "volume_ml": significant(p.volume_ml),
                "mass_g": significant(p.volume_ml * grams_per_ml(p.ingredient)),
            }
            for p in drink.pours
        ],
        "preparation": {
            "method": METHODS[type(drink.preparation)],
            **{k: significant(float(v)) for k, v in asdict(drink.preparation).items()},
        },
        "coffee": None
        if bed is None
        else {
            "dose_g": bed.dose_g,
            "grind": str(bed.grind),
            "roast": str(bed.roast),
            "canephora_share": bed.canephora_share,
            "decaf": bed.decaf,
        },
    }


def state_json(state: State) -> Json:
    """Every number of one moment, with its 80 % interval."""
    return {
        "volume_ml": interval_json(state.volume_ml),
        "abv_percent": interval_json(state.abv.scaled(100.0)),
        "ethanol_g": interval_json(state.ethanol_g),
        "sugar_g_per_l": interval_json(state.sugar_g_per_l),
        "acid_g_per_l": interval_json(state.acid_g_per_l),
        "qhe_mg_per_l": interval_json(state.qhe_mg_per_l),
        "caffeine_mg": interval_json(state.caffeine_mg),
        "salt_g_per_l": interval_json(state.salt_g_per_l),
        "coffee_solids_g_per_l": interval_json(state.coffee_solids_g_per_l),
        "celsius": interval_json(state.celsius),
        "taste": {
            taste: interval_json(getattr(state, taste), 3)
            for taste in ("sweet", "bitter", "sour", "salt", "heat")
        },
    }


def balance_json(balance: Balance) -> Json:
    return {
        "verdict": str(balance.verdict),
        "words": balance.words,
        "distance": interval_json(balance.distance, 3),
        "probability": {
            "inside": round(balance.inside_probability, 3),
            "edge": round(balance.edge_probability, 3),
            "outside": round(balance.outside_probability, 3),
        },
        "style": str(balance.style),
        "warning": balance.warning or None,
    }


def check_json(check: Check) -> Json:
    """One taste before and after the bed, in points of 0-15 and in words."""
    return {
        "before": interval_json(check.before, 3),
        "after": interval_json(check.after, 3),
        "leaning_before": round(check.leaning_before, 2),
        "leaning_after": round(check.leaning_after, 2),
        "words": check.words,
    }


def bed_json(reading: Reading) -> Json:
    return {
        "kept_ml": interval_json(reading.kept_ml),
        "yield_share": interval_json(reading.yield_share),
        "drain_seconds": interval_json(reading.drain_seconds, 3),
        "caffeine_ceiling_mg": significant(reading.caffeine_ceiling_mg),
    }


def remedy_json(remedy: Remedy) -> Json:
    return {
        "lever": str(remedy.lever),
        "ingredient": remedy.ingredient_id or None,
        "now": significant(remedy.now),
        "then": significant(remedy.then),
        "unit": remedy.unit,
        "reaches": remedy.reaches,
        "words": remedy.words,
    }


def caution_json(caution: Caution) -> Json:
    return {
        "code": caution.code,
        "level": str(caution.level),
        "message": caution.message,
        "source": caution.source,
        "value": None if caution.value is None else significant(caution.value),
        "unit": caution.unit or None,
    }
