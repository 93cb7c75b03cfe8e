"""What comes out: drinks with the sum that made them, and how it is known that none is better."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from enum import StrEnum
from itertools import combinations
from typing import Any

import numpy as np

from service.drink import Drink, Pour
from service.ingredients.records import Role
from service.recommend.compose.glass import in_glass
from service.recommend.compose.opening import Bench
from service.recommend.compose.problem import Problem
from service.recommend.compose.rack import Index, Vector
from service.recommend.compose.search import Found, Pick
from service.recommend.compose.space import NONE
from service.recommend.compose.weights import ComposeWeights


class ScorePart(StrEnum):
    COFFEE = "coffee"
    TOGETHER = "together"
    LIKING = "liking"
    NOVELTY = "novelty"
    BALANCE = "balance"
    PRICE = "price"


@dataclass(frozen=True, slots=True)
class Share:
    """One line of a score: which part of it, by which bottles, how much."""

    part: ScorePart
    ids: tuple[str, ...]
    amount: float


@dataclass(frozen=True, slots=True)
class Composed:
    """One drink of an answer. `shares` sum to `score`.

    The figures are the search's own, for the usual bottles: `balance` the probability inside the
    band, `caffeine_mg` the high end. `unpriced` are bottles whose price is a guess.
    """

    drink: Drink
    score: float
    shares: tuple[Share, ...]
    balance: float
    abv: float
    volume_ml: float
    caffeine_mg: float
    cost: float
    unpriced: tuple[str, ...]

    @property
    def parts(self) -> dict[ScorePart, float]:
        """The score by part."""
        return {
            part: sum(share.amount for share in self.shares if share.part is part)
            for part in ScorePart
        }


@dataclass(frozen=True, slots=True)
class Certificate:
    """How it is known that nothing better was missed.

    candidates : all drinks that could be poured from the usable bottles, in whole measures
    bound : no drink that is left out, and that variety still allows, is worth more
    groups, groups_opened : sets of jigger bottles, and how many of them had to be opened
    cells : ranges of drinks whose ceiling was worked out; drinks : single drinks worked out
    proved : False where the search was stopped; the drinks given are certain even then
    """

    candidates: int
    bound: float | None
    groups: int
    groups_opened: int
    cells: int
    drinks: int
    proved: bool
    by_enumeration: bool

    def as_json(self) -> dict[str, Any]:
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Composition:
    """An answer: the drinks, best first, with the weights that ranked them."""

    drinks: tuple[Composed, ...]
    certificate: Certificate
    weights: ComposeWeights


def composition_of(bench: Bench, found: Found, *, by_enumeration: bool) -> Composition:
    """The search's finds as drinks."""
    certificate = Certificate(
        candidates=bench.space.size,
        bound=None if by_enumeration or found.bound == -np.inf else found.bound,
        groups=bench.space.groups,
        groups_opened=bench.space.groups if by_enumeration else bench.opened.groups,
        cells=bench.opened.cells,
        drinks=bench.opened.drinks,
        proved=found.finished,
        by_enumeration=by_enumeration,
    )
    drinks = tuple(_composed(bench, score, pick) for score, pick in found.picks)
    return Composition(drinks, certificate, bench.problem.weights)


def _composed(bench: Bench, score: float, pick: Pick) -> Composed:
    problem, rack = bench.problem, bench.space.rack
    rows, amounts = _bottles(bench, pick)
    dose_g = float(bench.space.doses_g[pick.dose])
    glass = in_glass(
        bench.forecast, problem.band, rack.contents[:, rows] @ amounts[:, None], np.array([dose_g])
    )
    pours = [
        Pour(rack.bottles[row].ingredient, amount)
        for row, amount in zip(rows.tolist(), amounts.tolist(), strict=True)
    ]
    balance, cost = float(glass.balance[0]), float(glass.cost[0])
    novelty = float(
        bench.block_scores[_block(bench, pick)].of(np.array([pick.group]))[0].novelty[0]
    )
    return Composed(
        drink=Drink(tuple(pours), problem.preparation, replace(problem.bed, dose_g=dose_g)),
        score=score,
        shares=(
            *_shares(problem, bench, rows),
            Share(ScorePart.NOVELTY, (), novelty),
            Share(ScorePart.BALANCE, (), problem.weights.balance * balance),
            Share(ScorePart.PRICE, (), -problem.weights.price * cost),
        ),
        balance=balance,
        abv=float(glass.abv[0]),
        volume_ml=float(glass.volume_ml[0]),
        caffeine_mg=float(glass.caffeine_mg[0]),
        cost=cost,
        unpriced=rack.ids([row for row in rows.tolist() if row in rack.unpriced]),
    )


def _bottles(bench: Bench, pick: Pick) -> tuple[Index, Vector]:
    """The rows of a drink's bottles and how much of each [mL]: jigger first, then dashes."""
    block = bench.block_scores[_block(bench, pick)].block
    finishes = bench.space.finishes
    rows = [
        *block.rows(np.array([pick.group]))[0].tolist(),
        *finishes.rows(np.array([pick.option]))[0].tolist(),
    ]
    amounts = [*block.amounts_ml[pick.body].tolist(), *finishes.amounts_ml[pick.option].tolist()]
    there = [(row, amount) for row, amount in zip(rows, amounts, strict=True) if row != NONE]
    return (
        np.array([row for row, _ in there], dtype=np.intp),
        np.array([amount for _, amount in there]),
    )


def _block(bench: Bench, pick: Pick) -> int:
    blocks = bench.space.blocks
    return next(i for i, block in enumerate(blocks) if pick.group in block)


def _shares(problem: Problem, bench: Bench, rows: Index) -> Iterator[Share]:
    """What each bottle, and each two together, bring to the means of the score."""
    weights, rack = problem.weights, bench.space.rack
    roles = [rack.bottles[row].ingredient.role for row in rows.tolist()]
    modifiers = sum(role is Role.MODIFIER for role in roles)
    voice = {
        Role.BASE: weights.base,
        Role.MODIFIER: weights.modifiers / modifiers,
        Role.BITTERS: weights.bitters,
        Role.SWEETENER: weights.sweetener,
    }
    heard = [(int(row), voice[role]) for row, role in zip(rows, roles, strict=True)
             if role in voice]  # fmt: skip
    single = sum(loud for _, loud in heard)
    double = sum(a * b for (_, a), (_, b) in combinations(heard, 2)) or 1.0
    for row, loud in heard:
        by_coffee = weights.coffee * loud * float(rack.coffee[row]) / single
        yield Share(ScorePart.COFFEE, rack.ids([row]), by_coffee)
        if liking := weights.liking * loud * float(rack.liking[row]) / single:
            yield Share(ScorePart.LIKING, rack.ids([row]), liking)
    for (first, a), (second, b) in combinations(heard, 2):
        amount = a * b * float(rack.pairs[first, second]) / double
        yield Share(ScorePart.TOGETHER, rack.ids([first, second]), amount)
