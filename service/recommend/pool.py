"""A long list of candidates made ready, so that the best are found without scoring them all.

What no candidate can exceed is had from two small tables; `service.recommend.best` scores exactly
those few that this bound leaves in the running. One table holds every note of every candidate in
a byte, rounded up, note by note, so that only the notes that this aroma is loud in are read. The
other is a sketch of the other three parts, for one small dense product: contrast and custom are
inner products of a row of the candidate and a vector of the aroma, and both are split into what
lies in a small common subspace and what is beyond it, which adds at most the product of the two
lengths (Cauchy and Schwarz).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma import Rows, Sparse
from service.recommend.affinity import Asked, Knowledge, Matrix, Vector
from service.recommend.custom import Custom

Sketch = NDArray[np.float32]
# Dimensions kept of custom and of contrast: our choice, by `benchmarks/scale.py`. Fewer leave
# more candidates to score exactly, more make the first pass longer.
CUSTOM_DIMENSIONS, CONTRAST_DIMENSIONS = 32, 8
# Rows from which the subspaces are found, and rows sketched at once.
SAMPLE, AT_ONCE = 2048, 4096
# So many of an aroma's loudest notes are read one by one; the rest add at most their length,
# because no candidate's notes are longer than 1.
LOUDEST = 48
STEPS = 255
# Candidates whose bounds are made at once, such that they stay near the processor.
NEAR = 32_768
# Rounds up to 32 bits whatever is positive.
UP = 1.0 + 2.0**-22
UNIT = 2.0**-24


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """Candidates ready to be ranked against any aroma.

    rows : rows of the space, rising
    notes : (descriptors, candidates) in steps of 1/255, rounded up
    custom_basis, contrast_basis : (3 anchors or anchors, dimensions), columns of length 1 at
        right angles
    balance : (3 anchors,) what rows of custom are multiplied by, and voices divided by
    sketch : (candidates, all dimensions and three bounds): custom and contrast in their bases,
        the lengths of what is beyond them, and the longest step to a bridge
    longest : the greatest length of a row of the sketch
    """

    rows: Rows
    notes: NDArray[np.uint8]
    custom_basis: Matrix
    contrast_basis: Matrix
    balance: Vector
    sketch: Sketch
    longest: float

    def __len__(self) -> int:
        return len(self.rows)


def pool_of(knowledge: Knowledge, candidates: Iterable[str]) -> Pool:
    """Ready some ingredients, given by id."""
    index = knowledge.space.index
    return pool_of_rows(knowledge, [index[name] for name in set(candidates)])


def pool_of_rows(knowledge: Knowledge, rows: Iterable[int] | Rows) -> Pool:
    """Ready some ingredients, given by their rows of the space."""
    chosen = np.unique(np.asarray(list(rows) if not isinstance(rows, np.ndarray) else rows, int))
    sample = chosen[:: max(len(chosen) // SAMPLE, 1)]
    anchors = len(knowledge.custom.ids)
    coffee = np.zeros((anchors, 1))
    coffee[-1] = 1.0
    # Coffee as a relative, and coffee itself by record and by practice.
    thrice = np.asarray(np.kron(np.eye(3), coffee), dtype=np.float64)
    custom, contrast = _custom_rows(knowledge), _contrast_rows(knowledge)
    custom_basis = _basis(custom(sample), CUSTOM_DIMENSIONS, thrice)
    contrast_basis = _basis(contrast(sample), CONTRAST_DIMENSIONS, coffee)
    width = custom_basis.shape[1] + contrast_basis.shape[1] + 3
    sketch = np.empty((len(chosen), width), dtype=np.float32)
    for start in range(0, len(chosen), AT_ONCE):
        block = chosen[start : start + AT_ONCE]
        near_custom, beyond_custom = _split(custom(block), custom_basis)
        near_contrast, beyond_contrast = _split(contrast(block), contrast_basis)
        steps = knowledge.bridges.step[block].max(axis=1) * UP
        sketch[start : start + AT_ONCE] = np.column_stack(
            [near_custom, near_contrast, beyond_custom, beyond_contrast, steps]
        )
    longest = float(np.sqrt((sketch.astype(float) ** 2).sum(axis=1).max(initial=0.0)))
    return Pool(
        rows=chosen,
        notes=_in_bytes(knowledge.space.notes, chosen),
        custom_basis=custom_basis,
        contrast_basis=contrast_basis,
        balance=_balance(knowledge.custom),
        sketch=sketch,
        longest=longest,
    )


def most_possible(pool: Pool, question: Asked) -> Vector:
    """A score that each candidate does not exceed, whatever the signs of the weights."""
    weights = question.weights
    voice = weights.custom_in_force * question.voice / pool.balance
    kinds = weights.contrast * question.kinds
    near_custom, beyond_custom = _split(voice[np.newaxis], pool.custom_basis)
    near_contrast, beyond_contrast = _split(kinds[np.newaxis], pool.contrast_basis)
    steps = question.to_hubs.max(initial=0.0)
    wanted = np.concatenate([
        near_custom[0], near_contrast[0], beyond_custom, beyond_contrast,
        [max(weights.bridge, 0.0) * steps * UP],
    ])  # fmt: skip
    bound = pool.sketch @ wanted.astype(np.float32)
    # A negative weight is at best one of a note that is not there.
    loud = np.maximum(question.loud, 0.0)
    loudest = np.argsort(-loud, kind="stable")[:LOUDEST]
    loudest = loudest[loud[loudest] > 0]
    _add_notes(bound, pool.notes, loudest, loud[loudest])
    slack = _rounding(loud, 2.0) + _rounding(wanted, pool.longest)
    loud[loudest] = 0.0
    return np.asarray(bound + np.float64(slack + np.linalg.norm(loud) * UP))


def _add_notes(
    bound: NDArray[np.float32], notes: NDArray[np.uint8], which: Rows, loud: Vector
) -> None:
    """Add to each candidate's bound what some notes bring it."""
    by_step = [(note, np.float32(weight)) for note, weight in zip(which, loud / STEPS, strict=True)]
    for start in range(0, len(bound), NEAR):
        near = bound[start : start + NEAR]
        for note, weight in by_step:
            near += notes[note, start : start + NEAR] * weight


def _rounding(vector: Vector, longest: float) -> float:
    """The most by which a 32-bit inner product with the vector may be off, and twice that.

    Source: Higham 2002, Accuracy and Stability of Numerical Algorithms, section 3.1; the two
    roundings to 32 bits and the sum of two such products are the four terms more.
    """
    return 2.0 * (len(vector) + 4) * UNIT * longest * float(np.linalg.norm(vector))


def _in_bytes(notes: Sparse, rows: Rows) -> NDArray[np.uint8]:
    """Notes of some rows, a row for each note."""
    table = np.empty((notes.shape[1], len(rows)), dtype=np.uint8)
    for start in range(0, len(rows), AT_ONCE):
        block = notes[rows[start : start + AT_ONCE]].toarray().T
        table[:, start : start + AT_ONCE] = np.minimum(np.ceil(block * STEPS), STEPS)
    return table


def _balance(custom: Custom) -> Vector:
    """Practice is asked for louder than the rest where a bag names something, and what its rows
    have beyond the basis must be as much smaller."""
    balance = np.ones(3 * len(custom.ids))
    balance[2 * len(custom.ids) :] = max(custom.settings.bag, 1.0)
    return balance


def _custom_rows(knowledge: Knowledge) -> Callable[[Rows], Matrix]:
    custom = knowledge.custom
    balance = _balance(custom)
    return lambda rows: custom.heard(custom.voices[rows]) * balance


def _contrast_rows(knowledge: Knowledge) -> Callable[[Rows], Matrix]:
    learnt = knowledge.contrast
    return lambda rows: learnt.alike[rows] @ learnt.surplus


def _basis(sample: Matrix, dimensions: int, first: Matrix) -> Matrix:
    """The directions of the sample that matter most, and some first ones, at right angles."""
    rest = sample - (sample @ first) @ first.T
    _, vectors = np.linalg.eigh(rest.T @ rest)
    strongest = vectors[:, ::-1][:, : min(dimensions, len(first)) - first.shape[1]]
    basis, _ = np.linalg.qr(np.hstack([first, strongest]))
    return np.asarray(basis)


def _split(rows: Matrix, basis: Matrix) -> tuple[Matrix, Vector]:
    """Rows in a basis, and the lengths of what is beyond it, rounded up."""
    near = rows @ basis
    return near, np.linalg.norm(rows - near @ basis.T, axis=1) * UP
