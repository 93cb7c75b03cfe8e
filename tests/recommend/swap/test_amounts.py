"""New amounts: worked out by hand, and against trying everything in plain loops."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest

from service.counter.known import Known
from service.drink import Pour
from service.drink.lattice import FIVE_ML
from service.recommend.swap import TOLERANCES, Measure
from service.recommend.swap.amounts import (
    NEAR_COST,
    OUT_COST,
    VOLUME_TOLERANCE_SHARE,
    Line,
    Target,
    best_amounts,
    moves_of,
    other_lines,
    own_line,
)


def target_of(pours: list[Pour], coffee_qhe: float = 0.0) -> Target:
    """The glass of pours with a quarter of water, reckoned by plain sums."""
    volume = sum(p.volume_ml for p in pours)
    adds = {m: coffee_qhe if m is Measure.BITTERNESS else 0.0 for m in Measure}
    glass = {
        m: 0.8 * 1000 * sum(m.per_ml(p.ingredient) * p.volume_ml for p in pours) / volume + adds[m]
        for m in Measure
    }
    return Target(glass, volume, 0.8, adds)


def test_a_syrup_of_twice_the_sugar_is_poured_at_about_two_thirds(known: Known) -> None:
    """By hand: 7.5 mL at 615 g/L hold 4.6 g of sugar; 5 mL at 885 g/L hold 4.4 g."""
    i = known.catalogue.ingredients
    pours = [Pour(i["bourbon"], 60), Pour(i["simple-syrup"], 7.5), Pour(i["aromatic-bitters"], 1.6)]
    own = own_line(i["rich-syrup"], i["simple-syrup"], 7.5, FIVE_ML)
    rest = [pours[0], pours[2]]
    moves = moves_of(other_lines(rest, [], FIVE_ML))
    instead, others = best_amounts([], [own], moves, target_of(pours))
    assert instead == [5.0]
    assert others == pytest.approx([60, 1.6])


def test_the_same_bottle_again_moves_nothing(known: Known) -> None:
    i = known.catalogue.ingredients
    pours = [Pour(i["cognac"], 45), Pour(i["curacao"], 15), Pour(i["orange-bitters"], 0.8)]
    own = own_line(i["curacao"], i["curacao"], 15, FIVE_ML)
    moves = moves_of(other_lines([pours[0], pours[2]], [], FIVE_ML))
    instead, others = best_amounts([], [own], moves, target_of(pours))
    assert instead == [15.0]
    assert others == pytest.approx([45, 0.8])


def test_at_most_two_other_lines_move(known: Known) -> None:
    i = known.catalogue.ingredients
    rest = [Pour(i["bourbon"], 45), Pour(i["sweet-vermouth"], 20), Pour(i["simple-syrup"], 5),
            Pour(i["aromatic-bitters"], 1.6)]  # fmt: skip
    moves = moves_of(other_lines(rest, [i["citric-solution"]], FIVE_ML))
    still = [line.was_ml for line in moves.lines]
    moved = (np.abs(moves.amounts - still) > 1e-9).sum(axis=1)
    assert moved.max() == 2
    assert moved[0] == 0


@pytest.mark.parametrize(
    ("missing", "replacement"),
    [("green-herb-liqueur", "pine-liqueur"), ("green-herb-liqueur", "vanilla-anise-liqueur"),
     ("sweet-vermouth", "px-sherry"), ("sweet-vermouth", "fino-sherry")],
)  # fmt: skip
def test_no_other_amounts_cost_less(known: Known, missing: str, replacement: str) -> None:
    """Against every combination, one by one, in plain arithmetic."""
    i = known.catalogue.ingredients
    kept = [Pour(i["cognac"], 45), Pour(i["aromatic-bitters"], 0.8)]
    target = target_of([*kept, Pour(i[missing], 15)], coffee_qhe=11.0)
    own = own_line(i[replacement], i[missing], 15, FIVE_ML)
    others = other_lines(kept, [i["simple-syrup"]], FIVE_ML)
    instead, found = best_amounts([], [own], moves_of(others), target)
    cheapest = min(
        _cost([own, *others], [amount, *setting], target)
        for amount in own.choices
        for setting in _settings(others)
    )
    assert _cost([own, *others], [*instead, *found], target) == pytest.approx(cheapest, abs=1e-9)


def _settings(lines: list[Line]) -> list[list[float]]:
    found = [[line.was_ml for line in lines]]
    for size in (1, 2):
        for chosen in combinations(range(len(lines)), size):
            for amounts in product(*(lines[k].choices for k in chosen)):
                setting = list(found[0])
                for k, amount in zip(chosen, amounts, strict=True):
                    setting[k] = float(amount)
                found.append(setting)
    return found


def _cost(lines: list[Line], amounts: list[float], target: Target) -> float:
    volume = sum(amounts)
    cost = 0.0
    for line, amount in zip(lines, amounts, strict=True):
        moved = abs(amount - line.was_ml)
        if moved > 1e-9:
            cost += line.line_cost + line.step_cost * moved / line.step_ml
    for measure in Measure:
        total = sum(
            measure.per_ml(line.ingredient) * amount
            for line, amount in zip(lines, amounts, strict=True)
        )
        glass = 1000 * total / volume * target.glass_per_poured + target.coffee_adds[measure]
        tolerance = TOLERANCES[measure].around(target.glass[measure])
        cost += _missed(glass - target.glass[measure], tolerance)
    return cost + _missed(volume - target.poured_ml, VOLUME_TOLERANCE_SHARE * target.poured_ml)


def _missed(difference: float, tolerance: float) -> float:
    tolerances = abs(difference) / tolerance
    return NEAR_COST * tolerances**2 + OUT_COST * max(tolerances - 1, 0) ** 2
