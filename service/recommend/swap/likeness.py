"""How well one bottle stands in for another: five parts, kept apart, that sum to the score.

This is not affinity: things that go together are seldom the same thing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from service.aroma import AromaSpace
from service.ingredients import Catalogue
from service.ingredients.records import Ingredient, Role
from service.recommend.affinity import Knowledge
from service.recommend.custom import Custom
from service.recommend.jobs import JobTable, build_jobs
from service.recommend.swap.closeness import (
    BY_THE_DASH,
    NOT_COMPARED,
    composition_likeness,
    place_of,
    role_likeness,
)

Vector = NDArray[np.float64]


class LikenessPart(StrEnum):
    """job: does the same in a drink; role: base, modifier ...; aroma: notes kept and none added;
    composition: as sweet, bitter, acid and strong; usage: poured with the same third things."""

    JOB = "job"
    ROLE = "role"
    AROMA = "aroma"
    COMPOSITION = "composition"
    USAGE = "usage"


@dataclass(frozen=True, slots=True)
class SwapWeights:
    """What each part counts for; they sum to 1. Set by hand on the tuning half of our list of
    accepted substitutions; a test shows that half or double of any one changes little."""

    job: float = 0.40
    role: float = 0.15
    aroma: float = 0.22
    composition: float = 0.18
    usage: float = 0.05

    def of(self, part: LikenessPart) -> float:
        return float(getattr(self, part))

    def as_json(self) -> dict[str, float]:
        return asdict(self)


SWAP_WEIGHTS: Final = SwapWeights()


@dataclass(frozen=True, slots=True, eq=False)
class SwapKnowledge:
    """All that a swap needs, built once. Rows are those of the aroma space.

    places : (ingredients, 5) compositions on the scales of `closeness`
    usage : (ingredients, partners) what each is poured with, rows of length 1 (or 0)
    """

    ingredients: Mapping[str, Ingredient]
    ids: tuple[str, ...]
    index: Mapping[str, int]
    space: AromaSpace
    custom: Custom
    jobs: JobTable
    places: Vector
    usage: Vector


@dataclass(frozen=True, slots=True, eq=False)
class LikenessParts:
    """The unweighted parts of one missing bottle with every other, 0 to 1; and what of its notes
    each keeps, and how much each adds that it did not have."""

    values: Mapping[LikenessPart, Vector]
    kept: Vector
    added: Vector

    def score(self, weights: SwapWeights) -> Vector:
        parts = [weights.of(part) * value for part, value in self.values.items()]
        return np.asarray(np.sum(parts, axis=0))


def build_swap_knowledge(catalogue: Catalogue, knowledge: Knowledge) -> SwapKnowledge:
    """Jobs, compositions and usage of every ingredient of the space."""
    space, custom = knowledge.space, knowledge.custom
    ingredients = catalogue.ingredients
    rows = custom.partners(space)[[custom.index[name] for name in space.ingredients]]
    lengths = np.linalg.norm(rows, axis=1, keepdims=True)
    return SwapKnowledge(
        ingredients=ingredients,
        ids=space.ingredients,
        index=space.index,
        space=space,
        custom=custom,
        jobs=build_jobs(space.ingredients, ingredients),
        places=np.array([place_of(ingredients[name].composition) for name in space.ingredients]),
        usage=np.divide(rows, lengths, out=np.zeros_like(rows), where=lengths > 0),
    )


def likeness_parts(known: SwapKnowledge, missing: str) -> LikenessParts:
    """The five parts of one missing bottle with every ingredient at once."""
    row = known.index[missing]
    role = known.ingredients[missing].role
    roles = [known.ingredients[name].role for name in known.ids]
    kept, added = kept_and_added(dense_rows(known.space.notes, [row])[0], known.space.notes)
    composition = composition_likeness(known.places, known.places[row])
    return LikenessParts(
        values={
            LikenessPart.JOB: known.jobs.likeness(row),
            LikenessPart.ROLE: np.array([role_likeness(role, other) for other in roles]),
            LikenessPart.AROMA: aroma_likeness(kept, added),
            LikenessPart.COMPOSITION: np.where(_compared(role, roles), composition, NOT_COMPARED),
            LikenessPart.USAGE: np.asarray(known.usage @ known.usage[row]),
        },
        kept=kept,
        added=added,
    )


def kept_and_added(missing: Vector, others: Any) -> tuple[Vector, Vector]:
    """Share of the missing notes that each other keeps; share of each other's notes that is new.

    Shares are squares of the notes (which have length 1). A note as loud as before is kept whole;
    what goes beyond is new. Where neither smells of anything, all is kept.
    """
    wanted = np.flatnonzero(missing > 0)
    if not wanted.size:
        smells = np.asarray(others.sum(axis=1)).ravel() > 0
        return (~smells).astype(float), smells.astype(float)
    there = others[:, wanted]
    there = np.asarray(there.todense() if hasattr(there, "todense") else there)
    was = missing[wanted]
    still = np.minimum(there, was)
    kept = (was * still).sum(axis=1)
    same = (there * still).sum(axis=1)
    return kept, np.clip(1.0 - same, 0.0, 1.0)


def aroma_likeness(kept: Vector, added: Vector) -> Vector:
    """Both ways at once: keeping the old notes and adding no new ones."""
    return np.asarray(np.sqrt(np.clip(kept * (1.0 - added), 0.0, 1.0)))


def dense_rows(matrix: Any, rows: Sequence[int]) -> Vector:
    """Chosen rows of a sparse matrix, written out; many times faster for few rows than slicing."""
    found = np.zeros((len(rows), matrix.shape[1]))
    for place, row in enumerate(rows):
        held = slice(matrix.indptr[row], matrix.indptr[row + 1])
        found[place, matrix.indices[held]] = matrix.data[held]
    return found


def _compared(role: Role, roles: list[Role]) -> list[bool]:
    """Whether composition says anything: not across the border of what goes by the dash."""
    if role is Role.GARNISH:
        return [False] * len(roles)
    return [(role in BY_THE_DASH) == (other in BY_THE_DASH) for other in roles]
