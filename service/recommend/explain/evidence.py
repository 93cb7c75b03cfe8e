"""For whoever doubts it: contributions, notes with their odorants, paths, grades and sources."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from service.recommend.explain.facts import CONTRIBUTIONS, Fact, FactKind, Facts


@dataclass(frozen=True, slots=True)
class PairEvidence:
    """The score of one pair and all that it consists of. `contributions` sum to `score`."""

    a: str
    b: str
    score: float
    parts: Mapping[str, float]
    confidence: float
    contributions: tuple[Fact, ...]
    paths: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Evidence:
    """Pairs, readings of the drink where there is one, and what all of it rests on."""

    pairs: tuple[PairEvidence, ...]
    readings: tuple[Fact, ...]
    grades: Mapping[str, int]
    sources: tuple[str, ...]


def evidence_of(facts: Facts, pairs: Sequence[tuple[str, str]]) -> Evidence:
    """Everything in order; nothing is left out and nothing is added."""
    used = [f for f in facts if f.kind in CONTRIBUTIONS or f.kind is FactKind.PATH]
    return Evidence(
        pairs=tuple(_pair(facts, *pair) for pair in pairs if facts.one(FactKind.SCORE, *pair)),
        readings=tuple(
            f for f in facts if f.kind in (FactKind.TASTE, FactKind.AMOUNT, FactKind.VERDICT)
        ),
        grades=Counter(grade for fact in used for grade in fact.grades),
        sources=tuple(sorted({source for fact in used for source in fact.sources})),
    )


def _pair(facts: Facts, a: str, b: str) -> PairEvidence:
    score, confidence = (facts.one(kind, a, b) for kind in (FactKind.SCORE, FactKind.CONFIDENCE))
    return PairEvidence(
        a=a,
        b=b,
        score=score.value if score else 0.0,
        parts={fact.about[2]: fact.value for fact in facts.of(FactKind.PART, a, b)},
        confidence=confidence.value if confidence else 0.0,
        contributions=tuple(
            fact for fact in facts if fact.kind in CONTRIBUTIONS and fact.about[:2] == (a, b)
        ),
        paths=tuple(f for f in facts.of(FactKind.PATH, a) if f.about[-1] == b),
    )
