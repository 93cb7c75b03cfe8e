"""What the explain tests share: coffees, drinks, and everything said about them."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from service.aroma import Aroma
from service.bed import Bed
from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known
from service.drink import Drink, Pour, Reading, read
from service.ingredients import CoffeeProfile
from service.ingredients.records import Process, Roast
from service.recommend import Affinity, aroma_of, pair_affinities, rank
from service.recommend.explain import (
    Explaining,
    Explanation,
    build_explaining,
    explain_drink,
    explain_pairing,
)

COFFEES = (
    Coffee(CoffeeProfile(Roast.MEDIUM_DARK), "dark chocolate, dried cherry and a bit of smoke"),
    Coffee(CoffeeProfile(Roast.LIGHT, Process.WASHED), "jasmine, bergamot, peach"),
    Coffee(CoffeeProfile(Roast.LIGHT, Process.NATURAL), "blueberry jam, rum raisin"),
    Coffee(CoffeeProfile(Roast.DARK)),
)  # fmt: skip
DRINKS: tuple[dict[str, float], ...] = (
    {"bourbon": 50, "sweet-vermouth": 20, "aromatic-bitters": 1.6},
    {"rye-whiskey": 50, "walnut-liqueur": 20, "aromatic-bitters": 1.6},
    {"aged-rum": 45, "curacao": 15, "chocolate-bitters": 1.6},
    {"london-gin": 60, "dry-vermouth": 10},
    {"mezcal": 45, "red-bitter-aperitif": 20, "sweet-vermouth": 20},
    {"cognac": 50, "simple-syrup": 5, "orange-bitters": 1.6},
    {"tequila-anejo": 45, "px-sherry": 10, "mole-bitters": 0.8},
    {"apple-brandy": 45, "green-herb-liqueur": 10, "oloroso-sherry": 15},
)


@dataclass(frozen=True, eq=False)
class Told:
    """A drink with all that is needed to explain it."""

    drink: Drink
    reading: Reading
    coffee: Aroma | None
    affinities: list[Affinity]


@pytest.fixture(scope="session")
def explaining(known: Known) -> Explaining:
    return build_explaining(known.catalogue, known.knowledge)


@pytest.fixture(scope="session")
def aromas(known: Known) -> list[Aroma]:
    return [read_coffee(known, coffee).aroma for coffee in COFFEES]


@pytest.fixture(scope="session")
def drinks(known: Known, aromas: list[Aroma]) -> list[Told]:
    """Each drink with the next coffee, and the last without."""
    ingredients = known.catalogue.ingredients
    told = []
    for place, pours in enumerate((*DRINKS, DRINKS[0])):
        coffee = aromas[place % len(aromas)] if place < len(DRINKS) else None
        lines = tuple(Pour(ingredients[name], ml) for name, ml in pours.items())
        drink = Drink(lines, bed=Bed() if coffee else None)
        reading = read(drink, known.band, larder=known.larder, draws=200)
        affinities = rank(known.knowledge, coffee, pours, known.knowledge.weights) if coffee else []
        told.append(Told(drink, reading, coffee, affinities))
    return told


@pytest.fixture(scope="session")
def pairings(known: Known, explaining: Explaining, aromas: list[Aroma]) -> list[Explanation]:
    """Every bottle with two of the four coffees, as in a list."""
    bottles = known.knowledge.space.ingredients
    weights = known.knowledge.weights
    return [
        explain_pairing(explaining, aroma, affinity, turn=turn)
        for place, aroma in enumerate(aromas)
        for turn, affinity in enumerate(
            rank(known.knowledge, aroma, bottles[place % 2 :: 2], weights, limit=200)
        )
    ]


@pytest.fixture(scope="session")
def bottle_pairs(known: Known, explaining: Explaining) -> list[Explanation]:
    """Two bottles with each other."""
    ids = known.knowledge.space.ingredients
    pairs = list(zip(ids[::3], ids[7::3], strict=False))
    knowledge = known.knowledge
    return [
        explain_pairing(explaining, aroma_of(knowledge, known.catalogue, a.a), a)
        for a in pair_affinities(knowledge, known.catalogue, pairs)
    ]


@pytest.fixture(scope="session")
def whole_drinks(explaining: Explaining, drinks: list[Told]) -> list[Explanation]:
    return [
        explain_drink(explaining, d.drink, d.reading, d.coffee, d.affinities, turn=turn)
        for turn, d in enumerate(drinks)
    ]


@pytest.fixture(scope="session")
def everything(
    pairings: list[Explanation],
    bottle_pairs: list[Explanation],
    whole_drinks: list[Explanation],
) -> list[Explanation]:
    return [*pairings, *bottle_pairs, *whole_drinks]
