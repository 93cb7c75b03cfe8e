"""New amounts for a drink whose one bottle is replaced: the least that must move.

The replacement takes any amount of the lattice and at most two other lines move a step or two; all
combinations are tried at once, as plain sums per millilitre. What is found is read again in full
by `rescue`, so that an approximation here can cost a better choice, never a wrong figure.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.drink import Drink, Pour, Reading
from service.drink.lattice import Lattice, by_the_dash
from service.ingredients.records import Ingredient, Role
from service.recommend.swap.tolerance import TOLERANCES, Measure

Vector = NDArray[np.float64]

# What a change costs, in squared tolerances: being out of tolerance most of all, then touching
# other lines, then large steps. Our estimates of what a bartender would rather do mid-service.
OUT_COST: Final = 6.0
NEAR_COST: Final = 0.15
LINE_COST: Final = 0.6
NEW_LINE_COST: Final = 0.9
STEP_COST: Final = 0.1
OWN_STEP_COST: Final = 0.04
STEPS_EACH_WAY: Final = 2
LEAST_SHARE, MOST_SHARE = 0.25, 2.0
DASHES_FOR_A_POUR: Final = 4
POUR_FOR_DASHES_ML: Final = 7.5
MOST_HELP_ML: Final = 10.0
MOST_SECOND_DASHES: Final = 3
MOST_SECOND_SHARE: Final = 0.5
VOLUME_TOLERANCE_SHARE: Final = 0.08
_UNIT: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Target:
    """What the guest's glass held with the old bottle, and how pours become the glass.

    glass_per_poured : concentration in the glass per concentration of what is poured
    coffee_adds : by measure, what the coffee adds to a concentration
    """

    glass: Mapping[Measure, float]
    poured_ml: float
    glass_per_poured: float
    coffee_adds: Mapping[Measure, float]

    @classmethod
    def of(cls, drink: Drink, reading: Reading) -> Target:
        before = {m: m.of(reading.before) for m in Measure}
        after = {m: m.of(reading.after) for m in Measure}
        return cls(
            glass=after,
            poured_ml=drink.poured_ml,
            glass_per_poured=drink.poured_ml / reading.before.volume_ml.mid,
            coffee_adds={m: after[m] - before[m] for m in Measure},
        )


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """One line that may move: its choices [mL], what it was, and what a move costs."""

    ingredient: Ingredient
    choices: Vector
    was_ml: float
    step_ml: float
    line_cost: float
    step_cost: float

    def cost(self) -> Vector:
        moved = np.abs(self.choices - self.was_ml)
        return np.where(moved > 1e-9, self.line_cost + self.step_cost * moved / self.step_ml, 0.0)


def own_line(replacement: Ingredient, missing: Ingredient, was_ml: float, lattice: Lattice) -> Line:
    """The replacement's own line: near what the missing bottle had, or in dashes for a pour."""
    low, high = LEAST_SHARE * was_ml, MOST_SHARE * was_ml
    if by_the_dash(replacement):
        low, high = 0.0, DASHES_FOR_A_POUR * lattice.dash_ml
    elif by_the_dash(missing):
        low, high = lattice.fine_ml, POUR_FOR_DASHES_ML
    choices = lattice.between(replacement, low, high)
    if not choices.size:
        choices = lattice.between(replacement, 0.0, np.inf)
        choices = choices[[int(np.argmin(np.abs(choices - was_ml)))]]
    step = lattice.step_of(replacement, was_ml)
    like_for_like = by_the_dash(replacement) == by_the_dash(missing)
    was = was_ml if like_for_like else float(choices[len(choices) // 2])
    return Line(replacement, choices, was, step, 0.0, OWN_STEP_COST)


def second_line(second: Ingredient, missing: Ingredient, was_ml: float, lattice: Lattice) -> Line:
    """A second bottle beside the first: a few dashes, or at most half of what was poured."""
    if by_the_dash(second):
        choices = lattice.between(second, lattice.dash_ml, MOST_SECOND_DASHES * lattice.dash_ml)
    else:
        most = MOST_SECOND_SHARE * was_ml if not by_the_dash(missing) else lattice.fine_ml
        choices = lattice.between(second, lattice.fine_ml, max(most, lattice.fine_ml))
        if not choices.size:
            choices = lattice.between(second, 0.0, np.inf)[:1]
    return Line(second, choices, float(choices[0]), lattice.fine_ml, 0.0, OWN_STEP_COST)


def other_lines(
    pours: Sequence[Pour], helpers: Sequence[Ingredient], lattice: Lattice
) -> list[Line]:
    """The largest pour of each role may move by two steps; a helper may come in small."""
    lines = []
    for role in (Role.BASE, Role.MODIFIER, Role.SWEETENER, Role.BITTERS):
        of_role = [pour for pour in pours if pour.ingredient.role is role]
        if of_role:
            lines.append(_moving(max(of_role, key=lambda p: p.volume_ml), lattice))
    there = {pour.ingredient.id for pour in pours}
    for helper in helpers:
        if helper.id not in there:
            dashes = DASHES_FOR_A_POUR * lattice.dash_ml
            most = dashes if by_the_dash(helper) else MOST_HELP_ML
            choices = np.concatenate([[0.0], lattice.between(helper, 0.0, most)])
            step = lattice.step_of(helper, 0.0)
            lines.append(Line(helper, choices, 0.0, step, NEW_LINE_COST, STEP_COST))
    return lines


@dataclass(frozen=True, slots=True, eq=False)
class Moves:
    """Ways to set the other lines, at most two of them moved: amounts [mL] and what they cost."""

    lines: Sequence[Line]
    amounts: Vector
    costs: Vector
    totals: Vector


def moves_of(lines: Sequence[Line]) -> Moves:
    """Nothing moved, each line by itself, and each two together."""
    still = np.array([line.was_ml for line in lines])
    rows, costs = [still], [0.0]
    steps = [
        (place, float(amount), float(cost))
        for place, line in enumerate(lines)
        for amount, cost in zip(line.choices, line.cost(), strict=True)
        if cost > 0.0
    ]
    for one, (place, amount, cost) in enumerate(steps):
        rows.append(_with(still, {place: amount}))
        costs.append(cost)
        for place_b, amount_b, cost_b in steps[one + 1 :]:
            if place_b != place:
                rows.append(_with(still, {place: amount, place_b: amount_b}))
                costs.append(cost + cost_b)
    amounts = np.array(rows).reshape(len(rows), len(lines))
    return Moves(lines, amounts, np.array(costs), amounts @ _per_ml(lines))


def best_amounts(
    fixed: Sequence[Pour], own: Sequence[Line], others: Moves, target: Target
) -> tuple[list[float], list[float]]:
    """The cheapest amounts of the replacement's lines and of the others; ties take the first."""
    grid = np.stack(np.meshgrid(*(line.choices for line in own), indexing="ij"), axis=-1)
    amounts = grid.reshape(-1, len(own))
    own_cost = sum(_along(line.cost(), axis, len(own)) for axis, line in enumerate(own)) + np.zeros(
        grid.shape[:-1]
    )
    there = np.array([p.volume_ml for p in fixed]) @ _per_ml(fixed) if fixed else 0.0
    totals = (amounts @ _per_ml(own))[:, None] + others.totals + there
    volume = totals[..., -1]
    cost = own_cost.reshape(-1, 1) + others.costs
    for place, measure in enumerate(Measure):
        glass = _UNIT * totals[..., place] / volume * target.glass_per_poured
        wanted = target.glass[measure]
        difference = glass + target.coffee_adds[measure] - wanted
        cost += _miss(difference, TOLERANCES[measure].around(wanted))
    cost += _miss(volume - target.poured_ml, VOLUME_TOLERANCE_SHARE * target.poured_ml)
    best_own, best_other = divmod(int(np.argmin(cost)), len(others.amounts))
    return amounts[best_own].tolist(), others.amounts[best_other].tolist()


def _per_ml(lines: Sequence[Line] | Sequence[Pour]) -> Vector:
    """What a mL of each line adds: every measure, and its volume."""
    return np.array(
        [[*(m.per_ml(line.ingredient) for m in Measure), 1.0] for line in lines]
    ).reshape(len(lines), len(Measure) + 1)


def _with(still: Vector, moved: Mapping[int, float]) -> Vector:
    row = still.copy()
    for place, amount in moved.items():
        row[place] = amount
    return row


def _moving(pour: Pour, lattice: Lattice) -> Line:
    was, step = pour.volume_ml, lattice.step_of(pour.ingredient, pour.volume_ml)
    reach = STEPS_EACH_WAY * step
    near = lattice.between(pour.ingredient, was - reach, was + reach)
    choices = np.unique(np.round(np.append(near, was), 6))
    return Line(pour.ingredient, choices, round(was, 6), step, LINE_COST, STEP_COST)


def _miss(difference: Vector, tolerance: float) -> Vector:
    tolerances = np.abs(difference) / tolerance
    return np.asarray(NEAR_COST * tolerances**2 + OUT_COST * np.maximum(tolerances - 1.0, 0.0) ** 2)


def _along(values: Vector, axis: int, axes: int) -> Vector:
    return values.reshape([-1 if i == axis else 1 for i in range(axes)])
