"""What the swap tests share: knowledge of the shipped dataset, the trade's substitutions."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from service.bed import Bed
from service.counter.known import Known
from service.drink import Drink, Pour
from service.recommend.swap import SwapKnowledge, build_swap_knowledge

COFFEE = Bed()
SUBSTITUTIONS = Path(__file__).parent.parent / "substitutions.csv"


@dataclass(frozen=True)
class Substitution:
    """One row of our list: common practice, no source."""

    missing: str
    accepted: frozenset[str]
    clearly_wrong: frozenset[str]
    half: str


@pytest.fixture(scope="session")
def replacing(known: Known) -> SwapKnowledge:
    return build_swap_knowledge(known.catalogue, known.knowledge)


@pytest.fixture(scope="session")
def substitutions() -> list[Substitution]:
    with SUBSTITUTIONS.open(encoding="utf-8", newline="") as file:
        return [
            Substitution(
                row["missing"],
                frozenset(row["accepted"].split(";")),
                frozenset(row["clearly_wrong"].split(";")),
                row["half"],
            )
            for row in csv.DictReader(file)
        ]


@pytest.fixture
def poured(known: Known) -> Callable[..., Drink]:
    """A drink of the shipped dataset: poured(bourbon=50, ...); underscores stand for hyphens."""

    def pour(bed: Bed | None = COFFEE, **volumes: float) -> Drink:
        ingredients = known.catalogue.ingredients
        lines = ((name.replace("_", "-"), ml) for name, ml in volumes.items())
        return Drink(tuple(Pour(ingredients[name], ml) for name, ml in lines), bed=bed)

    return pour
