"""The definition of an answer, written out plainly: every drink listed, scored, put in order.

Nothing here is taken from the search but the forecast of what arrives in the glass, which is the
same function for both by definition. Slow on purpose.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from service.aroma import ingredient_aroma
from service.drink.sampling import masses_per_ml
from service.ingredients.records import Role
from service.recommend import parts_with_all
from service.recommend.compose import Bottle, Composition, Problem
from service.recommend.compose.forecast import fit_forecast
from service.recommend.compose.glass import in_glass, worth

TIE = 1e-9


@dataclass(frozen=True)
class Drink:
    """Bottles by id and amount, base first, then modifiers, then the others."""

    base: str
    modifiers: tuple[str, ...]
    pours: tuple[tuple[str, float], ...]
    dose_g: float
    score: float

    @property
    def bottles(self) -> frozenset[str]:
        return frozenset(i for i, _ in self.pours)


def answer_by_hand(problem: Problem, limit: int) -> list[Drink]:
    """The first drinks of the answer, by looking at all of them."""
    left = sorted(every_drink(problem), key=lambda drink: -drink.score)
    answer: list[Drink] = []
    while left and len(answer) < limit:
        answer.append(left[0])
        left = [drink for drink in left if allowed(problem, answer, drink)]
    return answer


def allowed(problem: Problem, answer: list[Drink], drink: Drink) -> bool:
    variety = problem.variety
    if any(drink.bottles == other.bottles for other in answer):
        return False
    for other in answer:
        shared = set(drink.modifiers) & set(other.modifiers)
        if not variety.repeat_pairs and drink.base == other.base and shared:
            return False
    most = variety.most_per_bottle
    if most is None:
        return True
    used = [bottle for other in answer for bottle in (other.base, *other.modifiers)]
    return all(used.count(bottle) < most for bottle in (drink.base, *drink.modifiers))


def every_drink(problem: Problem) -> list[Drink]:
    """All drinks that keep the limits, with their scores."""
    plain = [
        (bottles, amounts, dose)
        for bottles in bottle_sets(problem)
        for amounts in product(*(amounts_of(problem, bottle) for bottle in bottles))
        for dose in problem.doses_g
    ]
    if not plain:
        return []
    forecast = fit_forecast(problem.preparation, problem.bed, problem.priors, problem.doses_g)
    contents = np.array([contents_of(bottles, amounts) for bottles, amounts, _ in plain]).T
    glass = in_glass(forecast, problem.band, contents, np.array([dose for *_, dose in plain]))
    amount = worth(glass, problem.limits, problem.weights)
    return [
        drink_of(problem, bottles, amounts, dose, float(value))
        for (bottles, amounts, dose), value in zip(plain, amount, strict=True)
        if value > -np.inf
    ]


def bottle_sets(problem: Problem) -> list[tuple[Bottle, ...]]:
    shape, limits = problem.shape, problem.limits

    def of(role: Role) -> list[Bottle]:
        return [b for b in problem.shelf if b.ingredient.role is role and pourable(problem, b)]

    def some(role: Role, low: int, high: int) -> list[tuple[Bottle, ...]]:
        return [s for n in range(low, high + 1) for s in combinations(of(role), n)]

    sets = product(
        some(Role.BASE, 1, 1),
        some(Role.MODIFIER, *shape.modifiers),
        some(Role.BITTERS, *shape.bitters),
        some(Role.SWEETENER, 0, int(shape.sweetener)),
        some(Role.SEASONING, 0, int(shape.saline)),
    )
    flat = [tuple(bottle for part in parts for bottle in part) for parts in sets]
    return [s for s in flat if limits.must <= {bottle.ingredient.id for bottle in s}]


def pourable(problem: Problem, bottle: Bottle) -> bool:
    """Allowed, in stock, and with a place in a drink: syrups and saline, no dry or sour things."""
    ingredient, limits = bottle.ingredient, problem.limits
    holds = ingredient.composition
    if ingredient.role is Role.SEASONING and holds.salt_g_per_l.mid < 5.0:
        return False
    if ingredient.role is Role.SWEETENER and holds.sugar_g_per_l.mid > 1100.0:
        return False
    return (
        ingredient.id not in limits.must_not
        and not ingredient.allergens & limits.without_allergens
        and bool(amounts_of(problem, bottle))
    )


def amounts_of(problem: Problem, bottle: Bottle) -> list[float]:
    amounts = problem.measures.amounts_ml(bottle.ingredient)
    stock = np.inf if bottle.stock_ml is None else bottle.stock_ml
    return [amount for amount in amounts if amount <= stock]


def contents_of(bottles: tuple[Bottle, ...], amounts: tuple[float, ...]) -> list[float]:
    """Water, ethanol, dissolved, sugar, acid, salt [g], bitterness, caffeine [mg], money."""
    total = np.zeros(9)
    for bottle, ml in zip(bottles, amounts, strict=True):
        water, ethanol, sugar, acid, salt, qhe, _ = masses_per_ml(bottle.ingredient, 0, 20)[:, 0]
        caffeine = bottle.ingredient.composition.caffeine_mg_per_l.high / 1000.0
        price = bottle.price_per_ml or 0.0
        dissolved = sugar + acid + salt
        total += ml * np.array([water, ethanol, dissolved, sugar, acid, salt, qhe, caffeine, price])
    return total.tolist()


def drink_of(
    problem: Problem,
    bottles: tuple[Bottle, ...],
    amounts: tuple[float, ...],
    dose: float,
    amount: float,
) -> Drink:
    by_role = {role: [b.ingredient.id for b in bottles if b.ingredient.role is role]
               for role in Role}  # fmt: skip
    return Drink(
        base=by_role[Role.BASE][0],
        modifiers=tuple(by_role[Role.MODIFIER]),
        pours=tuple((b.ingredient.id, ml) for b, ml in zip(bottles, amounts, strict=True)),
        dose_g=dose,
        score=score_of_bottles(problem, bottles) + amount,
    )


_KNOWN: dict[tuple[int, int, tuple[str, ...]], float] = {}


def score_of_bottles(problem: Problem, bottles: tuple[Bottle, ...]) -> float:
    """Means of affinity and liking by how loudly roles speak, and novelty; amounts play no part."""
    weights = problem.weights
    modifiers = sum(b.ingredient.role is Role.MODIFIER for b in bottles)
    voices = {
        Role.BASE: weights.base,
        Role.MODIFIER: weights.modifiers / modifiers,
        Role.BITTERS: weights.bitters,
        Role.SWEETENER: weights.sweetener,
        Role.SEASONING: 0.0,
    }
    loud = [voices[b.ingredient.role] for b in bottles]
    with_coffee = sum(
        v * (weights.coffee * coffee_affinity(problem, b.ingredient.id) + weights.liking * b.liking)
        for v, b in zip(loud, bottles, strict=True)
    )
    pairs = list(combinations(range(len(bottles)), 2))
    of_pairs = sum(
        loud[i] * loud[j] * affinity(problem, bottles[i].ingredient.id, bottles[j].ingredient.id)
        for i, j in pairs
    )
    pair_sum = sum(loud[i] * loud[j] for i, j in pairs)
    return (
        with_coffee / sum(loud)
        + (weights.together * of_pairs / pair_sum if pair_sum else 0.0)
        + weights.novelty * novelty(problem, bottles)
    )


def novelty(problem: Problem, bottles: tuple[Bottle, ...]) -> float:
    ours = {b.ingredient.id for b in bottles if b.ingredient.role in (Role.BASE, Role.MODIFIER)}
    alike = [len(ours & spec) / len(ours | spec) for spec in problem.house_specs]
    return 1.0 - max(alike, default=0.0)


def coffee_affinity(problem: Problem, ingredient_id: str) -> float:
    key = (id(problem.knowledge), id(problem.aroma), (ingredient_id,))
    if key not in _KNOWN:
        knowledge = problem.knowledge
        scores = parts_with_all(knowledge, problem.aroma, knowledge.weights).score
        for each, row in knowledge.space.index.items():
            _KNOWN[id(knowledge), id(problem.aroma), (each,)] = float(scores[row])
    return _KNOWN[key]


def affinity(problem: Problem, a: str, b: str) -> float:
    first, second = sorted((a, b))
    key = (id(problem.knowledge), 0, (first, second))
    if key not in _KNOWN:
        knowledge = problem.knowledge
        scores = parts_with_all(
            knowledge, ingredient_aroma(knowledge.space, first), knowledge.weights
        ).score
        _KNOWN[key] = float(scores[knowledge.space.index[second]])
    return _KNOWN[key]


def told(composition: Composition) -> list[tuple[float, frozenset[tuple[str, float]], float]]:
    """An answer as plain values: score, pours, dose."""
    return [
        (d.score, frozenset((p.ingredient.id, p.volume_ml) for p in d.drink.pours),
         d.drink.bed.dose_g if d.drink.bed else 0.0)
        for d in composition.drinks
    ]  # fmt: skip
