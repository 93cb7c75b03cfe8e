"""Ranking: which bases, modifiers and bitters suit a coffee, best first and always the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice

import numpy as np

from service.aroma import Aroma, coffee_aroma, ingredient_aroma
from service.ingredients import Catalogue, profile_of
from service.ingredients.records import Role
from service.kit import NotFound, OutOfRange
from service.recommend.affinity import Affinity, Knowledge, Parts, parts_with_all
from service.recommend.reasons import affinities
from service.recommend.weights import Weights

MOST_SUGGESTIONS = 200
# Scores that differ by less than this are a tie, and ties go by id.
TIE = 1e-12


def rank(
    knowledge: Knowledge,
    aroma: Aroma,
    candidates: Iterable[str],
    weights: Weights,
    limit: int = 10,
) -> list[Affinity]:
    """The `limit` candidates of highest affinity with the aroma; ties by id."""
    return rank_each(knowledge, aroma, [candidates], weights, limit)[0]


def rank_each(
    knowledge: Knowledge,
    aroma: Aroma,
    shelves: Sequence[Iterable[str]],
    weights: Weights,
    limit: int = 10,
) -> list[list[Affinity]]:
    """The same for several lists of candidates at once (bases, modifiers, bitters), in one pass."""
    if not 1 <= limit <= MOST_SUGGESTIONS:
        raise OutOfRange.of("limit", limit, 1, MOST_SUGGESTIONS, "suggestions")
    parts = parts_with_all(knowledge, aroma, weights)
    chosen = [ranked_rows(knowledge, parts, candidates)[:limit] for candidates in shelves]
    told = iter(affinities(knowledge, aroma, parts, [r for rows in chosen for r in rows], weights))
    return [list(islice(told, len(rows))) for rows in chosen]


def ranked_rows(knowledge: Knowledge, parts: Parts, candidates: Iterable[str]) -> list[int]:
    """Rows of the candidates by falling score, ties by id."""
    space = knowledge.space
    rows = np.array(sorted(space.index[c] for c in set(candidates)), dtype=np.intp)
    if not len(rows):
        return []
    scores = np.round(parts.score[rows] / TIE) * TIE
    return [int(row) for row in rows[np.argsort(-scores, kind="stable")]]


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
