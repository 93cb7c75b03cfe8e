"""Whole drinks at the counter: this coffee, this shelf; what should I make, and in what amounts?"""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from service.aroma import Aroma
from service.counter.coffees import Coffee, CoffeeReading, read_coffee
from service.counter.known import Known
from service.counter.measure import Measured
from service.counter.standard import checks_of
from service.counter.suggest import bed_of
from service.drink import DEFAULT_COUNTRY, STANDARD_DRINK_G, read_many
from service.ingredients.records import Ingredient, Role
from service.kit import BadData
from service.liquid import Stirring
from service.recommend import Affinity, Weights, pair_affinities, rank
from service.recommend.compose import (
    FREE_DOSES_G,
    Bottle,
    Composed,
    ComposeWeights,
    Composition,
    Limits,
    Measures,
    Problem,
    Shape,
    Stop,
    Tell,
    Variety,
)  # fmt: skip
from service.recommend.compose import (
    compose as compose_drinks,
)

BOTTLES = frozenset({Role.BASE, Role.MODIFIER, Role.BITTERS})
COMPOSED_ROLES = BOTTLES | {Role.SWEETENER, Role.SEASONING}
PAIRS_TOLD = 2
# Nobody waits longer at a bar.
MOST_SECONDS = 10.0


@dataclass(frozen=True, slots=True)
class OnShelf:
    """One thing on the shelf, by id, name or trade word; price of a mL and stock where known."""

    ingredient: str
    price_per_ml: float | None = None
    stock_ml: float | None = None


@dataclass(frozen=True, slots=True)
class ComposeQuestion:
    """What is asked: a coffee, a shelf, and all that must be kept.

    `shelf` None means every bottle known, with plain syrup and saline. `limits` may name bottles
    in any way. `free_dose` lets the coffee run from 10 to 20 g.
    `novelty` slides affinity from tried (0) to new (1); `house_specs` are what the house pours
    already, as sets of bottles; `liking` is by id, from -1 to 1. `every` works out each candidate.
    """

    coffee: Coffee = field(default_factory=Coffee)
    shelf: Sequence[OnShelf] | None = None
    limit: int = 10
    free_dose: bool = False
    measures: Measures = field(default_factory=Measures)
    shape: Shape = field(default_factory=Shape)
    limits: Limits = field(default_factory=Limits)
    variety: Variety = field(default_factory=Variety)
    weights: ComposeWeights = field(default_factory=ComposeWeights)
    novelty: float = 0.5
    house_specs: Sequence[frozenset[str]] = ()
    liking: Mapping[str, float] = field(default_factory=dict)
    preparation: Stirring = field(default_factory=Stirring)
    country: str = DEFAULT_COUNTRY
    every: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class ComposedDrink:
    """One drink: how it was found, how it reads, and why its bottles belong.

    with_coffee : the coffee with each part that smells; together : the firmest pairs of parts
    """

    composed: Composed
    measured: Measured
    with_coffee: tuple[Affinity, ...]
    together: tuple[Affinity, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ComposeAnswer:
    """The drinks, best first, with all that they were chosen by."""

    question: ComposeQuestion
    coffee: CoffeeReading
    affinity_weights: Weights
    composition: Composition
    drinks: tuple[ComposedDrink, ...]


def compose(
    known: Known, question: ComposeQuestion, *, tell: Tell | None = None, stop: Stop | None = None
) -> ComposeAnswer:
    """The best drinks of a shelf for a coffee, each read before and after the bed."""
    if question.country not in STANDARD_DRINK_G:
        raise BadData(
            f"no standard drink is known for {question.country!r}; use one of "
            f"{', '.join(sorted(STANDARD_DRINK_G))}",
            field="country",
        )
    coffee = read_coffee(known, question.coffee)
    weights = replace(known.knowledge.weights, novelty=question.novelty)
    composition = compose_drinks(
        _problem(known, question, coffee, weights),
        limit=question.limit,
        every=question.every,
        tell=tell,
        stop=stop,
        beyond=_every_bottle(known),
    )
    drinks = _read(known, question, coffee, weights, composition.drinks)
    return ComposeAnswer(question, coffee, weights, composition, tuple(drinks))


def compose_in_time(known: Known, question: ComposeQuestion) -> ComposeAnswer:
    """The same for somebody who waits; what is certain when time is up is not said to be proved."""
    end = time.monotonic() + MOST_SECONDS
    return compose(known, question, stop=lambda: time.monotonic() > end)


def _problem(
    known: Known, question: ComposeQuestion, coffee: CoffeeReading, weights: Weights
) -> Problem:
    bed = bed_of(question.coffee)
    return Problem(
        knowledge=known.knowledge,
        aroma=coffee.aroma,
        shelf=_shelf(known, question),
        band=known.band,
        bed=bed,
        doses_g=FREE_DOSES_G if question.free_dose else (bed.dose_g,),
        preparation=question.preparation,
        priors=known.priors,
        measures=question.measures,
        shape=question.shape,
        limits=_named(known, question.limits),
        variety=question.variety,
        weights=question.weights,
        affinity_weights=weights,
        house_specs=_jigger_bottles(known, question.house_specs),
    )


def _shelf(known: Known, question: ComposeQuestion) -> tuple[Bottle, ...]:
    """The shelf's bottles, several of one kind as one: their stock together, the lowest price."""
    if question.shelf is None:
        return tuple(Bottle(i, liking=question.liking.get(i.id, 0.0)) for i in _every_bottle(known))
    found: dict[str, Bottle] = {}
    for number, line in enumerate(question.shelf):
        ingredient = known.names.find(line.ingredient, field=f"shelf.{number}.ingredient")
        if ingredient.role not in COMPOSED_ROLES:
            continue
        bottle = Bottle(
            known.catalogue.ingredients[ingredient.id],
            line.price_per_ml,
            line.stock_ml,
            question.liking.get(ingredient.id, 0.0),
        )
        now = found.get(ingredient.id)
        found[ingredient.id] = bottle if now is None else _both(now, bottle)
    return tuple(found.values())


def _both(first: Bottle, second: Bottle) -> Bottle:
    prices = [b.price_per_ml for b in (first, second) if b.price_per_ml is not None]
    stocks = [b.stock_ml for b in (first, second)]
    known = [stock for stock in stocks if stock is not None]
    return replace(
        first,
        price_per_ml=min(prices, default=None),
        stock_ml=sum(known) if len(known) == len(stocks) else None,
    )


def _named(known: Known, limits: Limits) -> Limits:
    """The limits with ids for names."""
    return replace(
        limits,
        must=frozenset(known.names.find(name, field="must").id for name in limits.must),
        must_not=frozenset(known.names.find(n, field="must_not").id for n in limits.must_not),
    )


def _jigger_bottles(known: Known, specs: Sequence[frozenset[str]]) -> tuple[frozenset[str], ...]:
    """Bases and modifiers of the house's specs; what else is in them makes no drink old."""
    ingredients = known.catalogue.ingredients
    kept = [
        frozenset(
            i for i in spec
            if i in ingredients and ingredients[i].role in (Role.BASE, Role.MODIFIER)
        )
        for spec in specs
    ]  # fmt: skip
    return tuple(dict.fromkeys(spec for spec in kept if spec))


def _every_bottle(known: Known) -> list[Ingredient]:
    """All bottles of the dataset, with plain syrup and saline; the other syrups only if named."""
    plain = [i for i in (known.larder.syrup, known.larder.saline) if i is not None]
    return [*(i for i in known.catalogue.ingredients.values() if i.role in BOTTLES), *plain]


def _read(
    known: Known,
    question: ComposeQuestion,
    coffee: CoffeeReading,
    weights: Weights,
    found: Sequence[Composed],
) -> list[ComposedDrink]:
    """Every drink with its reading, its two checks, and the reasons of its bottles."""
    drinks = [composed.drink for composed in found]
    readings = read_many(
        drinks, known.band, priors=known.priors, country=question.country, larder=known.larder
    )
    if not readings:
        return []
    sweet, bitter = checks_of(known.band, readings)
    rows = zip(found, readings, sweet, bitter, strict=True)
    return [
        ComposedDrink(
            composed,
            Measured(composed.drink, reading, sweetness, bitterness),
            *_reasons(known, coffee.aroma, weights, composed),
        )
        for composed, reading, sweetness, bitterness in rows
    ]


def _reasons(
    known: Known, aroma: Aroma, weights: Weights, composed: Composed
) -> tuple[tuple[Affinity, ...], tuple[Affinity, ...]]:
    """The coffee with each part, firmest first, and the firmest pairs of parts."""
    parts = [p.ingredient.id for p in composed.drink.pours
             if p.ingredient.role is not Role.SEASONING]  # fmt: skip
    with_coffee = rank(known.knowledge, aroma, parts, weights, limit=len(parts))
    pairs = pair_affinities(known.knowledge, known.catalogue, list(combinations(parts, 2)))
    firmest = sorted(pairs, key=lambda pair: (-pair.score, pair.a, pair.b))
    return tuple(with_coffee), tuple(firmest[:PAIRS_TOLD])
