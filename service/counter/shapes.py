"""The JSON that page, API and command share: plain dictionaries, numbers rounded for people.

Rounding is for reading only (6 decimals on scores, so that reasons still sum to the score when
the unrounded numbers are compared by `service.recommend`).
"""

from __future__ import annotations

from typing import Any

from service.counter.browse import Evidence, Page
from service.counter.coffees import CoffeeReading
from service.counter.known import Known
from service.ingredients import Catalogue
from service.ingredients.records import Composition, Ingredient, Occurrence
from service.kit import Interval
from service.recommend import Affinity, Reason

Json = dict[str, Any]
DECIMALS = 6
# Confidence in words: our estimate of where a bartender should start to doubt.
FIRM, FAIR = 0.50, 0.38
MOST_REASONS = 6
LEAST_REST = 5e-7


def interval_json(interval: Interval, digits: int = 4) -> Json:
    """low, mid and high, rounded to significant digits."""
    return {
        "low": significant(interval.low, digits),
        "mid": significant(interval.mid, digits),
        "high": significant(interval.high, digits),
    }


def significant(value: float, digits: int = 4) -> float:
    """A number to some significant digits.

    >>> significant(0.0123456), significant(98.7654)
    (0.01235, 98.77)
    """
    return float(f"{value:.{digits}g}")


def confidence_json(confidence: float) -> Json:
    word = "firm" if confidence >= FIRM else "fair" if confidence >= FAIR else "thin"
    return {"value": round(confidence, 3), "word": word}


def ingredient_json(ingredient: Ingredient) -> Json:
    return {
        "id": ingredient.id,
        "name": ingredient.name,
        "role": str(ingredient.role),
        "style": ingredient.style,
        "abv_percent": interval_json(ingredient.composition.abv.scaled(100.0)),
        "sugar_g_per_l": interval_json(ingredient.composition.sugar_g_per_l),
        "qhe_mg_per_l": interval_json(ingredient.composition.qhe_mg_per_l),
        "allergens": sorted(ingredient.allergens),
        "cautions": sorted(ingredient.cautions),
        "grade": str(ingredient.grade),
    }


def page_json(page: Page) -> Json:
    return {
        "items": [ingredient_json(i) for i in page.items],
        "next_after": page.next_after,
        "total": page.total,
    }


def evidence_json(catalogue: Catalogue, evidence: Evidence) -> Json:
    ingredient = evidence.ingredient
    legal = ingredient.legal
    used = {o.source for o in evidence.occurrences} | {n.source for n in evidence.words}
    return {
        **ingredient_json(ingredient),
        "aliases": list(ingredient.aliases),
        "composition": composition_json(ingredient.composition),
        "legal": None
        if legal is None
        else {
            "category": legal.category,
            "abv_percent_min": None if legal.abv_min is None else round(legal.abv_min * 100, 3),
            "sugar_g_per_l_min": legal.sugar_min_g_per_l,
            "sugar_g_per_l_max": legal.sugar_max_g_per_l,
        },
        "notes": [
            {"descriptor": d, "share": round(share, DECIMALS), "trust": round(trust, 3)}
            for d, share, trust in evidence.notes
        ],
        "odorants": [occurrence_json(catalogue, o) for o in evidence.occurrences],
        "words": [
            {"descriptor": n.descriptor, "weight": n.weight, "grade": str(n.grade),
             "source": n.source}
            for n in evidence.words
        ],
        "sources": [source_json(catalogue, s) for s in sorted(used | set(ingredient.sources))],
    }  # fmt: skip


def composition_json(composition: Composition) -> Json:
    return {
        "abv_percent": interval_json(composition.abv.scaled(100.0)),
        "sugar_g_per_l": interval_json(composition.sugar_g_per_l),
        "acid_g_per_l": interval_json(composition.acid_g_per_l),
        "qhe_mg_per_l": interval_json(composition.qhe_mg_per_l),
        "caffeine_mg_per_l": interval_json(composition.caffeine_mg_per_l),
        "salt_g_per_l": interval_json(composition.salt_g_per_l),
    }


def occurrence_json(catalogue: Catalogue, occurrence: Occurrence) -> Json:
    odorant = catalogue.odorants[occurrence.odorant]
    amount = occurrence.concentration_ug_per_l
    return {
        "odorant": odorant.id,
        "name": odorant.name,
        "cas": odorant.cas,
        "ug_per_l": None if amount is None else interval_json(amount),
        "impact": None if occurrence.impact is None else str(occurrence.impact),
        "grade": str(occurrence.grade),
        "source": occurrence.source,
    }


def source_json(catalogue: Catalogue, source_id: str) -> Json:
    source = catalogue.sources[source_id]
    return {
        "id": source.id,
        "citation": source.citation,
        "doi": source.doi or None,
        "standard": source.standard or None,
    }


def coffee_json(known: Known, reading: CoffeeReading) -> Json:
    """What was read of a coffee: understood, negated and unknown words, and the aroma's notes."""
    coffee, notes = reading.coffee, reading.notes
    return {
        "profile": coffee.profile.id,
        "roast": str(coffee.profile.roast),
        "process": str(coffee.profile.process),
        "species": str(coffee.profile.species),
        "notes": coffee.notes,
        "understood": [
            {"text": m.text, "phrase": m.phrase, "how": str(m.how), "descriptors": dict(m.weights)}
            for m in notes.mentions
        ],
        "negated": [m.phrase for m in notes.negated],
        "unknown": [
            {"word": u.text, "nearest": [n.phrase for n in u.nearest]} for u in notes.unknown
        ],
        "aroma": [
            {"descriptor": d, "name": known.catalogue.descriptors[d].name, "share": round(s, 4)}
            for d, s in reading.strongest.items()
        ],
    }


def affinity_json(affinity: Affinity, most: int = MOST_REASONS) -> Json:
    """A score with its parts and the reasons that sum to it: the strongest by name, the rest of
    each part in one line without a name."""
    return {
        "score": round(affinity.score, DECIMALS),
        "parts": {str(p): round(v, DECIMALS) for p, v in affinity.parts.items()},
        "reasons": [
            {"part": str(r.part), "names": list(r.names), "amount": round(r.amount, DECIMALS)}
            for r in strongest_reasons(affinity, most)
        ],
        "confidence": confidence_json(affinity.confidence),
    }


def strongest_reasons(affinity: Affinity, most: int = MOST_REASONS) -> list[Reason]:
    """The strongest named reasons, then what is left of each part; their sum is the score."""
    named = [r for r in affinity.reasons if r.names][:most]
    left = {p: v - sum(r.amount for r in named if r.part is p) for p, v in affinity.parts.items()}
    return [*named, *(Reason(p, (), v) for p, v in left.items() if abs(v) > LEAST_REST)]


def pair_json(affinity: Affinity) -> Json:
    return {"a": affinity.a, "b": affinity.b, **affinity_json(affinity)}
