"""Brainstorm: this coffee, these bottles; what should I try?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from service.bed import Bed
from service.counter.coffees import Coffee, CoffeeReading, read_coffee
from service.counter.known import Known
from service.counter.standard import DEFAULT_PARTNERS, Setting, StandardReading
from service.ingredients.records import Ingredient, Role, Species
from service.kit import BadData
from service.recommend import Affinity, Weights, of_role, rank_each

RANKED_ROLES = (Role.BASE, Role.MODIFIER, Role.BITTERS)


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: a coffee, the roles wanted, how many, tried or new, and from what.

    `among` keeps to these ids (a shelf); None means the whole catalogue. `partners` replaces the
    bottles of the standard builds, by role.
    """

    coffee: Coffee
    roles: tuple[Role, ...] = RANKED_ROLES
    limit: int = 10
    novelty: float = 0.5
    among: frozenset[str] | None = None
    partners: Mapping[Role, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Suggestion:
    """One ingredient with its affinity to the coffee and the balance of its standard build."""

    ingredient: Ingredient
    affinity: Affinity
    standard: StandardReading


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
    found = rank_each(known.knowledge, reading.aroma, shelves, weights, question.limit)
    ranked = dict(zip(question.roles, found, strict=True))
    setting = Setting(_partners(question.partners), bed_of(question.coffee))
    ids = [affinity.b for found in ranked.values() for affinity in found]
    standard = known.standard.of(known.catalogue.ingredients, ids, setting)
    by_id = dict(zip(ids, standard, strict=True))
    return Pairings(
        reading,
        weights,
        {
            role: tuple(Suggestion(known.catalogue.ingredients[a.b], a, by_id[a.b]) for a in found)
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


def _partners(chosen: Mapping[Role, str]) -> tuple[str, str, str]:
    base, modifier, bitters = (chosen.get(r, DEFAULT_PARTNERS[r]) for r in RANKED_ROLES)
    return base, modifier, bitters
