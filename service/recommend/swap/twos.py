"""Two bottles where one cannot do it: the nearest one, and a little of what it lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.drink.lattice import by_the_dash
from service.ingredients.records import Role
from service.recommend.swap.closeness import composition_likeness
from service.recommend.swap.likeness import (
    LikenessPart,
    LikenessParts,
    SwapKnowledge,
    SwapWeights,
    aroma_likeness,
    dense_rows,
    kept_and_added,
)

Vector = NDArray[np.float64]
# Share of the second bottle in the aroma, and in the job, of the two: our estimate, because it is
# poured in the small amount that its strength of smell calls for.
SECOND_SHARE: Final = 0.3
SECOND_ROLES: Final = frozenset({Role.BITTERS, Role.MODIFIER, Role.SWEETENER, Role.BASE})
# A second bottle must bring back at least this share of the missing notes (estimate).
LEAST_GAINED_SHARE: Final = 0.08
MOST_FIRSTS: Final = 5
SECONDS_EACH: Final = 4


@dataclass(frozen=True, slots=True, eq=False)
class Two:
    """A first and a second bottle (rows), and how well they stand in together."""

    first: int
    second: int
    likeness: float
    parts: dict[LikenessPart, float]
    kept_share: float
    notes: Vector


def twos_of(
    known: SwapKnowledge,
    missing: str,
    parts: LikenessParts,
    weights: SwapWeights,
    firsts: Sequence[int],
    shelf: Sequence[int],
) -> list[Two]:
    """Pairs that together are more like the missing bottle than the first alone, best first."""
    row = known.index[missing]
    seconds = [r for r in shelf if known.ingredients[known.ids[r]].role in SECOND_ROLES]
    if not seconds:
        return []
    notes = known.space.notes
    old = dense_rows(notes, [row])[0]
    there = dense_rows(notes, seconds)
    alone = parts.score(weights)
    found = []
    for first in firsts[:MOST_FIRSTS]:
        had = dense_rows(notes, [first])[0]
        lost = old**2 - np.minimum(old, had) * old
        supply = np.minimum(there**2, lost).sum(axis=1)
        for place in np.argsort(-supply, kind="stable")[:SECONDS_EACH]:
            second = seconds[int(place)]
            if second == first:
                continue
            two = _two(known, row, parts, weights, (first, second), (old, had, there[place]))
            gained = two.kept_share - float(parts.kept[first])
            if two.likeness > alone[first] and gained >= LEAST_GAINED_SHARE:
                found.append(two)
    return sorted(found, key=lambda t: (-t.likeness, known.ids[t.first], known.ids[t.second]))


def _two(
    known: SwapKnowledge,
    missing: int,
    parts: LikenessParts,
    weights: SwapWeights,
    rows: tuple[int, int],
    notes: tuple[Vector, Vector, Vector],
) -> Two:
    first, second = rows
    old, had, more = notes
    both = np.sqrt((1.0 - SECOND_SHARE) * had**2 + SECOND_SHARE * more**2)
    length = float(np.linalg.norm(both))
    both = both / length if length > 0 else both
    kept, added = kept_and_added(old, both[np.newaxis])
    values = {
        LikenessPart.JOB: _job(known, missing, first, second),
        LikenessPart.ROLE: float(parts.values[LikenessPart.ROLE][first]),
        LikenessPart.AROMA: float(aroma_likeness(kept, added)[0]),
        LikenessPart.COMPOSITION: _composition(known, missing, parts, first, second),
        LikenessPart.USAGE: float(parts.values[LikenessPart.USAGE][first]),
    }
    weighed = {part: weights.of(part) * value for part, value in values.items()}
    return Two(first, second, sum(weighed.values()), weighed, float(kept[0]), both)


def _job(known: SwapKnowledge, missing: int, first: int, second: int) -> float:
    rows = known.jobs.rows
    both = (1.0 - SECOND_SHARE) * rows[first] + SECOND_SHARE * rows[second]
    length = float(np.linalg.norm(both))
    return float(rows[missing] @ both) / length if length > 0 else 0.0


def _composition(
    known: SwapKnowledge, missing: int, parts: LikenessParts, first: int, second: int
) -> float:
    """Of the two together; a few dashes do not change what a pour holds."""
    if by_the_dash(known.ingredients[known.ids[second]]):
        return float(parts.values[LikenessPart.COMPOSITION][first])
    places = known.places
    both = (1.0 - SECOND_SHARE) * places[first] + SECOND_SHARE * places[second]
    return float(composition_likeness(both[np.newaxis], places[missing])[0])
