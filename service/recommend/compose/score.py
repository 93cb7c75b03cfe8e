"""The part of the score that bottles decide, whatever their amounts: affinity, liking, novelty.

Means are weighted by how loudly a role speaks. For a fixed number of modifiers, bitters and
sweeteners the sums of those weights are constants, so the score is a sum over bottles and pairs
of bottles: bounding it over all bitters takes a maximum, not a search.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from service.ingredients.records import Role
from service.recommend.compose.problem import Problem
from service.recommend.compose.rack import Index, Rack, Vector
from service.recommend.compose.space import NONE, Block, Finishes


@dataclass(frozen=True, slots=True)
class Voices:
    """How loudly each part of a body speaks, and a bitters that joins it."""

    base: float
    modifier: float
    modifiers: int
    sweetener: float
    bitters: float

    def single_sum(self, bitters: int) -> float:
        return self.base + self.modifiers * self.modifier + self.sweetener + bitters * self.bitters

    def pair_sum(self, bitters: int) -> float:
        """Sum over pairs of the product of their voices; 1 where there is nothing to divide."""
        squares = (
            self.base**2
            + self.modifiers * self.modifier**2
            + self.sweetener**2
            + bitters * self.bitters**2
        )
        return 0.5 * (self.single_sum(bitters) ** 2 - squares) or 1.0


@dataclass(frozen=True, slots=True, eq=False)
class BodyScores:
    """Sums over the bottles of bodies, from which their score with any bitters follows.

    alone, pairs : weighted sums over the parts and over their pairs, of any one shape
    novelty : of that shape
    """

    voices: Voices
    alone: Vector
    pairs: Vector
    novelty: Vector

    def without_bitters(self, count: int) -> Vector:
        """The body's own share of the score when it is joined by so many bitters."""
        singles = self.alone / self.voices.single_sum(count)
        return np.asarray(singles + self.pairs / self.voices.pair_sum(count) + self.novelty)

    def of_bitters(self, count: int, alone: Vector | float, beside: Vector) -> Vector:
        """What a bitters adds as one of so many; `beside` sums its pairs with the body's parts."""
        by_pair = self.voices.bitters / self.voices.pair_sum(count)
        return by_pair * beside + alone * (self.voices.bitters / self.voices.single_sum(count))


@dataclass(frozen=True, slots=True, eq=False)
class BlockScores:
    """The scores of a whole block, as a table of bases by sets of modifiers.

    base_beside, set_beside : (bases, bitters) and (sets, bitters), which sum to `beside`
    """

    block: Block
    bodies: BodyScores
    base_beside: Vector
    set_beside: Vector

    def of(self, groups: Index) -> tuple[BodyScores, Vector]:
        """Scores and `beside` of some groups of the block."""
        base, chosen = np.divmod(groups - self.block.first, len(self.block.modifiers))
        bodies = BodyScores(
            self.bodies.voices,
            self.bodies.alone[base, chosen],
            self.bodies.pairs[base, chosen],
            self.bodies.novelty[base, chosen],
        )
        return bodies, self.base_beside[base] + self.set_beside[chosen]


def block_scores(problem: Problem, rack: Rack, block: Block) -> BlockScores:
    """The sums for every group of a block."""
    voices = _voices(problem, block)
    base, sets, sweet = block.bases, block.modifiers, block.sweetener
    bitters = rack.places[Role.BITTERS]
    base_alone = voices.base * rack.alone[base]
    set_alone = voices.modifier * rack.alone[sets].sum(axis=1)
    across = sum(rack.pairs[np.ix_(base, column)] for column in sets.T)
    pairs = voices.base * voices.modifier * np.asarray(across)
    if sets.shape[1] == 2:
        pairs = pairs + voices.modifier**2 * rack.pairs[sets[:, 0], sets[:, 1]]
    base_beside = voices.base * rack.pairs[np.ix_(base, bitters)]
    set_beside = voices.modifier * rack.pairs[sets][:, :, bitters].sum(axis=1)
    if sweet != NONE:
        set_alone = set_alone + voices.sweetener * rack.alone[sweet]
        beside = voices.base * rack.pairs[base, sweet][:, None]
        pairs = pairs + voices.sweetener * (
            beside + voices.modifier * rack.pairs[sets, sweet].sum(axis=1)
        )
        set_beside = set_beside + voices.sweetener * rack.pairs[sweet, bitters]
    novelty = problem.weights.novelty * _novelty(problem, rack, block)
    bodies = BodyScores(voices, base_alone[:, None] + set_alone, pairs, novelty)
    return BlockScores(block, bodies, base_beside, set_beside)


def choice_scores(rack: Rack, finishes: Finishes, bodies: BodyScores, beside: Vector) -> Vector:
    """The exact score of bodies with every choice of bitters; (groups, choices)."""
    bitters = rack.places[Role.BITTERS]
    start = int(bitters[0]) if len(bitters) else 0
    first, second = np.where(finishes.bitters == NONE, NONE, finishes.bitters - start).T
    found = np.empty((len(bodies.alone), len(first)))
    for count in (0, 1, 2):
        here = np.flatnonzero((first != NONE).astype(int) + (second != NONE) == count)
        if not len(here):
            continue
        score = bodies.without_bitters(count)[:, None]
        if count:
            each = bodies.of_bitters(count, rack.alone[bitters], beside)
            score = score + each[:, first[here]]
            if count == 2:
                together = _bitters_together(rack, bodies.voices)[first[here], second[here]]
                score = score + each[:, second[here]] + together
        found[:, here] = score
    return found


def most_with_bitters(problem: Problem, rack: Rack, scores: BlockScores) -> Vector:
    """Upper bound of every group's score over all allowed numbers and choices of bitters.

    With two bitters: the two that add most, and the two that suit each other best, which need
    not be the same two.
    """
    low, high = problem.shape.bitters
    most = np.full(scores.bodies.alone.shape, -np.inf)
    for count in range(low, min(high, len(rack.places[Role.BITTERS])) + 1):
        np.maximum(most, _most_with(count, rack, scores), out=most)
    return most.ravel()


def _most_with(count: int, rack: Rack, scores: BlockScores) -> Vector:
    """The same for one number of bitters."""
    bodies, bitters = scores.bodies, rack.places[Role.BITTERS]
    whole = bodies.without_bitters(count)
    if not count:
        return whole
    most, second = (np.full(whole.shape, -np.inf) for _ in range(2))
    columns = zip(scores.base_beside.T, scores.set_beside.T, rack.alone[bitters].tolist(),
                  strict=True)  # fmt: skip
    for of_base, of_set, alone in columns:
        adds = bodies.of_bitters(count, alone, of_base[:, None] + of_set)
        if count == 2:
            np.maximum(second, np.minimum(most, adds), out=second)
        np.maximum(most, adds, out=most)
    whole += most
    if count == 2:
        whole += second
        whole += _bitters_together(rack, bodies.voices).max()
    return whole


def _voices(problem: Problem, block: Block) -> Voices:
    weights, count = problem.weights, block.modifiers.shape[1]
    sweetener = weights.sweetener if block.sweetener != NONE else 0.0
    return Voices(weights.base, weights.modifiers / count, count, sweetener, weights.bitters)


def _novelty(problem: Problem, rack: Rack, block: Block) -> Vector:
    """1 less the largest share of base and modifiers in common with a drink of the house.

    Shared bottles over all bottles of the two (Jaccard 1901); bitters and sweeteners aside.
    """
    most = np.zeros((len(block.bases), len(block.modifiers)))
    for spec in problem.house_specs:
        inside = np.array([bottle.ingredient.id in spec for bottle in rack.bottles], dtype=bool)
        common = inside[block.bases][:, None] + inside[block.modifiers].sum(axis=1)
        of_both = len(spec) + 1 + block.modifiers.shape[1] - common
        np.maximum(most, common / of_both, out=most)
    return 1.0 - most


def _bitters_together(rack: Rack, voices: Voices) -> Vector:
    """What the affinity of two bitters adds to a score; minus infinity for one with itself."""
    bitters = rack.places[Role.BITTERS]
    table = voices.bitters**2 / voices.pair_sum(2) * rack.pairs[np.ix_(bitters, bitters)]
    np.fill_diagonal(table, -np.inf)
    return np.asarray(table)
