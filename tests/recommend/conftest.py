"""Coffees that many tests rank for, read from the words of a bag as the service reads them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from service.aroma import Aroma, coffee_aroma
from service.aroma.words import read_notes
from service.counter.known import Known
from service.ingredients import CoffeeProfile
from service.ingredients.records import Role
from service.recommend import of_role, rank

Places = Callable[[CoffeeProfile, str, Role], list[str]]


def aroma_of_bag(known: Known, profile: CoffeeProfile, words: str) -> Aroma:
    notes = read_notes(words, known.vocabulary)
    return coffee_aroma(known.knowledge.space, known.catalogue, profile, notes.weights)


@pytest.fixture(scope="session")
def ranked(known: Known) -> Places:
    """All ids of a role for a coffee, best first."""

    def places(profile: CoffeeProfile, words: str, role: Role) -> list[str]:
        aroma = aroma_of_bag(known, profile, words)
        candidates = of_role(known.catalogue, role)
        knowledge = known.knowledge
        return [a.b for a in rank(knowledge, aroma, candidates, knowledge.weights, 200)]

    return places
