"""Small shelves of the real dataset, asked the real question."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest

from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known
from service.recommend.compose import Bottle, Measures, Problem

# A coarse lattice: few enough amounts that every drink can be worked out.
COARSE = Measures(base_ml=(45.0, 60.0), modifier_ml=(7.5, 22.5), dashes=(1, 2))

MakeProblem = Callable[..., Problem]


@pytest.fixture(scope="session")
def problem(known: Known) -> MakeProblem:
    """`problem(ids, notes=..., **fields)`: what `compose` is asked."""
    aromas: dict[str, Any] = {}

    def make(ids: Iterable[str], notes: str = "dark chocolate, dried cherry", **fields: Any
             ) -> Problem:  # fmt: skip
        if notes not in aromas:
            aromas[notes] = read_coffee(known, Coffee(notes=notes)).aroma
        given = Problem(
            knowledge=known.knowledge,
            aroma=aromas[notes],
            shelf=tuple(Bottle(known.catalogue.ingredients[i]) for i in ids),
            band=known.band,
            priors=known.priors,
        )
        return replace(given, **fields)

    return make


BAR = (
    "bourbon", "rye-whiskey", "cognac", "london-gin", "aged-rum",
    "sweet-vermouth", "dry-vermouth", "oloroso-sherry", "curacao", "maraschino", "tawny-port",
    "medium-amaro",
    "aromatic-bitters", "orange-bitters", "mole-bitters",
    "demerara-syrup", "saline",
)  # fmt: skip
