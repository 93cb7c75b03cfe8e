"""Brainstorm: this coffee, these bottles; what should I try?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from service.bed import Bed
from service.counter.coffees import Coffee, CoffeeReading, read_coffee
from service.counter.known import Known
from service.counter.standard import DEFAULT_PARTNERS, Setting, StandardReading
from service.ingredients import Catalogue
from service.ingredients.records import Ingredient, Role, Species
from service.kit import BadData
from service.recommend import Affinity, Weights, of_role, rank_each
from service.recommend.compose import ComposeWeights
from service.recommend.rank import MOST_SUGGESTIONS

RANKED_ROLES = (Role.BASE, Role.MODIFIER, Role.BITTERS)
# One that is always liked gains as much as in a composed drink. Our estimate.
LIKING_WEIGHT: Final = ComposeWeights().liking


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: a coffee, the roles wanted, how many, tried or new, and from what.

    `among` keeps to these ids (a shelf); None means the whole catalogue. `partners` replaces the
    bottles of the standard builds, by role. `liking` is by id, from -1 to 1: what the house has
    liked so far moves the order.
    """

    coffee: Coffee
    roles: tuple[Role, ...] = RANKED_ROLES
    limit: int = 10
    novelty: float = 0.5
    among: frozenset[str] | None = None
    partners: Mapping[Role, str] = field(default_factory=dict)
    liking: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Suggestion:
    """One ingredient with its affinity to the coffee and the balance of its standard build.

    liking : what the house has liked of it, from -1 to 1; None where it has said nothing
    """

    ingredient: Ingredient
    affinity: Affinity
    standard: StandardReading
    liking: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Pairings:
    """The answer: what was read of the coffee, the weights, and suggestions by role."""

    coffee: CoffeeReading
    weights: Weights
    suggestions: Mapping[Role, tuple[Suggestion, ...]]


def pairings(known: Known, question: Question) -> Pairings:
    """Rank every asked role for the coffee, each suggestion with its balance checks."""
    for role in question.roles:
        if role not in RANKED_ROLES:
            raise BadData(f"{role} is not ranked; ask for base, modifier or bitters", field="roles")
    reading = read_coffee(known, question.coffee)
    weights = replace(known.knowledge.weights, novelty=question.novelty)
    shelves = [_candidates(known, role, question.among) for role in question.roles]
    found = _ranked(known, reading, shelves, weights, question)
    ranked = dict(zip(question.roles, found, strict=True))
    setting = Setting(_partners(known, question), bed_of(question.coffee))
    ids = [affinity.b for found in ranked.values() for affinity in found]
    standard = known.standard.of(known.catalogue.ingredients, ids, setting)
    by_id = dict(zip(ids, standard, strict=True))
    return Pairings(
        reading,
        weights,
        {
            role: tuple(
                Suggestion(
                    known.catalogue.ingredients[a.b], a, by_id[a.b], question.liking.get(a.b)
                )
                for a in found
            )
            for role, found in ranked.items()
        },
    )


def bed_of(coffee: Coffee) -> Bed:
    """The filter with this coffee in it."""
    return Bed(
        dose_g=coffee.dose_g,
        grind=coffee.grind,
        roast=coffee.profile.roast,
        canephora_share=1.0 if coffee.profile.species is Species.CANEPHORA else 0.0,
        decaf=coffee.decaf,
    )


def _candidates(known: Known, role: Role, among: frozenset[str] | None) -> list[str]:
    every = of_role(known.catalogue, role)
    return every if among is None else [i for i in every if i in among]


def _ranked(
    known: Known,
    coffee: CoffeeReading,
    shelves: Sequence[Sequence[str]],
    weights: Weights,
    question: Question,
) -> list[list[Affinity]]:
    """The best of each list by affinity, and by what the house has liked where it has.

    What nobody has tasted is moved by nothing. So the best of those are enough, with all that
    somebody has tasted, to have the best of both.
    """
    tasted = [[i for i in shelf if i in question.liking] for shelf in shelves]
    most = max((len(those) for those in tasted), default=0)
    if not most or question.limit < 1:
        return rank_each(known.knowledge, coffee.aroma, shelves, weights, question.limit)
    enough = min(question.limit + most, MOST_SUGGESTIONS)
    firsts = rank_each(known.knowledge, coffee.aroma, shelves, weights, enough)
    others = rank_each(known.knowledge, coffee.aroma, tasted, weights, MOST_SUGGESTIONS)
    found = []
    for first, other in zip(firsts, others, strict=True):
        every = {affinity.b: affinity for affinity in (*first, *other)}
        moved = sorted(every.values(), key=lambda a: (-_with_liking(a, question.liking), a.b))
        found.append(moved[: question.limit])
    return found


def _with_liking(affinity: Affinity, liking: Mapping[str, float]) -> float:
    return round(affinity.score + LIKING_WEIGHT * liking.get(affinity.b, 0.0), 12)


def _partners(known: Known, question: Question) -> tuple[str, str, str]:
    """The bottles of the standard builds: those named, the usual ones, or, from a shelf that
    lacks one of these, the one on it that reference specifications pour most."""
    base, modifier, bitters = (_partner(known, question, role) for role in RANKED_ROLES)
    return base, modifier, bitters


def _partner(known: Known, question: Question, role: Role) -> str:
    usual = DEFAULT_PARTNERS[role]
    if role in question.partners:
        return question.partners[role]
    here = [] if question.among is None else _candidates(known, role, question.among)
    if usual in here or not here:
        return usual
    poured = _times_poured(known.catalogue)
    return min(here, key=lambda i: (-poured[i], i))


@lru_cache(maxsize=4)
def _times_poured(catalogue: Catalogue) -> Counter[str]:
    """In how many reference specifications each ingredient is."""
    return Counter(i for spec in catalogue.specs for i in {p.ingredient for p in spec.pours})
