"""Opening parts of the space: each step looks at narrower ranges of drinks and bounds them tighter.

A group's bottles come first, then each of its bodies with all finishes and doses in one cell, then
with narrower and narrower cells, then single drinks by their bound, then what they are worth.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from service.recommend.compose.bounds import Boxes, ceiling
from service.recommend.compose.cells import Cells
from service.recommend.compose.chance import inside_probability
from service.recommend.compose.forecast import Forecast
from service.recommend.compose.glass import in_glass, worth
from service.recommend.compose.problem import Problem
from service.recommend.compose.queue import Nodes
from service.recommend.compose.rack import COST, Index, Rack, Vector
from service.recommend.compose.score import BlockScores, choice_scores, most_with_bitters
from service.recommend.compose.space import NONE, Block, Space

GROUP, CELL, DRINK, EXACT = range(4)
_FIRST_ROOM: Final = 1_000
# Scores that differ by less are a tie, and ties go by the order of the space.
TIE: Final = 1e-9


@dataclass(slots=True)
class Opened:
    """How far a search had to go."""

    groups: int = 0
    cells: int = 0
    drinks: int = 0


@dataclass(slots=True, eq=False)
class Bench:
    """What every step needs, and what has been learnt of the groups that were opened.

    rows : (groups, 4) the rack's rows of each group's bottles, one past the last for none
    first_amount : where the amounts of each group's block begin in `amounts_ml`
    amounts_ml : (bodies of all blocks, 4)
    place : where an opened group's scores stand in `scores` and `tops`
    """

    problem: Problem
    space: Space
    block_scores: tuple[BlockScores, ...]
    forecast: Forecast
    cells: Cells
    rows: Index
    first_amount: Index
    amounts_ml: Vector
    contents: Vector
    place: Index
    scores: Vector = field(default_factory=lambda: np.empty((0, 0)))
    tops: Vector = field(default_factory=lambda: np.empty((0, 0)))
    learnt: int = 0
    opened: Opened = field(default_factory=Opened)

    def held(self, nodes: Nodes) -> Vector:
        """What the bodies of nodes hold; (9, nodes)."""
        amounts = self.amounts_ml[self.first_amount[nodes.group] + nodes.body]
        rows = self.rows[nodes.group]
        held = amounts[:, :1] * self.contents[rows[:, 0]]
        for part in range(1, rows.shape[1]):
            held += amounts[:, part : part + 1] * self.contents[rows[:, part]]
        return np.ascontiguousarray(held.T)

    def top(self, group: Index, cell: Index) -> Vector:
        """What the bottles of a group are worth at most with a finish of a cell."""
        return self.tops[self.place[group], self.cells.finish_of[cell]]


def first_nodes(bench: Bench) -> Nodes:
    """Every group, bounded by its bottles alone."""
    problem, rack = bench.problem, bench.space.rack
    weights = problem.weights
    best = weights.balance * float(inside_probability(np.array([-problem.band.inside_radius]))[0])
    finish = float(bench.space.finishes.contents[COST].min())
    bounds = [
        most_with_bitters(problem, rack, scores)
        + (best + TIE)
        - weights.price * (_least_cost(rack, scores.block) + finish)
        for scores in bench.block_scores
    ]
    bound = np.concatenate(bounds)
    nothing = np.zeros(len(bound), dtype=np.int16)
    return Nodes.of(GROUP, np.arange(len(bound)), nothing, nothing, bound)


def open_groups(bench: Bench, groups: Index) -> list[Nodes]:
    """The bodies of groups, each with all its finishes in the widest cells."""
    found = []
    bench.opened.groups += len(groups)
    for scores in bench.block_scores:
        block = scores.block
        mine = groups[(groups >= block.first) & (groups < block.first + block.count)]
        if len(mine):
            found.append(_bodies(bench, scores, mine))
    return found


def open_cells(bench: Bench, nodes: Nodes) -> Nodes:
    """The cells within cells."""
    cells, children = bench.cells, bench.cells.tree.children
    parent, child = _spread(children[nodes.item], children[nodes.item + 1])
    held = bench.held(nodes)[:, parent]
    boxes = Boxes(
        held + cells.boxes.low[:, child],
        held + cells.boxes.high[:, child],
        cells.boxes.dose_low[child],
        cells.boxes.dose_high[child],
    )
    most = ceiling(bench.problem, bench.forecast, boxes)
    bench.opened.cells += len(child)
    group = nodes.group[parent]
    bound = np.minimum(most + bench.top(group, child), nodes.bound[parent])
    return Nodes.of(CELL, group, nodes.body[parent], child, bound)


def open_drinks(bench: Bench, nodes: Nodes) -> Nodes:
    """The single drinks within cells of the last level, each with the bound of its own bottles."""
    cells = bench.cells
    cell = nodes.item - cells.tree.finest
    parent, member = _spread(cells.drinks_from[cell], cells.drinks_from[cell + 1])
    drink = cells.drinks[member]
    group = nodes.group[parent]
    choice = bench.space.finishes.choice_of[drink // len(bench.space.doses_g)]
    amount = nodes.bound - bench.top(nodes.group, nodes.item)
    bound = bench.scores[bench.place[group], choice] + amount[parent]
    return Nodes.of(DRINK, group, nodes.body[parent], drink, bound)


def work_out(bench: Bench, nodes: Nodes) -> Nodes:
    """What single drinks are worth, exactly."""
    problem, space = bench.problem, bench.space
    option, dose = np.divmod(nodes.item, len(space.doses_g))
    held = bench.held(nodes) + space.finishes.contents[:, option]
    glass = in_glass(bench.forecast, problem.band, held, space.doses_g[dose])
    score = bench.scores[bench.place[nodes.group], space.finishes.choice_of[option]]
    score = score + worth(glass, problem.limits, problem.weights)
    bench.opened.drinks += len(score)
    return Nodes.of(EXACT, nodes.group, nodes.body, nodes.item, score)


def _learn(bench: Bench, scores: BlockScores, groups: Index) -> None:
    """Keep what groups are worth with every choice of bitters, and the best of each cell."""
    found = choice_scores(bench.space.rack, bench.space.finishes, *scores.of(groups))
    tops = bench.cells.tops(found)
    start, end = bench.learnt, bench.learnt + len(groups)
    bench.scores, bench.tops = _room(bench.scores, found, end), _room(bench.tops, tops, end)
    bench.scores[start:end], bench.tops[start:end] = found, tops
    bench.place[groups] = np.arange(start, end)
    bench.learnt = end


def _room(table: Vector, rows: Vector, end: int) -> Vector:
    """The table, or one twice as long if it has no room for so many rows."""
    if end <= len(table):
        return table
    longer = np.empty((max(2 * len(table), end, _FIRST_ROOM), rows.shape[1]))
    longer[: len(table)] = table.reshape(-1, rows.shape[1])
    return longer


def _bodies(bench: Bench, scores: BlockScores, groups: Index) -> Nodes:
    """The bodies of groups of one block; what is learnt of a group waits until some body fits."""
    block, rack, widest = scores.block, bench.space.rack, bench.cells.tree.levels[1]
    rows = block.rows(groups)
    held = np.zeros((len(rack.contents), len(groups), len(block.amounts_ml)))
    for part, amounts in zip(rows.T, block.amounts_ml.T, strict=True):
        held += rack.contents[:, part][:, :, None] * amounts
    fits = (block.amounts_ml <= rack.most_ml[rows][:, None, :] + TIE).all(axis=2)
    if bench.problem.limits.most_cost is not None:
        fits &= held[COST] <= bench.problem.limits.most_cost
    boxes = bench.cells.boxes.some(slice(0, widest)).beside(held[:, fits])
    most = np.full((*fits.shape, widest), -np.inf)
    most[fits] = ceiling(bench.problem, bench.forecast, boxes).reshape(-1, widest)
    bench.opened.cells += len(boxes.dose_low)
    possible = (most > -np.inf).any(axis=(1, 2))
    groups, most = groups[possible], most[possible]
    if len(groups):
        _learn(bench, scores, groups)
        most += bench.tops[bench.place[groups]][:, None, bench.cells.finish_of[:widest]]
    group, body, cell = np.nonzero(most > -np.inf)
    return Nodes.of(CELL, groups[group], body, cell, most[group, body, cell])


def _spread(starts: Index, ends: Index) -> tuple[Index, Index]:
    """Every number from each start to its end, and whose it is."""
    counts = ends - starts
    parent = np.repeat(np.arange(len(starts)), counts)
    begins = np.cumsum(counts) - counts
    return parent, np.arange(len(parent)) - begins[parent] + starts[parent]


def _least_cost(rack: Rack, block: Block) -> Vector:
    """What the jigger bottles of each group cost at least."""
    least = block.amounts_ml.min(axis=0)
    modifiers = block.modifiers.shape[1]
    cost = rack.contents[COST]
    base, chosen = least[0] * cost[block.bases], cost[block.modifiers] @ least[1 : 1 + modifiers]
    sweetener = 0.0 if block.sweetener == NONE else least[-1] * cost[block.sweetener]
    return np.asarray((base[:, None] + chosen + sweetener).ravel())
