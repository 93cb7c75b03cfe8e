"""What stands in for a bottle that ran out, before any amounts: ranked, with its reasons."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.ingredients.records import Grade
from service.kit import BadData, OutOfRange
from service.recommend.swap.flags import Flag, new_flags
from service.recommend.swap.likeness import (
    SWAP_WEIGHTS,
    LikenessPart,
    LikenessParts,
    SwapKnowledge,
    SwapWeights,
    dense_rows,
    likeness_parts,
)
from service.recommend.swap.notes import NoteChanges, note_changes

Vector = NDArray[np.float64]
MOST_OPTIONS: Final = 100
# Below this score nothing is offered, and a bottle that shares no job at all never is. Both set on
# the tuning half of our list of substitutions, so that no clearly wrong one comes through.
WORTH_OFFERING: Final = 0.42
SAME_JOB: Final = 0.10
# From here on a bartender would not feel a need to buy something nearer (estimate).
GOOD: Final = 0.55
MOST_TO_BUY: Final = 3
TIE: Final = 1e-12
# How far each part's evidence is trusted: the table of jobs is common practice; compositions by
# their grade; usage by how often the two are attested at all. Estimates.
JOB_TRUST: Final = 0.6
ROLE_TRUST: Final = 0.9
GRADE_TRUST: Final[Mapping[Grade, float]] = {
    Grade.MEASURED: 1.0,
    Grade.DERIVED: 0.8,
    Grade.RECALLED: 0.6,
    Grade.ESTIMATE: 0.4,
}
USAGE_HALF: Final = 10.0


@dataclass(frozen=True, slots=True)
class StandIn:
    """One ingredient in place of another. `flags` are read first; `parts` sum to `score`.

    kept_share : of the missing bottle's notes, how much is still there
    added_share : of its own notes, how much was not there before
    jobs : what both do in a drink, in words
    partners : what specifications pour with either
    """

    flags: tuple[Flag, ...]
    missing: str
    ingredient: str
    score: float
    parts: Mapping[LikenessPart, float]
    kept_share: float
    added_share: float
    notes: NoteChanges
    jobs: tuple[str, ...]
    partners: tuple[str, ...]
    confidence: float


@dataclass(frozen=True, slots=True)
class StandIns:
    """The answer: options from the shelf, best first, and what to buy where none is good."""

    missing: str
    options: tuple[StandIn, ...]
    to_buy: tuple[StandIn, ...]
    weights: SwapWeights

    @property
    def nothing_does_it(self) -> bool:
        return not self.options


def stand_ins(
    known: SwapKnowledge,
    missing: str,
    shelf: Iterable[str] | None = None,
    limit: int = 10,
    weights: SwapWeights = SWAP_WEIGHTS,
    avoid: frozenset[str] = frozenset(),
) -> StandIns:
    """Replacements from a shelf (all ingredients by default); ties go by id.

    `avoid` are allergens that no replacement may hold.
    """
    if not 1 <= limit <= MOST_OPTIONS:
        raise OutOfRange.of("limit", limit, 1, MOST_OPTIONS, "replacements")
    check_replaceable(known, missing)
    parts = likeness_parts(known, missing)
    ranked = ranked_rows(known, missing, parts, weights, avoid)
    standing = None if shelf is None else frozenset(shelf)
    here = [row for row in ranked if standing is None or known.ids[row] in standing]
    elsewhere = [] if standing is None else [r for r in ranked if known.ids[r] not in standing]
    score = parts.score(weights)
    best = score[here[0]] if here else 0.0
    wanted = [row for row in elsewhere if score[row] > best][:MOST_TO_BUY] if best < GOOD else []
    return StandIns(
        missing=missing,
        options=tuple(stand_ins_of(known, missing, here[:limit], parts, weights)),
        to_buy=tuple(stand_ins_of(known, missing, wanted, parts, weights)),
        weights=weights,
    )


def check_replaceable(known: SwapKnowledge, missing: str) -> None:
    """A coffee is chosen, not swapped."""
    if missing not in known.index:
        raise BadData(
            f"{missing!r} is no bottle; choose another coffee by asking what goes with it",
            field="ingredient",
        )


def ranked_rows(
    known: SwapKnowledge,
    missing: str,
    parts: LikenessParts,
    weights: SwapWeights,
    avoid: frozenset[str] = frozenset(),
) -> list[int]:
    """Rows of everything that can stand in at all, best first, ties by id."""
    score = np.round(parts.score(weights) / TIE) * TIE
    able = (score >= WORTH_OFFERING) & (parts.values[LikenessPart.JOB] >= SAME_JOB)
    able[known.index[missing]] = False
    rows = [
        int(row)
        for row in np.flatnonzero(able)
        if not (avoid & known.ingredients[known.ids[row]].allergens)
    ]
    return sorted(rows, key=lambda row: (-score[row], known.ids[row]))


def stand_ins_of(
    known: SwapKnowledge,
    missing: str,
    rows: Sequence[int],
    parts: LikenessParts,
    weights: SwapWeights,
) -> list[StandIn]:
    """Chosen rows with their reasons."""
    lost = known.index[missing]
    notes = dense_rows(known.space.notes, [lost, *rows])
    told = dense_rows(known.space.trust, [lost, *rows])
    score = parts.score(weights)
    found = []
    for place, row in enumerate(rows, start=1):
        name = known.ids[row]
        values = {p: weights.of(p) * float(v[row]) for p, v in parts.values.items()}
        found.append(
            StandIn(
                flags=new_flags([known.ingredients[missing]], [known.ingredients[name]]),
                missing=missing,
                ingredient=name,
                score=float(score[row]),
                parts=values,
                kept_share=float(parts.kept[row]),
                added_share=float(parts.added[row]),
                notes=note_changes(known.space.descriptors, notes[0], notes[place]),
                jobs=known.jobs.shared(lost, row),
                partners=shared_partners(known, missing, name),
                confidence=trust_in(known, missing, name, values, (told[0], told[place])),
            )
        )
    return found


def shared_partners(known: SwapKnowledge, a: str, b: str, limit: int = 3) -> tuple[str, ...]:
    """The third things that specifications pour with a and also with b, the firmest first."""
    custom = known.custom
    if not {a, b} <= custom.index.keys():
        return ()
    both = custom.together[custom.index[a]] * custom.together[custom.index[b]]
    strongest = np.argsort(-both, kind="stable")[:limit]
    return tuple(custom.ids[i] for i in strongest if both[i] > 0)


def times_poured(known: SwapKnowledge, name: str) -> float:
    """In how many pairs of public specifications it is poured."""
    row = known.custom.index.get(name)
    return 0.0 if row is None else float(known.custom.specs[row].sum())


def trust_in(
    known: SwapKnowledge,
    missing: str,
    name: str,
    values: Mapping[LikenessPart, float],
    told: tuple[Vector, Vector],
) -> float:
    """Trust in the evidence behind each part, weighed by what the part contributes (0 to 1).

    `told` is how well each note of the one and of the other is known.
    """
    one, other = known.ingredients[missing], known.ingredients[name]
    attested = min(times_poured(known, missing), times_poured(known, name))
    both = np.minimum(*told)
    both = both[both > 0]
    trusts = {
        LikenessPart.JOB: JOB_TRUST,
        LikenessPart.ROLE: ROLE_TRUST,
        LikenessPart.AROMA: float(both.mean()) if both.size else 0.0,
        LikenessPart.COMPOSITION: min(GRADE_TRUST[one.grade], GRADE_TRUST[other.grade]),
        LikenessPart.USAGE: attested / (attested + USAGE_HALF),
    }
    total = sum(values.values())
    return sum(values[p] * trusts[p] for p in values) / total if total > 0 else 0.0
