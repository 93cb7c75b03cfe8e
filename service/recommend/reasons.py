"""Why: the named reasons of chosen suggestions, for all of them in one pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from service.aroma import Aroma, family_contrasts
from service.recommend.affinity import Affinity, Knowledge, Part, Parts, Reason, weighed_notes
from service.recommend.custom import attested_by
from service.recommend.weights import Weights

Vector = NDArray[np.float64]
# Contributions smaller than this are not worth a line of their own; they go into the rest, and
# so do all beyond the strongest few of each part.
WORTH_NAMING = 1e-3
MOST_NAMED = 6
# Trust in what was learnt on families (contrast) and in a path over a third ingredient: our
# estimates; both say something of kinds of things, not of these two.
CONTRAST_TRUST = 0.5
BRIDGE_TRUST = 0.6
# With this many specifications behind a pair, custom is half trusted.
CUSTOM_HALF = 3.0


def affinities(
    knowledge: Knowledge, aroma: Aroma, parts: Parts, rows: Sequence[int], weights: Weights
) -> list[Affinity]:
    """Chosen rows of the parts, each with its reasons and how well they are known."""
    chosen = np.asarray(rows, dtype=np.intp)
    return affinities_of(knowledge, aroma, parts.at(chosen), chosen, weights)


def affinities_of(
    knowledge: Knowledge, aroma: Aroma, parts: Parts, rows: NDArray[np.intp], weights: Weights
) -> list[Affinity]:
    """The same where the parts are those of the rows alone, in their order."""
    if not len(rows):
        return []
    # What only the kin of a named note brings is no shared note: it stays in the rest.
    told = np.where(aroma.notes > 0, weighed_notes(aroma, weights), 0.0)
    shared = knowledge.space.notes[rows].toarray() * told
    values = np.stack(_four(parts), axis=1)
    scores = parts.score
    confidences = _confidences(knowledge, aroma, rows, shared, values)
    named = _named(knowledge, aroma, parts, rows, weights, shared)
    return [
        Affinity(
            a=aroma.id,
            b=knowledge.space.ingredients[row],
            score=float(scores[k]),
            parts=dict(zip(Part, values[k].tolist(), strict=True)),
            reasons=_with_rests(reasons, values[k].tolist()),
            confidence=float(confidences[k]),
        )
        for k, (row, reasons) in enumerate(zip(rows, named, strict=True))
    ]


def affinity(
    knowledge: Knowledge, aroma: Aroma, parts: Parts, row: int, weights: Weights
) -> Affinity:
    """One row of the parts with its reasons and how well they are known."""
    return affinities(knowledge, aroma, parts, [row], weights)[0]


def _four(parts: Parts) -> tuple[Vector, Vector, Vector, Vector]:
    """In the order of `Part`."""
    return parts.echo, parts.bridge, parts.contrast, parts.custom


def _named(
    knowledge: Knowledge,
    aroma: Aroma,
    parts: Parts,
    rows: NDArray[np.intp],
    weights: Weights,
    shared: NDArray[np.float64],
) -> Iterator[list[Reason]]:
    """The reasons of each row that are worth naming, strongest first."""
    space, count = knowledge.space, len(knowledge.space.family_ids)
    pairs = weights.contrast * family_contrasts(space, knowledge.contrast, aroma, rows)
    # One family with itself is no contrast; it stays in the rest.
    pairs[:, np.arange(count), np.arange(count)] = 0.0
    attested = attested_by(knowledge.custom, parts.voice, rows)
    echoes, contrasts = _strongest(shared), _strongest(pairs.reshape(len(rows), -1))
    for k in range(len(rows)):
        reasons = [Reason(Part.ECHO, (space.descriptors[i],), amount) for i, amount in echoes[k]]
        if parts.third[k] >= 0:
            third = space.ingredients[parts.third[k]]
            reasons.append(Reason(Part.BRIDGE, (third,), float(parts.bridge[k])))
        reasons += [
            Reason(
                Part.CONTRAST, (space.family_ids[i // count], space.family_ids[i % count]), amount
            )
            for i, amount in contrasts[k]
        ]
        reasons += [
            Reason(Part.CUSTOM, (like_a, like_b), weights.custom_in_force * amount)
            for like_a, like_b, amount in attested[k]
        ]
        reasons.sort(key=lambda r: (-abs(r.amount), r.part, r.names))
        yield reasons


def _strongest(amounts: NDArray[np.float64]) -> list[list[tuple[int, float]]]:
    """Row by row the places of the few amounts worth naming, in a stable order."""
    loud = np.abs(amounts)
    few = min(MOST_NAMED, loud.shape[1])
    best = np.sort(np.argpartition(-loud, few - 1, axis=1)[:, :few], axis=1)
    order = np.argsort(-np.take_along_axis(loud, best, axis=1), axis=1, kind="stable")
    best = np.take_along_axis(best, order, axis=1)
    values = np.take_along_axis(amounts, best, axis=1)
    return [
        [(i, amount) for i, amount in zip(places, row, strict=True) if abs(amount) >= WORTH_NAMING]
        for places, row in zip(best.tolist(), values.tolist(), strict=True)
    ]


def _with_rests(named: list[Reason], values: list[float]) -> tuple[Reason, ...]:
    """And what the named reasons leave of each part, so that all of them sum to the score."""
    left = dict(zip(Part, values, strict=True))
    for reason in named:
        left[reason.part] -= reason.amount
    rests = (Reason(part, (), rest) for part, rest in left.items() if abs(rest) > 1e-15)
    return (*named, *rests)


def _confidences(
    knowledge: Knowledge,
    aroma: Aroma,
    rows: NDArray[np.intp],
    shared: NDArray[np.float64],
    values: NDArray[np.float64],
) -> Vector:
    """Trust in the evidence behind each part, weighed by what the part contributes (0 to 1).

    The trust of a note falls with its grade and with how far its numbers may be off.
    """
    known = np.minimum(knowledge.space.trust[rows].toarray(), aroma.trust)
    total = shared.sum(axis=1)
    trust = np.empty_like(values)
    trust[:, 0] = np.divide(
        (shared * known).sum(axis=1), total, out=np.zeros_like(total), where=total > 0
    )
    trust[:, 1] = BRIDGE_TRUST
    trust[:, 2] = CONTRAST_TRUST
    attested = 1.0 + _attested_counts(knowledge, aroma, rows)
    trust[:, 3] = attested / (attested + CUSTOM_HALF)
    weight = np.abs(values)
    whole = weight.sum(axis=1)
    believed = (weight * trust).sum(axis=1)
    return np.asarray(np.divide(believed, whole, out=np.zeros_like(whole), where=whole > 0))


def _attested_counts(knowledge: Knowledge, aroma: Aroma, rows: NDArray[np.intp]) -> Vector:
    """How many specifications hold both the aroma and each row."""
    index, counts = knowledge.custom.index, knowledge.custom.attested.counts
    if aroma.context not in index:
        return np.zeros(len(rows))
    of_aroma = counts[index[aroma.context]]
    ids = knowledge.space.ingredients
    return np.array([of_aroma[index[ids[r]]] if ids[r] in index else 0.0 for r in rows])
