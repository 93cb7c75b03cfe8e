"""Coffee profiles: roast, process and species, each combination an ingredient of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from typing import Final

from service.ingredients.records import (
    Composition,
    Grade,
    Ingredient,
    Process,
    Roast,
    Role,
    Species,
)
from service.kit import Interval, NotFound

# Where the trade's word is not the record's.
TRADE_WORDS: Final[Mapping[str, str]] = {Species.CANEPHORA: "robusta (canephora)"}
PREFIX = "coffee-"
_NOTHING = Interval.exactly(0.0)


@dataclass(frozen=True, slots=True)
class CoffeeProfile:
    """What a bag says of its coffee besides the tasting notes.

    >>> CoffeeProfile(Roast.LIGHT, Process.WASHED, Species.ARABICA).id
    'coffee-light-washed-arabica'
    """

    roast: Roast = Roast.MEDIUM
    process: Process = Process.WASHED
    species: Species = Species.ARABICA

    @property
    def id(self) -> str:
        return f"{PREFIX}{self.roast}-{self.process}-{self.species}"

    @property
    def name(self) -> str:
        species = TRADE_WORDS.get(self.species, self.species)
        return f"coffee, {self.roast} roast, {self.process} {species}"


PROFILES = {p.id: p for p in (CoffeeProfile(*each) for each in product(Roast, Process, Species))}


def profile_of(ingredient_id: str) -> CoffeeProfile:
    """The profile with that id."""
    try:
        return PROFILES[ingredient_id]
    except KeyError:
        raise NotFound(
            f"{ingredient_id!r} is no coffee profile; write coffee-ROAST-PROCESS-SPECIES, "
            "such as coffee-light-washed-arabica"
        ) from None


def profile_ingredients() -> list[Ingredient]:
    """Each profile as an ingredient of the catalogue. It is poured through, never poured:
    its composition is empty here, and the bed room says what it gives."""
    return [
        Ingredient(
            id=profile.id,
            name=profile.name,
            role=Role.COFFEE,
            style="coffee",
            composition=Composition(*(_NOTHING,) * 6),
            grade=Grade.DERIVED,
            sources=(),
            cautions=frozenset({"caffeine"}),
        )
        for profile in PROFILES.values()
    ]
