"""A ceiling is never below what it covers: the search stands on this."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from service.bed import Bed
from service.counter.known import Known
from service.liquid import BuiltOnCube, Stirring
from service.recommend.compose import FREE_DOSES_G, Limits, Measures
from service.recommend.compose.bounds import Boxes, ceiling, least_distance
from service.recommend.compose.exhaust import score_portion
from service.recommend.compose.glass import in_glass, worth
from service.recommend.compose.opening import Bench, first_nodes
from service.recommend.compose.rack import build_rack
from service.recommend.compose.search import bench_for
from service.recommend.compose.space import build_space
from service.taste import Percept, judge
from tests.recommend.compose.conftest import BAR, MakeProblem

QUESTIONS: list[dict[str, Any]] = [
    {},
    {"doses_g": FREE_DOSES_G},
    {"preparation": Stirring(seconds=6.0), "doses_g": (10.0, 20.0)},
    {"preparation": BuiltOnCube()},
    {"limits": Limits(least_abv=0.2, most_abv=0.25, most_caffeine_mg=110.0, least_balance=0.2)},
    {"bed": Bed(canephora_share=1.0), "measures": Measures(dashes=(1, 6))},
]


def bench_of(problem: MakeProblem, asked: dict[str, Any]) -> Bench:
    question = problem(BAR, **asked)
    return bench_for(question, build_space(question, build_rack(question)))


@pytest.mark.parametrize("asked", QUESTIONS)
def test_no_drink_is_worth_more_than_the_ceiling_of_any_cell_it_lies_in(
    problem: MakeProblem, asked: dict[str, Any]
) -> None:
    bench = bench_of(problem, asked)
    question, cells, space = bench.problem, bench.cells, bench.space
    random = np.random.default_rng(1)
    block = max(space.blocks, key=lambda b: b.count)
    for group in random.integers(block.first, block.first + block.count, 3):
        rows = block.rows(np.array([group]))[0]
        amounts = block.amounts_ml[random.integers(len(block.amounts_ml), size=3)]
        bodies = space.rack.contents[:, rows] @ amounts.T
        most = ceiling(question, bench.forecast, cells.boxes.beside(bodies))
        most = most.reshape(len(amounts), -1)
        for cell, drinks in members(bench):
            option, dose = np.divmod(drinks, len(space.doses_g))
            contents = bodies[:, :, None] + space.finishes.contents[:, None, option]
            doses = np.tile(space.doses_g[dose], len(amounts))
            glass = in_glass(bench.forecast, question.band, contents.reshape(9, -1), doses)
            found = worth(glass, question.limits, question.weights).reshape(len(amounts), -1)
            assert (found.max(axis=1) <= most[:, cell]).all()


def members(bench: Bench) -> list[tuple[int, np.ndarray[Any, np.dtype[np.intp]]]]:
    """Every cell of every level with the drinks in it, walked down through its children."""
    tree, cells = bench.cells.tree, bench.cells
    inside: dict[int, np.ndarray[Any, np.dtype[np.intp]]] = {}
    for cell in reversed(range(tree.levels[-1])):
        if cell >= tree.finest:
            place = cell - tree.finest
            inside[cell] = cells.drinks[cells.drinks_from[place] : cells.drinks_from[place + 1]]
        else:
            children = range(tree.children[cell], tree.children[cell + 1])
            inside[cell] = np.concatenate([inside[child] for child in children])
    return list(inside.items())


@pytest.mark.parametrize("asked", QUESTIONS[:2])
def test_cells_of_a_level_hold_every_drink_once(
    problem: MakeProblem, asked: dict[str, Any]
) -> None:
    bench = bench_of(problem, asked)
    levels = bench.cells.tree.levels
    every = len(bench.space.finishes.set_of) * len(bench.space.doses_g)
    inside = dict(members(bench))
    for first, end in pairwise(levels):
        drinks = np.concatenate([inside[cell] for cell in range(first, end)])
        assert sorted(drinks.tolist()) == list(range(every))


def test_no_drink_beats_the_bound_of_its_bottles(problem: MakeProblem) -> None:
    bench = bench_of(problem, {"measures": Measures(dashes=(1, 1), salt_drops=(3,))})
    nodes = first_nodes(bench)
    for scores in bench.block_scores:
        groups = scores.block.first + np.arange(0, scores.block.count, 7)
        found = score_portion(bench, scores, groups).max(axis=(1, 2, 3))
        assert (found <= nodes.bound[groups]).all()


def test_the_least_distance_over_a_box_is_below_every_distance_in_it(known: Known) -> None:
    random = np.random.default_rng(2)
    middle = np.array([4.0, 2.0, 3.0, 0.3, 24.0]) * random.uniform(0.0, 2.0, (300, 5))
    half = np.array([1.0, 0.7, 1.0, 0.2, 2.0]) * random.uniform(0.0, 1.0, (300, 5))
    low, high = np.maximum(middle - half, 0.0).T, (middle + half).T
    bound = least_distance(known.band, Percept(*low), Percept(*high))
    for _ in range(200):
        point = low + random.random(low.shape) * (high - low)
        assert (bound <= judge(known.band, Percept(*point)).distance + 1e-9).all()


def test_a_box_of_one_drink_is_bounded_by_the_drink_itself(problem: MakeProblem) -> None:
    """Nothing is lost where there is nothing to be unsure of."""
    bench = bench_of(problem, {})
    question, space = bench.problem, bench.space
    block = space.blocks[0]
    rows = block.rows(np.arange(block.count))
    contents = np.einsum("ba,kga->kgb", block.amounts_ml, space.rack.contents[:, rows])
    contents = contents.reshape(9, -1)
    dose = np.full(contents.shape[1], 15.0)
    glass = in_glass(bench.forecast, question.band, contents, dose)
    exact = worth(glass, question.limits, question.weights)
    bound = ceiling(question, bench.forecast, Boxes(contents, contents, dose, dose))
    assert bound[exact > -np.inf] == pytest.approx(exact[exact > -np.inf], abs=1e-7)
    assert (bound[exact == -np.inf] == -np.inf).all()
