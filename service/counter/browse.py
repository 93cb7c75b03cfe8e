"""Looking through the dataset: lists of ingredients, one with its evidence, counts."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from service.counter.known import Known
from service.ingredients import Catalogue
from service.ingredients.records import Ingredient, Note, Occurrence, Role
from service.kit import OutOfRange
from service.recommend import aroma_of

MOST_PER_PAGE = 500


@dataclass(frozen=True, slots=True)
class Page:
    """Some of a list, and the id to ask for the next part with (None at the end)."""

    items: tuple[Ingredient, ...]
    next_after: str | None
    total: int


@dataclass(frozen=True, slots=True)
class Evidence:
    """One ingredient with all that is known of its smell.

    notes : descriptor id to its share of the aroma (shares sum to 1) and how well it is known
    """

    ingredient: Ingredient
    notes: tuple[tuple[str, float, float], ...]
    occurrences: tuple[Occurrence, ...]
    words: tuple[Note, ...]


def list_ingredients(
    known: Known, *, role: Role | None = None, text: str = "", after: str = "", limit: int = 100
) -> Page:
    """Ingredients in order of id, by role, by a word of their name, page by page."""
    if not 1 <= limit <= MOST_PER_PAGE:
        raise OutOfRange.of("limit", limit, 1, MOST_PER_PAGE, "ingredients")
    every = list(known.catalogue.ingredients.values())
    found = known.names.search(text, limit=MOST_PER_PAGE) if text else every
    chosen = sorted((i for i in found if role is None or i.role is role), key=lambda i: i.id)
    rest = [i for i in chosen if i.id > after]
    page = rest[:limit]
    more = len(rest) > limit
    return Page(tuple(page), page[-1].id if more else None, len(chosen))


def ingredient_evidence(known: Known, ingredient_id: str) -> Evidence:
    """One ingredient, its notes by share, and every row they rest on."""
    ingredient = known.catalogue.ingredient(ingredient_id)
    aroma = aroma_of(known.knowledge, known.catalogue, ingredient_id)
    shares = aroma.notes**2
    loudest = [int(i) for i in np.argsort(-shares, kind="stable") if shares[i] > 0]
    descriptors = known.knowledge.space.descriptors
    is_coffee = ingredient.role is Role.COFFEE
    rows = known.catalogue.coffee if is_coffee else known.catalogue.occurrences
    return Evidence(
        ingredient,
        tuple((descriptors[i], float(shares[i]), float(aroma.trust[i])) for i in loudest),
        tuple(o for o in rows if is_coffee or o.ingredient == ingredient_id),
        tuple(n for n in known.catalogue.ingredient_notes if n.subject == ingredient_id),
    )


@lru_cache(maxsize=1)
def counts(catalogue: Catalogue) -> dict[str, int]:
    """How much the dataset holds. Counted once: whoever watches the service asks every second."""
    roles = Counter(str(i.role) for i in catalogue.ingredients.values())
    return {
        **{f"ingredients_{role}": roles[role] for role in sorted(roles)},
        "ingredients": len(catalogue.ingredients),
        "odorants": len(catalogue.odorants),
        "descriptors": len(catalogue.descriptors),
        "families": len(catalogue.families),
        "ingredient_odorants": len(catalogue.occurrences),
        "note_words": len({w.phrase for w in catalogue.note_words}),
        "specs": len(catalogue.specs),
        "sources": len(catalogue.sources),
    }
