"""Affinity: four parts, kept apart, each a sum of named reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from service.aroma import (
    Aroma,
    AromaSpace,
    Bridges,
    Contrast,
    Rows,
    bridge,
    build_bridges,
    build_contrast,
    build_space,
    coffee_aroma,
    kinds_of,
    steps_to_hubs,
)
from service.ingredients import Catalogue, CoffeeProfile
from service.recommend.attested import Attested, attested
from service.recommend.custom import Custom, build_custom, custom_with_all
from service.recommend.weights import Weights

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]


class Part(StrEnum):
    ECHO = "echo"
    BRIDGE = "bridge"
    CONTRAST = "contrast"
    CUSTOM = "custom"


@dataclass(frozen=True, slots=True)
class Reason:
    """One named contribution to a score.

    `names` are ids: a descriptor (echo), the third ingredient (bridge), two families (contrast:
    one of a, one of b), two attested ingredients (custom: like a, like b), or nothing for what
    is too small to name.
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
    contrast: Contrast
    custom: Custom
    weights: Weights


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """Weighted parts of one aroma with every ingredient of the space (or some), row by row.

    third : the row of the ingredient a bridge leads over, -1 where there is none
    voice : who speaks for the aroma by custom
    """

    echo: Vector
    bridge: Vector
    contrast: Vector
    custom: Vector
    third: NDArray[np.intp]
    voice: Vector

    def at(self, places: Sequence[int] | NDArray[np.intp]) -> Parts:
        """The same of some rows only."""
        chosen = np.asarray(places, dtype=np.intp)
        return Parts(
            echo=self.echo[chosen],
            bridge=self.bridge[chosen],
            contrast=self.contrast[chosen],
            custom=self.custom[chosen],
            third=self.third[chosen],
            voice=self.voice,
        )

    def and_also(self, others: Parts) -> Parts:
        """These rows and then others, of the same aroma."""
        return Parts(
            echo=np.concatenate([self.echo, others.echo]),
            bridge=np.concatenate([self.bridge, others.bridge]),
            contrast=np.concatenate([self.contrast, others.contrast]),
            custom=np.concatenate([self.custom, others.custom]),
            third=np.concatenate([self.third, others.third]),
            voice=self.voice,
        )

    @property
    def score(self) -> Vector:
        return self.echo + self.bridge + self.contrast + self.custom


def build_knowledge(catalogue: Catalogue) -> Knowledge:
    """Matrices, bridges, what is learnt from attested pairs, and fitted weights."""
    space = build_space(catalogue)
    return knowledge_of(catalogue, space, build_bridges(space), attested(catalogue))


def knowledge_of(
    catalogue: Catalogue, space: AromaSpace, bridges: Bridges, known: Attested
) -> Knowledge:
    """Knowledge from a space and from attested pairs, whichever they are."""
    coffee = coffee_aroma(space, catalogue, CoffeeProfile())
    rows = [space.index[i] for i in known.ids[:-1]]
    profiles = np.vstack([space.families[rows], coffee.families])
    return Knowledge(
        space=space,
        bridges=bridges,
        contrast=build_contrast(space, profiles, known.surplus),
        custom=build_custom(catalogue, space, coffee, known),
        weights=Weights(**catalogue.affinity_weights),
    )


def weighed_notes(aroma: Aroma, weights: Weights) -> Vector:
    """What each note of an aroma counts for in the echo. What is this coffee's own counts extra:
    the bag's words, their kin, and what sets its roast, process and species apart."""
    own = aroma.named + weights.kin * aroma.kin + aroma.apart
    return weights.echo * aroma.notes + weights.named * own


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """An aroma and weights, and what follows from them whichever ingredients they are put to.

    loud : (descriptors,) what each note counts for in the echo
    voice : (3 anchors,) who speaks for the aroma by custom
    kinds : (anchors,) how far it is of one kind with each
    to_hubs : (hubs,) its half of a path over each bridge
    """

    aroma: Aroma
    weights: Weights
    loud: Vector
    voice: Vector
    kinds: Vector
    to_hubs: Vector


def asked(knowledge: Knowledge, aroma: Aroma, weights: Weights) -> Asked:
    """All that must be known of an aroma before it is put to ingredients."""
    space = knowledge.space
    return Asked(
        aroma=aroma,
        weights=weights,
        loud=weighed_notes(aroma, weights),
        voice=knowledge.custom.voice_of(space, aroma),
        kinds=kinds_of(space, knowledge.contrast, aroma),
        to_hubs=steps_to_hubs(space, knowledge.bridges, aroma),
    )


def parts_with_all(knowledge: Knowledge, aroma: Aroma, weights: Weights) -> Parts:
    """The four weighted parts of an aroma with every ingredient at once."""
    return parts_with(knowledge, asked(knowledge, aroma, weights))


def parts_with(knowledge: Knowledge, question: Asked, rows: Rows | None = None) -> Parts:
    """The four weighted parts of an aroma with every ingredient, or with some rows of the space."""
    space, weights, learnt = knowledge.space, question.weights, knowledge.contrast
    path, third = bridge(space, knowledge.bridges, question.aroma, rows, question.to_hubs)
    custom = custom_with_all(knowledge.custom, question.voice, rows)
    contrast = learnt.alike.times(learnt.surplus @ question.kinds, rows)
    notes = space.notes if rows is None else space.notes[rows]
    return Parts(
        echo=np.asarray(notes @ question.loud),
        bridge=weights.bridge * path,
        contrast=weights.contrast * contrast,
        custom=weights.custom_in_force * custom,
        third=third,
        voice=question.voice,
    )
