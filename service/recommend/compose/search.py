"""The exact search: best first, each part of the space opened only as far as its bound demands.

The next drink of the answer is certain when it is worth more than the bound of everything that is
not exact yet and still allowed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from service.recommend.compose.cells import build_cells
from service.recommend.compose.diversity import Chosen
from service.recommend.compose.forecast import fit_forecast
from service.recommend.compose.opening import (
    CELL,
    DRINK,
    GROUP,
    TIE,
    Bench,
    first_nodes,
    open_cells,
    open_drinks,
    open_groups,
    work_out,
)
from service.recommend.compose.problem import Problem, Stop
from service.recommend.compose.queue import Nodes, Queue, joined
from service.recommend.compose.rack import Index, Mask, Vector
from service.recommend.compose.score import block_scores
from service.recommend.compose.space import Space

# Taken together, so that the arrays are long enough to be worth their while.
_FEWEST_AT_ONCE: Final = 1_500
# A group is as much work as so many cells, more or less.
_BODIES_COUNT_FOR: Final = 40


@dataclass(frozen=True, slots=True, order=True)
class Pick:
    """One drink by its places in the space; the order of the fields is its order among equals."""

    group: int
    set: int
    body: int
    option: int
    dose: int


@dataclass(frozen=True, slots=True)
class Found:
    """The drinks of an answer, best first, and what could still have come after them.

    `bound` is the upper bound of all drinks still allowed when the search ended, exact or not.
    """

    picks: tuple[tuple[float, Pick], ...]
    bound: float
    finished: bool


def best_first(bench: Bench, limit: int, tell: Callable[[int, float], None], stop: Stop) -> Found:
    """The first `limit` drinks of the answer, in order; fewer where no more are allowed."""
    search = Search(bench)
    picks: list[tuple[float, Pick]] = []
    while len(picks) < limit:
        if stop():
            return Found(tuple(picks), search.left, finished=False)
        best = search.best()
        if best is None and search.bound == -np.inf:
            break
        if best is not None and best[0] > search.bound + TIE:
            picks.append(best)
            search.take(best[1])
        else:
            search.step()
        tell(len(picks), search.bound)
    return Found(tuple(picks), search.left, finished=True)


def bench_for(problem: Problem, space: Space) -> Bench:
    """Everything worked out that a search of a space starts from."""
    rack, blocks = space.rack, space.blocks
    nothing = len(rack.bottles)
    # Short integers, because there may be half a million groups.
    rows = [
        np.pad(
            block.rows(np.arange(block.first, block.first + block.count)).astype(np.int16),
            ((0, 0), (0, 4 - block.parts)),
            constant_values=nothing,
        )
        for block in blocks
    ]
    amounts = [np.pad(b.amounts_ml, ((0, 0), (0, 4 - b.parts))) for b in blocks]
    begins = np.cumsum([0, *(len(a) for a in amounts[:-1])])
    return Bench(
        problem=problem,
        space=space,
        block_scores=tuple(block_scores(problem, rack, block) for block in blocks),
        forecast=fit_forecast(problem.preparation, problem.bed, problem.priors, problem.doses_g),
        cells=build_cells(space),
        rows=np.concatenate(rows),
        first_amount=np.repeat(begins, [block.count for block in blocks]).astype(np.int32),
        amounts_ml=np.concatenate(amounts),
        contents=np.append(rack.contents.T, np.zeros((1, len(rack.contents))), axis=0),
        place=np.full(space.groups, -1, dtype=np.int32),
    )


class Search:
    """What is open, what is exact, and what the drinks chosen so far still allow."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        groups = first_nodes(bench)
        self.queue = Queue(float(groups.bound.max(initial=0.0)))
        self.queue.put(groups)
        self.bodies = bodies_of_groups(bench)
        self.allowed: Mask = np.ones(len(groups), dtype=bool)
        self.chosen = Chosen(bench.problem.variety)
        self.given: set[tuple[int, int]] = set()
        self.exact: dict[int, tuple[float, Pick]] = {}
        self.best_of: Vector = np.full(len(groups), -np.inf)

    @property
    def bound(self) -> float:
        """No drink that is allowed and not exact is worth more."""
        return self.queue.bound

    @property
    def left(self) -> float:
        """No drink that is allowed and not given is worth more."""
        best = self.best()
        return self.bound if best is None else max(self.bound, best[0])

    def best(self) -> tuple[float, Pick] | None:
        """The best exact drink that is allowed; ties go to the first in order."""
        if not self.exact:
            return None
        most = max(score for score, _ in self.exact.values())
        return min((e for e in self.exact.values() if e[0] >= most - TIE), key=lambda e: e[1])

    def take(self, pick: Pick) -> None:
        """Put a drink into the answer; what it rules out is dropped."""
        base, *modifiers = dict.fromkeys(self.bodies[:, pick.group].tolist())
        self.chosen.add(base, tuple(modifiers))
        self.allowed &= self.chosen.leaves(self.bodies, base, tuple(modifiers))
        self.given.add((pick.group, pick.set))
        self.exact = {
            owner: each
            for owner, each in self.exact.items()
            if self.allowed[each[1].group] and (each[1].group, each[1].set) not in self.given
        }

    def step(self) -> None:
        """Open what has the highest bound, with its nearest followers."""
        bench, nodes = self.bench, self._next()
        groups = nodes.group[nodes.kind == GROUP]
        if len(groups):
            for opened in open_groups(bench, groups):
                self.queue.put(opened)
        is_cell, finest = nodes.kind == CELL, bench.cells.tree.finest
        wide, narrow = is_cell & (nodes.item < finest), is_cell & (nodes.item >= finest)
        if wide.any():
            self.queue.put(self._wanted(open_cells(bench, nodes.some(wide))))
        if narrow.any():
            self.queue.put(self._wanted(open_drinks(bench, nodes.some(narrow))))
        drinks = nodes.kind == DRINK
        if drinks.any():
            self._keep(work_out(bench, nodes.some(drinks)))

    def _next(self) -> Nodes:
        """The highest nodes, enough of them to be worth the while."""
        parts, weight = [self._wanted(self.queue.take())], 0
        while True:
            nodes = parts[-1]
            weight += len(nodes) + _BODIES_COUNT_FOR * int((nodes.kind == GROUP).sum())
            if weight >= _FEWEST_AT_ONCE or not self.queue.buckets:
                return joined(parts)
            parts.append(self._wanted(self.queue.take()))

    def _wanted(self, nodes: Nodes) -> Nodes:
        """What is still allowed and could still be its group's best."""
        wanted = self.allowed[nodes.group]
        if not self.bench.problem.variety.repeat_pairs:
            wanted &= nodes.bound > self.best_of[nodes.group] - TIE
        return nodes.some(wanted)

    def _keep(self, drinks: Nodes) -> None:
        """Remember the best exact drinks: of each group, or of each set where groups may repeat."""
        option, dose = np.divmod(drinks.item, len(self.bench.space.doses_g))
        sets = self.bench.space.finishes.set_of[option]
        owners = drinks.group.astype(np.int64)
        if self.bench.problem.variety.repeat_pairs:
            owners = owners * self.bench.space.finishes.sets + sets
        for i in _best_of_each(drinks.bound, owners).tolist():
            pick = Pick(int(drinks.group[i]), int(sets[i]), int(drinks.body[i]), int(option[i]),
                        int(dose[i]))  # fmt: skip
            score, owner = float(drinks.bound[i]), int(owners[i])
            now = self.exact.get(owner)
            if (pick.group, pick.set) in self.given:
                continue
            if now is None or score > now[0] + TIE or (score >= now[0] - TIE and pick < now[1]):
                self.exact[owner] = (score, pick)
                self.best_of[pick.group] = max(self.best_of[pick.group], score)


def _best_of_each(scores: Vector, owners: Index) -> Index:
    """The drinks within a tie of the best of their owner."""
    which = np.unique(owners, return_inverse=True)[1]
    most = np.full(int(which.max()) + 1, -np.inf)
    np.maximum.at(most, which, scores)
    return np.flatnonzero((scores >= most[which] - TIE) & (scores > -np.inf))


def bodies_of_groups(bench: Bench) -> Index:
    """(3, groups): the base and the modifiers of every group, the base again for a second one."""
    bodies = np.ascontiguousarray(bench.rows[:, :3].T)
    for scores in bench.block_scores:
        block = scores.block
        if block.modifiers.shape[1] == 1:
            here = slice(block.first, block.first + block.count)
            bodies[2, here] = bodies[0, here]
    return bodies
