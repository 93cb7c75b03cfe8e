"""The bottles that may be used, as arrays: what a mL holds, what each says of the others."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from statistics import median
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from service.aroma import ingredient_aroma
from service.drink.sampling import DEFAULT_SEED, MOST_DISSOLVED_SUGAR_G_PER_L, masses_per_ml
from service.ingredients.records import Ingredient, Role
from service.kit import NotFound
from service.recommend.affinity import Knowledge, parts_with_all
from service.recommend.compose.problem import Bottle, Limits, Problem
from service.recommend.weights import BALANCED, Weights

Vector = NDArray[np.float64]
Index = NDArray[np.signedinteger[Any]]
Mask = NDArray[np.bool_]

# What a mL of a bottle brings: grams, then mg of bitterness, mg of caffeine at most, and money.
(WATER, ETHANOL, DISSOLVED, SUGAR, ACID, SALT, QHE, CAFFEINE, COST) = range(9)
KINDS: Final = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.SEASONING)
# A seasoning that is saline and not sour: at least so much salt (estimate).
_SALINE_FROM_G_PER_L: Final = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class Rack:
    """Usable bottles in the order of `KINDS`, by id within each.

    places : role to the rows of its bottles
    contents : (9, n) what a mL holds
    coffee, liking : (n,) affinity with the coffee and the house's liking
    alone : (n,) both of them, weighted
    pairs : (n, n) affinity among the parts, weighted
    amounts_ml : per bottle, the amounts that the bar can measure and has in stock
    most_ml : (n,) the largest of them
    unpriced : rows of bottles without a price of their own
    """

    bottles: tuple[Bottle, ...]
    places: dict[Role, Index]
    contents: Vector
    coffee: Vector
    liking: Vector
    alone: Vector
    pairs: Vector
    amounts_ml: tuple[tuple[float, ...], ...]
    most_ml: Vector
    unpriced: Index

    def ids(self, rows: Index | list[int]) -> tuple[str, ...]:
        return tuple(self.bottles[row].ingredient.id for row in rows)


def usable(problem: Problem) -> list[Bottle]:
    """What is left of the shelf once the forbidden, the empty and the unpourable are set aside."""
    return [
        bottle
        for bottle in problem.shelf
        if allowed(bottle.ingredient, problem.limits)
        and fits_a_role(bottle.ingredient)
        and measurable_ml(problem, bottle)
    ]


def allowed(ingredient: Ingredient, limits: Limits) -> bool:
    """Neither named as unwanted nor holding an allergen to be left out."""
    return ingredient.id not in limits.must_not and not (
        ingredient.allergens & limits.without_allergens
    )


def fits_a_role(ingredient: Ingredient) -> bool:
    """Whether a drink has a place for it: syrups, not dry sugar; saline, not sour seasonings."""
    holds = ingredient.composition
    if ingredient.role is Role.SWEETENER:
        return holds.sugar_g_per_l.mid <= MOST_DISSOLVED_SUGAR_G_PER_L
    if ingredient.role is Role.SEASONING:
        return holds.salt_g_per_l.mid >= _SALINE_FROM_G_PER_L
    return ingredient.role in KINDS


def measurable_ml(problem: Problem, bottle: Bottle) -> tuple[float, ...]:
    """The amounts of a bottle that can be measured and are in stock [mL]."""
    amounts = problem.measures.amounts_ml(bottle.ingredient)
    if bottle.stock_ml is None:
        return amounts
    return tuple(amount for amount in amounts if amount <= bottle.stock_ml + 1e-9)


def build_rack(problem: Problem) -> Rack:
    """The arrays of one problem's bottles."""
    order = {role: place for place, role in enumerate(KINDS)}
    bottles = sorted(usable(problem), key=lambda b: (order[b.ingredient.role], b.ingredient.id))
    roles = [bottle.ingredient.role for bottle in bottles]
    rows = _rows_of(problem.knowledge, [bottle.ingredient for bottle in bottles])
    weights = problem.weights
    affinity_weights = problem.affinity_weights or problem.knowledge.weights
    coffee = parts_with_all(problem.knowledge, problem.aroma, affinity_weights).score[rows]
    liking = np.array([bottle.liking for bottle in bottles], dtype=np.float64)
    together = affinities_of_all(problem.knowledge, affinity_weights)
    amounts = tuple(measurable_ml(problem, bottle) for bottle in bottles)
    priced, unpriced = _prices(bottles)
    return Rack(
        bottles=tuple(bottles),
        places={role: np.flatnonzero([r is role for r in roles]).astype(np.intp) for role in KINDS},
        contents=_contents(bottles, priced),
        coffee=coffee,
        liking=liking,
        alone=weights.coffee * coffee + weights.liking * liking,
        pairs=weights.together * together[np.ix_(rows, rows)],
        amounts_ml=amounts,
        most_ml=np.array([max(each) for each in amounts], dtype=np.float64),
        unpriced=unpriced,
    )


def affinities_of_all(knowledge: Knowledge, weights: Weights) -> Vector:
    """Affinity of every ingredient with every other; (n, n)."""
    apart, custom = _affinities_apart(knowledge, replace(weights, novelty=BALANCED))
    # From tried to new only the weight of custom changes, so the slider moves without delay.
    return np.asarray(apart + 2.0 * (1.0 - weights.novelty) * custom)


@lru_cache(maxsize=2)
def _affinities_apart(knowledge: Knowledge, weights: Weights) -> tuple[Vector, Vector]:
    """The same without custom, and what custom adds at even weight; worked out once."""
    space = knowledge.space
    rows = [parts_with_all(knowledge, ingredient_aroma(space, i), weights)
            for i in space.ingredients]  # fmt: skip
    custom = np.array([parts.custom for parts in rows])
    apart = np.array([parts.score for parts in rows]) - custom
    # Symmetric to a rounding error; made so to the last bit, so that order never matters.
    return 0.5 * (apart + apart.T), 0.5 * (custom + custom.T)


def _rows_of(knowledge: Knowledge, ingredients: list[Ingredient]) -> Index:
    index = knowledge.space.index
    for ingredient in ingredients:
        if ingredient.id not in index:
            raise NotFound(
                f"nothing is known of the aroma of {ingredient.id!r}; add it to the catalogue",
                field="shelf",
            )
    return np.array([index[i.id] for i in ingredients], dtype=np.intp)


def _contents(bottles: list[Bottle], prices: Vector) -> Vector:
    contents = np.zeros((9, len(bottles)))
    for row, bottle in enumerate(bottles):
        ingredient = bottle.ingredient
        water, ethanol, sugar, acid, salt, qhe, _ = masses_per_ml(ingredient, 0, DEFAULT_SEED)[:, 0]
        caffeine = ingredient.composition.caffeine_mg_per_l.high / 1000.0
        dissolved = sugar + acid + salt
        contents[:COST, row] = (water, ethanol, dissolved, sugar, acid, salt, qhe, caffeine)
    contents[COST] = prices
    return contents


def _prices(bottles: list[Bottle]) -> tuple[Vector, Index]:
    """Price of a mL; where unknown, the middle of the shelf's others of that role, else 0."""
    known: dict[Role, list[float]] = {}
    for bottle in bottles:
        if bottle.price_per_ml is not None:
            known.setdefault(bottle.ingredient.role, []).append(bottle.price_per_ml)
    middle = {role: median(prices) for role, prices in known.items()}
    prices = [
        middle.get(b.ingredient.role, 0.0) if b.price_per_ml is None else b.price_per_ml
        for b in bottles
    ]
    unpriced = [row for row, b in enumerate(bottles) if b.price_per_ml is None]
    return np.array(prices, dtype=np.float64), np.array(unpriced, dtype=np.intp)
