"""Ranking: which bases, modifiers and bitters suit a coffee, best first and always the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import reduce
from itertools import islice

import numpy as np

from service.aroma import Aroma, Rows, coffee_aroma, ingredient_aroma
from service.ingredients import Catalogue, profile_of
from service.ingredients.records import Role
from service.kit import NotFound, OutOfRange
from service.recommend.affinity import Affinity, Knowledge, Parts, parts_with_all
from service.recommend.best import best_of, falling
from service.recommend.pool import Pool
from service.recommend.reasons import affinities, affinities_of
from service.recommend.weights import Weights

MOST_SUGGESTIONS = 200
# Candidates: ids, or a pool made ready once, which is worth it for thousands of them.
Candidates = Iterable[str] | Pool


def rank(
    knowledge: Knowledge,
    aroma: Aroma,
    candidates: Candidates,
    weights: Weights,
    limit: int = 10,
) -> list[Affinity]:
    """The `limit` candidates of highest affinity with the aroma; ties by id."""
    return rank_each(knowledge, aroma, [candidates], weights, limit)[0]


def rank_each(
    knowledge: Knowledge,
    aroma: Aroma,
    shelves: Sequence[Candidates],
    weights: Weights,
    limit: int = 10,
) -> list[list[Affinity]]:
    """The same for several lists of candidates at once (bases, modifiers, bitters), in one pass."""
    if not 1 <= limit <= MOST_SUGGESTIONS:
        raise OutOfRange.of("limit", limit, 1, MOST_SUGGESTIONS, "suggestions")
    chosen = list(_chosen(knowledge, aroma, shelves, weights, limit))
    if not chosen:
        return []
    rows = np.concatenate([rows for rows, _ in chosen])
    parts = reduce(Parts.and_also, (parts for _, parts in chosen))
    told = iter(affinities_of(knowledge, aroma, parts, rows, weights))
    return [list(islice(told, len(rows))) for rows, _ in chosen]


def _chosen(
    knowledge: Knowledge,
    aroma: Aroma,
    shelves: Sequence[Candidates],
    weights: Weights,
    limit: int,
) -> Iterator[tuple[Rows, Parts]]:
    """The best rows of each list, with their parts. Lists of ids share one pass over all."""
    whole: Parts | None = None
    for shelf in shelves:
        if isinstance(shelf, Pool):
            yield best_of(knowledge, shelf, aroma, weights, limit)
        else:
            whole = whole or parts_with_all(knowledge, aroma, weights)
            rows = np.array(ranked_rows(knowledge, whole, shelf)[:limit], dtype=np.intp)
            yield rows, whole.at(rows)


def ranked_rows(knowledge: Knowledge, parts: Parts, candidates: Iterable[str]) -> list[int]:
    """Rows of the candidates by falling score, ties by id."""
    rows = np.array([knowledge.space.index[c] for c in set(candidates)], dtype=np.intp)
    return [int(row) for row in rows[falling(parts.score[rows], rows)]]


def of_role(catalogue: Catalogue, role: Role) -> list[str]:
    """Ids of all ingredients of one role."""
    return [i.id for i in catalogue.of_role(role)]


def aroma_of(knowledge: Knowledge, catalogue: Catalogue, ingredient_id: str) -> Aroma:
    """The aroma of any ingredient id, coffee profiles included."""
    ingredient = catalogue.ingredient(ingredient_id)
    if ingredient.role is Role.COFFEE:
        return coffee_aroma(knowledge.space, catalogue, profile_of(ingredient_id))
    return ingredient_aroma(knowledge.space, ingredient_id)


def pair_affinities(
    knowledge: Knowledge, catalogue: Catalogue, pairs: Iterable[tuple[str, str]]
) -> list[Affinity]:
    """Affinity of any two ingredients, the same whichever is named first; one pass per first."""
    ordered = [in_order(knowledge, a, b) for a, b in pairs]
    places: dict[str, list[int]] = {}
    for place, (first, _) in enumerate(ordered):
        places.setdefault(first, []).append(place)
    found: dict[int, Affinity] = {}
    for first, those in places.items():
        aroma = aroma_of(knowledge, catalogue, first)
        parts = parts_with_all(knowledge, aroma, knowledge.weights)
        rows = [knowledge.space.index[ordered[place][1]] for place in those]
        told = affinities(knowledge, aroma, parts, rows, knowledge.weights)
        found |= zip(those, told, strict=True)
    return [found[place] for place in range(len(ordered))]


def in_order(knowledge: Knowledge, a: str, b: str) -> tuple[str, str]:
    """Two ids in the order they are scored in: a coffee first, bottles by id.

    Two coffees cannot be scored against each other: one drink runs through one bed.
    """
    index = knowledge.space.index
    first, second = (a, b) if b in index else (b, a)
    if second not in index:
        raise NotFound(f"{a!r} and {b!r} are two coffees; pair a coffee with a bottle", field="b")
    return (min(first, second), max(first, second)) if first in index else (first, second)
