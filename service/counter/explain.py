"""Explain at the counter: a pairing, a whole drink, why not, what if; and the JSON of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from service.aroma import Aroma
from service.bed import Bed
from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known
from service.counter.measure import poured
from service.counter.naming import Lines
from service.counter.shapes import DECIMALS, confidence_json, significant, source_json
from service.counter.suggest import bed_of
from service.drink import Drink, Reading, read, read_many
from service.ingredients import Catalogue, profile_of
from service.ingredients.records import Ingredient, Role
from service.kit import BadData
from service.liquid import Preparation, Stirring
from service.recommend import Knowledge, Weights, aroma_of, of_role, pair_affinities, rank
from service.recommend.explain import (
    Explaining,
    Explanation,
    Fact,
    PairEvidence,
    Said,
    WhatIf,
    WhyNot,
    build_explaining,
    explain_drink,
    explain_pairing,
    what_if,
    why_not,
)

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Poured:
    """A drink as asked about: pours by any name, and the coffee it runs through, if any."""

    pours: Lines
    coffee: Coffee | None = field(default_factory=Coffee)
    preparation: Preparation = field(default_factory=Stirring)


def explaining(known: Known) -> Explaining:
    """What explanations need, built once for each catalogue."""
    return _explaining(known.catalogue, known.knowledge)


@lru_cache(maxsize=4)
def _explaining(catalogue: Catalogue, knowledge: Knowledge) -> Explaining:
    return build_explaining(catalogue, knowledge)


def explain_with_coffee(known: Known, coffee: Coffee, name: str) -> Explanation:
    """Why a bottle suits a coffee, or how far it does."""
    aroma, bottle = read_coffee(known, coffee).aroma, _bottle(known, name)
    (affinity,) = rank(known.knowledge, aroma, [bottle.id], known.knowledge.weights, 1)
    return explain_pairing(explaining(known), aroma, affinity)


def explain_pair(known: Known, a: str, b: str) -> Explanation:
    """Why any two ingredients belong together."""
    one, other = (known.names.find(name, field="ingredient").id for name in (a, b))
    (affinity,) = pair_affinities(known.knowledge, known.catalogue, [(one, other)])
    aroma = aroma_of(known.knowledge, known.catalogue, affinity.a)
    return explain_pairing(explaining(known), aroma, affinity)


def explain_poured(known: Known, asked: Poured, reading: Reading | None = None) -> Explanation:
    """A whole drink: why, how it tastes before and after, what to watch and what to say.

    reading : of the same drink, where somebody has it at hand; it is the longer half of the work
    """
    drink, aroma = _drink(known, asked)
    if reading is None:
        reading = read(drink, known.band, priors=known.priors, larder=known.larder)
    if aroma is None:
        return explain_drink(explaining(known), drink, reading)
    ids = [p.ingredient.id for p in drink.pours if p.ingredient.id in known.knowledge.space.index]
    affinities = rank(known.knowledge, aroma, ids, known.knowledge.weights, len(ids))
    return explain_drink(explaining(known), drink, reading, aroma, affinities)


def why_not_suggested(
    known: Known,
    coffee: Coffee,
    name: str,
    among: Sequence[str] | None = None,
    limit: int = 10,
    weights: Weights | None = None,
) -> WhyNot:
    """What a bottle lacks against the last one suggested for a coffee in its role."""
    bottle = _bottle(known, name)
    candidates = of_role(known.catalogue, bottle.role)
    if among is not None:
        standing = {known.names.find(other, field="among").id for other in among}
        candidates = [i for i in candidates if i in standing]
    aroma = read_coffee(known, coffee).aroma
    return why_not(
        explaining(known), aroma, bottle.id, candidates, weights or known.knowledge.weights, limit
    )


def what_if_changed(known: Known, was: Poured, now: Poured) -> WhatIf:
    """The difference between two drinks, in words and numbers."""
    drinks = [_drink(known, asked)[0] for asked in (was, now)]
    readings = read_many(drinks, known.band, priors=known.priors)
    old, new = zip(drinks, readings, strict=True)
    return what_if(known.knowledge.space, explaining(known).speech, old, new)


def explanation_json(known: Known, explanation: Explanation) -> Json:
    """The three lengths; each sentence with the ids of its facts, and all facts."""
    evidence = explanation.evidence
    return {
        "dataset_version": known.catalogue.version,
        "guest": {"text": _text(explanation.guest), "sentences": said_json(explanation.guest)},
        "staff": {"text": _text(explanation.staff), "sentences": said_json(explanation.staff)},
        "evidence": {
            "pairs": [pair_evidence_json(pair) for pair in evidence.pairs],
            "readings": [fact.id for fact in evidence.readings],
            "grades": dict(sorted(evidence.grades.items())),
            "sources": [
                source_json(known.catalogue, source)
                for source in evidence.sources
                if source in known.catalogue.sources
            ],
        },
        "facts": [fact_json(fact) for fact in explanation.facts],
    }


def pair_evidence_json(pair: PairEvidence) -> Json:
    return {
        "a": pair.a,
        "b": pair.b,
        "score": round(pair.score, DECIMALS),
        "parts": {part: round(value, DECIMALS) for part, value in pair.parts.items()},
        "confidence": confidence_json(pair.confidence),
        "contributions": [
            {"fact": fact.id, "amount": round(fact.value, DECIMALS)} for fact in pair.contributions
        ],
        "paths": [
            {"nodes": list(fact.about), "strength": significant(fact.value), "fact": fact.id}
            for fact in pair.paths
        ],
    }


def fact_json(fact: Fact) -> Json:
    return {
        "id": fact.id,
        "kind": str(fact.kind),
        "about": list(fact.about),
        "value": significant(fact.value, DECIMALS),
        "unit": fact.unit or None,
        "words": fact.words or None,
        "grades": list(fact.grades),
        "sources": list(fact.sources),
    }


def said_json(said: Sequence[Said]) -> list[Json]:
    return [{"text": one.text, "facts": list(one.facts)} for one in said]


def why_not_json(answer: WhyNot) -> Json:
    return {
        "ingredient": answer.ingredient,
        "suggested": answer.suggested,
        "candidate": answer.candidate,
        "place": answer.place,
        "candidates": answer.candidates,
        "score": round(answer.affinity.score, DECIMALS),
        "last": {"ingredient": answer.last.b, "score": round(answer.last.score, DECIMALS)},
        "gap": round(answer.gap, DECIMALS),
        "gaps": {str(part): round(value, DECIMALS) for part, value in answer.gaps.items()},
        "lacks": list(answer.lacks),
        "has": list(answer.has),
        "text": _text(answer.said),
        "sentences": said_json(answer.said),
    }


def what_if_json(answer: WhatIf) -> Json:
    return {
        "lines": [
            {
                "ingredient": line.ingredient,
                "was_ml": significant(line.was_ml),
                "now_ml": significant(line.now_ml),
            }
            for line in answer.lines
        ],
        "numbers": [
            {
                "name": number.name,
                "unit": number.unit,
                "was": significant(number.was),
                "now": significant(number.now),
                "difference": significant(number.amount),
            }
            for number in answer.numbers
        ],
        "taste": list(answer.taste.words),
        "lost": list(answer.lost),
        "gained": list(answer.gained),
        "verdict": {"was": answer.verdict_was, "now": answer.verdict_now},
        "text": _text(answer.said),
        "sentences": said_json(answer.said),
    }


def _drink(known: Known, asked: Poured) -> tuple[Drink, Aroma | None]:
    bed: Bed | None = None
    aroma: Aroma | None = None
    if asked.coffee is not None:
        bed, aroma = bed_of(asked.coffee), read_coffee(known, asked.coffee).aroma
    return Drink(poured(known, asked.pours), preparation=asked.preparation, bed=bed), aroma


def _bottle(known: Known, name: str) -> Ingredient:
    found = known.names.find(name, field="ingredient")
    if found.role is Role.COFFEE:
        profile = profile_of(found.id).name
        raise BadData(f"{profile} is a coffee; name a bottle to go with it", field="ingredient")
    return found


def _text(said: Sequence[Said]) -> str:
    return " ".join(one.text for one in said)
