"""Swaps against what the trade accepts.

`substitutions.csv` is ours, common practice without a source, written before the table of jobs was
tuned; it is split in two by every other row in order of id. The same hand wrote the table of jobs,
so the held-out half says that the two agree, not that either is right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import pytest

from service.counter.known import Known
from service.ingredients.records import Role
from service.recommend.swap import SWAP_WEIGHTS, SwapKnowledge, SwapWeights, stand_ins
from tests.recommend.swap.conftest import Substitution

BEST_FIVE, LIST = 5, 10


@lru_cache(maxsize=4096)
def ranked(replacing: SwapKnowledge, missing: str, weights: SwapWeights) -> list[str]:
    found = stand_ins(replacing, missing, limit=LIST, weights=weights)
    return [one.ingredient for one in found.options]


def recall(
    replacing: SwapKnowledge, rows: Sequence[Substitution], weights: SwapWeights = SWAP_WEIGHTS
) -> float:
    """Mean share of the accepted ones (at most five of them) among the best five."""
    shares = [
        len(row.accepted & set(ranked(replacing, row.missing, weights)[:BEST_FIVE]))
        / min(BEST_FIVE, len(row.accepted))
        for row in rows
    ]
    return sum(shares) / len(shares)


def test_the_list_holds_at_least_sixty_rows_of_known_bottles(
    known: Known, substitutions: list[Substitution]
) -> None:
    assert len(substitutions) >= 60
    assert len({row.missing for row in substitutions}) == len(substitutions)
    for row in substitutions:
        named = {row.missing, *row.accepted, *row.clearly_wrong}
        assert named <= known.catalogue.ingredients.keys(), row.missing
        assert not row.accepted & row.clearly_wrong
        assert row.missing not in row.accepted | row.clearly_wrong


def test_the_list_covers_nearly_every_style(
    known: Known, substitutions: list[Substitution]
) -> None:
    ingredients = known.catalogue.ingredients
    styles = {(i.role, i.style) for i in ingredients.values() if i.role is not Role.COFFEE}
    told = {(ingredients[r.missing].role, ingredients[r.missing].style) for r in substitutions}
    assert len(told) >= 0.8 * len(styles)


def test_the_halves_are_every_other_row(substitutions: list[Substitution]) -> None:
    by_id = sorted(substitutions, key=lambda row: row.missing)
    halves = [row.half for row in by_id]
    assert halves == ["tuning" if n % 2 == 0 else "held-out" for n in range(len(halves))]


@pytest.mark.parametrize("half", ["tuning", "held-out"])
def test_what_the_trade_accepts_is_among_the_best_five(
    replacing: SwapKnowledge, substitutions: list[Substitution], half: str
) -> None:
    rows = [row for row in substitutions if row.half == half]
    assert recall(replacing, rows) >= 0.8


def test_what_is_clearly_wrong_is_never_on_the_list(
    replacing: SwapKnowledge, substitutions: list[Substitution]
) -> None:
    for row in substitutions:
        listed = set(ranked(replacing, row.missing, SWAP_WEIGHTS))
        assert not listed & row.clearly_wrong, row.missing


def test_every_missing_bottle_of_the_list_has_a_way_out(
    replacing: SwapKnowledge, substitutions: list[Substitution]
) -> None:
    for row in substitutions:
        best = ranked(replacing, row.missing, SWAP_WEIGHTS)[:BEST_FIVE]
        assert row.accepted & set(best), row.missing


def test_it_beats_aroma_alone_by_far(
    replacing: SwapKnowledge, substitutions: list[Substitution]
) -> None:
    """A bottle that smells alike is not yet one that does the same in a drink."""
    aroma_alone = SwapWeights(job=0.0, role=0.0, aroma=1.0, composition=0.0, usage=0.0)
    assert recall(replacing, substitutions) >= recall(replacing, substitutions, aroma_alone) + 0.2


@pytest.mark.parametrize("part", ["job", "role", "aroma", "composition", "usage"])
@pytest.mark.parametrize("factor", [0.5, 1.5])
def test_half_as_much_or_half_more_of_any_weight_still_holds(
    replacing: SwapKnowledge, substitutions: list[Substitution], part: str, factor: float
) -> None:
    changed = replace(SWAP_WEIGHTS, **{part: factor * getattr(SWAP_WEIGHTS, part)})
    total = sum(changed.as_json().values())
    weights = SwapWeights(**{name: value / total for name, value in changed.as_json().items()})
    held_out = [row for row in substitutions if row.half == "held-out"]
    assert recall(replacing, held_out, weights) >= 0.8


def test_weights_sum_to_one() -> None:
    assert sum(SWAP_WEIGHTS.as_json().values()) == pytest.approx(1.0, abs=1e-12)
