"""The space of candidates: which bottles together, in which amounts. Counted, never written out.

A drink is a *body* (base, modifiers, sweetener: what the jigger pours) and a *finish* (bitters and
saline: what goes in by the dash). A *group* is the bottles of a body; a *set* the bottles of a
finish. Groups and sets, their amounts and the coffee doses are independent, so the space is
their product, and the search walks groups first, amounts last.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from service.ingredients.records import Role
from service.recommend.compose.problem import Problem
from service.recommend.compose.rack import Index, Rack, Vector

NONE = -1


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """All groups with the same number of modifiers and the same sweetener (a row, or NONE).

    Group `first + base * len(modifiers) + i` has that base and the modifiers in row i.
    `amounts_ml` is (bodies, parts), one row per body; a group whose bottles are low in stock has
    only some of them.
    """

    first: int
    bases: Index
    modifiers: Index
    sweetener: int
    amounts_ml: Vector

    @property
    def count(self) -> int:
        return int(self.bases.shape[0]) * int(self.modifiers.shape[0])

    @property
    def parts(self) -> int:
        return 1 + int(self.modifiers.shape[1]) + (self.sweetener != NONE)

    def __contains__(self, group: int) -> bool:
        return self.first <= group < self.first + self.count

    def rows(self, groups: Index) -> Index:
        """The rack's rows of each group's bottles: base, modifiers, sweetener; (groups, parts)."""
        base, pair = np.divmod(groups - self.first, len(self.modifiers))
        columns = [self.bases[base][:, None], self.modifiers[pair]]
        if self.sweetener != NONE:
            columns.append(np.full((len(groups), 1), self.sweetener, dtype=np.intp))
        return np.concatenate(columns, axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class Finishes:
    """Every way to measure bitters and saline: the options.

    bitters : (choices, 2) rows of the rack or NONE
    choice_of : (options,) the choice of bitters; saline_of : (options,) a row or NONE
    set_of : (options,) a number for the two together, all bottles of the finish
    amounts_ml : (options, 3) of the two bitters and the saline
    contents : (9, options)
    """

    bitters: Index
    choice_of: Index
    saline_of: Index
    set_of: Index
    amounts_ml: Vector
    contents: Vector

    @property
    def sets(self) -> int:
        return int(self.set_of[-1]) + 1

    def rows(self, options: Index) -> Index:
        """The rack's rows of the bitters and the saline of options; (options, 3)."""
        return np.column_stack([self.bitters[self.choice_of[options]], self.saline_of[options]])


@dataclass(frozen=True, slots=True, eq=False)
class Space:
    """All that may be poured."""

    rack: Rack
    blocks: tuple[Block, ...]
    finishes: Finishes
    doses_g: Vector

    @property
    def groups(self) -> int:
        return sum(block.count for block in self.blocks)

    @property
    def size(self) -> int:
        """How many candidate drinks there are, stock apart."""
        options = len(self.finishes.set_of) * len(self.doses_g)
        return sum(block.count * len(block.amounts_ml) for block in self.blocks) * options


def build_space(problem: Problem, rack: Rack) -> Space:
    """The space of a problem; empty where a must cannot be met."""
    return Space(
        rack=rack,
        blocks=_blocks(problem, rack),
        finishes=_finishes(problem, rack),
        doses_g=np.array(sorted(set(problem.doses_g))),
    )


def bottle_sets(
    problem: Problem, rack: Rack, role: Role, counts: tuple[int, int]
) -> list[tuple[int, ...]]:
    """All sets of so many bottles of a role that hold every one that must be in, few first."""
    rows = rack.places[role].tolist()
    must = {row for row in rows if rack.bottles[row].ingredient.id in problem.limits.must}
    low, high = counts
    return [
        chosen
        for count in range(low, high + 1)
        for chosen in combinations(rows, count)
        if must <= set(chosen)
    ]


def _blocks(problem: Problem, rack: Rack) -> tuple[Block, ...]:
    bases = [b for (b,) in bottle_sets(problem, rack, Role.BASE, (1, 1))]
    if not bases or _unplaced(problem, rack):
        return ()
    sweeteners = bottle_sets(problem, rack, Role.SWEETENER, (0, int(problem.shape.sweetener)))
    sets = bottle_sets(problem, rack, Role.MODIFIER, problem.shape.modifiers)
    found: list[Block] = []
    first = 0
    for sweetener in sweeteners:
        for count in sorted({len(s) for s in sets}):
            modifiers = np.array([s for s in sets if len(s) == count], dtype=np.intp)
            block = Block(
                first=first,
                bases=np.array(bases, dtype=np.intp),
                modifiers=modifiers,
                sweetener=sweetener[0] if sweetener else NONE,
                amounts_ml=_body_amounts(rack, bases, modifiers, sweetener),
            )
            found.append(block)
            first += block.count
    return tuple(found)


def _unplaced(problem: Problem, rack: Rack) -> bool:
    """Whether something that must be in is not on the rack at all."""
    return not problem.limits.must <= {b.ingredient.id for b in rack.bottles}


def _body_amounts(
    rack: Rack, bases: list[int], modifiers: Index, sweetener: tuple[int, ...]
) -> Vector:
    """Every combination of amounts that some group of the block has, one row each."""
    columns = [_amounts_of(rack, bases)]
    columns += [_amounts_of(rack, modifiers.ravel().tolist())] * modifiers.shape[1]
    columns += [_amounts_of(rack, list(sweetener))] if sweetener else []
    return np.array(list(product(*columns)))


def _amounts_of(rack: Rack, rows: list[int]) -> tuple[float, ...]:
    return tuple(sorted({amount for row in set(rows) for amount in rack.amounts_ml[row]}))


def _finishes(problem: Problem, rack: Rack) -> Finishes:
    bitters = bottle_sets(problem, rack, Role.BITTERS, problem.shape.bitters)
    salines = bottle_sets(problem, rack, Role.SEASONING, (0, int(problem.shape.saline)))
    amounts: list[tuple[float, float, float]] = []
    places: list[tuple[int, int, int]] = []
    sets = product(enumerate(bitters), salines)
    for number, ((choice, chosen), saline) in enumerate(sets):
        measures = [rack.amounts_ml[row] for row in (*chosen, *saline)]
        for each in product(*measures):
            first, second = (*each[: len(chosen)], 0.0, 0.0)[:2]
            amounts.append((first, second, each[-1] if saline else 0.0))
            places.append((choice, saline[0] if saline else NONE, number))
    table = np.array(places, dtype=np.intp).reshape(-1, 3)
    pairs = [(*chosen, NONE, NONE)[:2] for chosen in bitters]
    finishes = Finishes(
        bitters=np.array(pairs, dtype=np.intp).reshape(-1, 2),
        choice_of=table[:, 0],
        saline_of=table[:, 1],
        set_of=table[:, 2],
        amounts_ml=np.array(amounts, dtype=np.float64).reshape(-1, 3),
        contents=np.zeros((len(rack.contents), len(amounts))),
    )
    rows = finishes.rows(np.arange(len(amounts)))
    for column in range(3):
        there = rows[:, column] != NONE
        held = finishes.amounts_ml[there, column] * rack.contents[:, rows[there, column]]
        finishes.contents[:, there] += held
    return finishes
