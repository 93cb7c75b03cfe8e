"""Affinity: four parts, kept apart, each a sum of named reasons."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from service.aroma import (
    Aroma,
    AromaSpace,
    Bridges,
    bridge,
    build_bridges,
    build_space,
    contrast,
    echo,
    family_contrasts,
    ingredient_aroma,
    shared_notes,
)
from service.ingredients import Catalogue
from service.recommend.custom import Custom, attested_by, build_custom
from service.recommend.weights import Weights, contrast_table

Vector = NDArray[np.float64]
# Contributions smaller than this are not worth a line of their own; they go into the rest.
WORTH_NAMING = 1e-3
# Trust in what was learnt on families (contrast) and in a path over a third ingredient: our
# estimates; both say something of kinds of things, not of these two.
CONTRAST_TRUST = 0.5
BRIDGE_TRUST = 0.6
# With this many specifications behind a pair, custom is half trusted.
CUSTOM_HALF = 3.0


class Part(StrEnum):
    ECHO = "echo"
    BRIDGE = "bridge"
    CONTRAST = "contrast"
    CUSTOM = "custom"


@dataclass(frozen=True, slots=True)
class Reason:
    """One named contribution to a score.

    `names` are ids: a descriptor (echo), the third ingredient (bridge), two families (contrast),
    two attested ingredients (custom), or nothing for what is too small to name.
    """

    part: Part
    names: tuple[str, ...]
    amount: float


@dataclass(frozen=True, slots=True)
class Affinity:
    """How two things belong together. `reasons` sum to `score`, and `parts` do too."""

    a: str
    b: str
    score: float
    parts: dict[Part, float]
    reasons: tuple[Reason, ...]
    confidence: float


@dataclass(frozen=True, slots=True, eq=False)
class Knowledge:
    """All that a score needs, built once from a catalogue."""

    space: AromaSpace
    bridges: Bridges
    custom: Custom
    contrasts: NDArray[np.float64]
    weights: Weights


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """Weighted parts of one aroma with every ingredient of the space, row by row."""

    echo: Vector
    bridge: Vector
    contrast: Vector
    custom: Vector
    third: NDArray[np.intp]

    @property
    def score(self) -> Vector:
        return self.echo + self.bridge + self.contrast + self.custom


def build_knowledge(catalogue: Catalogue) -> Knowledge:
    """Matrices, bridges, custom and fitted weights from one catalogue."""
    space = build_space(catalogue)
    return Knowledge(
        space=space,
        bridges=build_bridges(space),
        custom=build_custom(catalogue),
        contrasts=contrast_table(space.family_ids, catalogue.family_contrasts),
        weights=Weights(**catalogue.affinity_weights),
    )


def parts_with_all(knowledge: Knowledge, aroma: Aroma, weights: Weights) -> Parts:
    """The four weighted parts of an aroma with every ingredient at once."""
    path, third = bridge(knowledge.space, knowledge.bridges, aroma)
    custom = knowledge.custom
    return Parts(
        echo=weights.echo * echo(knowledge.space, aroma),
        bridge=weights.bridge * path,
        contrast=weights.contrast * contrast(knowledge.space, knowledge.contrasts, aroma),
        custom=weights.custom_in_force * custom.score[custom.index[aroma.context], :-1],
        third=third,
    )


def affinity(
    knowledge: Knowledge, aroma: Aroma, parts: Parts, row: int, weights: Weights
) -> Affinity:
    """One row of the parts with its reasons and how well they are known."""
    other = ingredient_aroma(knowledge.space, knowledge.space.ingredients[row])
    values = {
        Part.ECHO: float(parts.echo[row]),
        Part.BRIDGE: float(parts.bridge[row]),
        Part.CONTRAST: float(parts.contrast[row]),
        Part.CUSTOM: float(parts.custom[row]),
    }
    reasons = sorted(
        _all_reasons(knowledge, aroma, other, parts, row, weights),
        key=lambda r: (-abs(r.amount), r.part, r.names),
    )
    return Affinity(
        a=aroma.id,
        b=other.id,
        score=float(parts.score[row]),
        parts=values,
        reasons=(*reasons, *_rests(reasons, values)),
        confidence=_confidence(knowledge, aroma, other, values),
    )


def _all_reasons(
    knowledge: Knowledge, aroma: Aroma, other: Aroma, parts: Parts, row: int, weights: Weights
) -> Iterator[Reason]:
    space = knowledge.space
    shared = weights.echo * shared_notes(aroma, other)
    for column in np.flatnonzero(shared >= WORTH_NAMING):
        yield Reason(Part.ECHO, (space.descriptors[column],), float(shared[column]))
    if parts.third[row] >= 0:
        third = space.ingredients[parts.third[row]]
        yield Reason(Part.BRIDGE, (third,), float(parts.bridge[row]))
    pairs = weights.contrast * family_contrasts(knowledge.contrasts, aroma, other)
    for i, j in zip(*np.nonzero(np.abs(pairs) >= WORTH_NAMING), strict=True):
        families = (space.family_ids[i], space.family_ids[j])
        yield Reason(Part.CONTRAST, families, float(pairs[i, j]))
    for like_a, like_b, amount in attested_by(knowledge.custom, aroma.context, other.context):
        yield Reason(Part.CUSTOM, (like_a, like_b), weights.custom_in_force * amount)


def _rests(named: list[Reason], values: dict[Part, float]) -> Iterator[Reason]:
    """What the named reasons leave of each part, so that all of them sum to the score."""
    for part, value in values.items():
        rest = value - sum(r.amount for r in named if r.part is part)
        if abs(rest) > 1e-15:
            yield Reason(part, (), rest)


def _confidence(
    knowledge: Knowledge, aroma: Aroma, other: Aroma, values: dict[Part, float]
) -> float:
    """Trust in the evidence behind each part, weighed by what the part contributes (0 to 1)."""
    shared = shared_notes(aroma, other)
    total = float(shared.sum())
    well_known = float((shared * np.minimum(aroma.trust, other.trust)).sum())
    custom = knowledge.custom
    specs = float(custom.specs[custom.index[aroma.context], custom.index[other.context]])
    trust = {
        Part.ECHO: well_known / total if total > 0 else 0.0,
        Part.BRIDGE: BRIDGE_TRUST,
        Part.CONTRAST: CONTRAST_TRUST,
        Part.CUSTOM: (specs + 1.0) / (specs + 1.0 + CUSTOM_HALF),
    }
    weight = sum(abs(value) for value in values.values())
    if weight == 0:
        return 0.0
    return sum(abs(values[part]) * trust[part] for part in Part) / weight
