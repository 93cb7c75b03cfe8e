"""The best of a long list, exactly, by scoring only those that can still be among them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from service.aroma import Aroma, Rows
from service.recommend.affinity import Knowledge, Parts, asked, parts_with
from service.recommend.pool import Pool, most_possible
from service.recommend.weights import Weights

# Scores that differ by less than this are a tie, and ties go by id.
TIE = 1e-12
# How many are scored at first: so many, and so many more for each place in the list.
FIRST, FOR_EACH = 16, 4
# How many are scored at once after that.
AT_ONCE = 256


def best_of(
    knowledge: Knowledge, pool: Pool, aroma: Aroma, weights: Weights, limit: int
) -> tuple[Rows, Parts]:
    """Rows of the `limit` candidates of highest score, best first, and their parts.

    The same as scoring every candidate: who is left out has a bound below the last of the list.
    """
    question = asked(knowledge, aroma, weights)
    bounds = most_possible(pool, question)
    tried = _highest(bounds, FIRST + FOR_EACH * limit)
    parts = parts_with(knowledge, question, pool.rows[tried])
    while True:
        left = bounds >= _last_score(parts, limit) - 2.0 * TIE
        left[tried] = False
        more = np.flatnonzero(left)
        if not len(more):
            chosen = falling(parts.score, pool.rows[tried])[:limit]
            return pool.rows[tried[chosen]], parts.at(chosen)
        more = more[_highest(bounds[more], AT_ONCE)]
        parts = parts.and_also(parts_with(knowledge, question, pool.rows[more]))
        tried = np.concatenate([tried, more])


def falling(scores: NDArray[np.float64], rows: Rows) -> Rows:
    """Places by falling score, ties by row."""
    return np.lexsort((rows, -np.round(scores / TIE)))


def _highest(values: NDArray[np.float64], count: int) -> Rows:
    """Places of the highest values, in no order."""
    if len(values) <= count:
        return np.arange(len(values))
    return np.argpartition(values, len(values) - count)[len(values) - count :]


def _last_score(parts: Parts, limit: int) -> float:
    """The score that a candidate must reach to be among the best."""
    scores = parts.score
    if len(scores) < limit:
        return -np.inf
    return float(np.partition(scores, len(scores) - limit)[len(scores) - limit])
