"""Where nothing fits, the person hears why, and what to put on the shelf."""

from __future__ import annotations

from typing import Any

import pytest

from service.counter.known import Known
from service.kit import CannotCompose
from service.recommend.compose import Bottle, Limits, compose
from tests.recommend.compose.conftest import BAR, MakeProblem

CASES: list[tuple[dict[str, Any], str, tuple[str, ...]]] = [
    ({"most_abv": 0.08}, "most_abv", ("0 to 8 % vol", "without that limit has")),
    ({"most_cost": 0.1}, "most_cost", ("at most 0.1", "costs")),
    ({"most_caffeine_mg": 10.0}, "most_caffeine_mg", ("at most 10 mg", "less coffee")),
    ({"least_balance": 0.99}, "least_balance", ("0.99",)),
    ({"least_glass_ml": 200.0, "most_glass_ml": 300.0}, "least_glass_ml", ("200 to 300 mL",)),
    ({"must": frozenset({"absinthe"})}, "must", ("absinthe", "not on the shelf")),
    ({"must": frozenset({"bourbon", "cognac"})}, "must", ("2 of base spirit", "room for 1")),
    ({"must": frozenset({"curacao"}), "most_abv": 0.08}, "most_abv", ("8 % vol",)),
]


@pytest.mark.parametrize(("asked", "field", "words"), CASES)
def test_the_limit_that_cannot_be_kept_is_named(
    problem: MakeProblem, asked: dict[str, Any], field: str, words: tuple[str, ...]
) -> None:
    question = problem(BAR, limits=Limits(**asked))
    shelf = tuple(Bottle(b.ingredient, price_per_ml=0.03) for b in question.shelf)
    with pytest.raises(CannotCompose) as refused:
        compose(problem((), shelf=shelf, limits=Limits(**asked)))
    assert refused.value.field == field
    for word in words:
        assert word in refused.value.message


def test_a_missing_role_is_named_with_what_to_add(known: Known, problem: MakeProblem) -> None:
    beyond = [known.catalogue.ingredients[i] for i in ("bourbon", "vodka")]
    with pytest.raises(CannotCompose) as refused:
        compose(problem(("sweet-vermouth", "orange-bitters")), beyond=beyond)
    assert "0 of base spirit" in refused.value.message
    assert "add bourbon" in refused.value.message


def test_what_to_add_does_make_a_drink_possible(known: Known, problem: MakeProblem) -> None:
    """No modifier without sulphites on the shelf: one that is free of them is proposed, and
    fits."""
    ids = ("cognac", "oloroso-sherry", "sweet-vermouth")
    limits = Limits(without_allergens=frozenset({"sulphites"}))
    beyond = [known.catalogue.ingredients[i] for i in ("dry-vermouth", "curacao", "bourbon")]
    with pytest.raises(CannotCompose) as refused:
        compose(problem(ids, limits=limits), beyond=beyond)
    assert "it holds sulphites" in refused.value.message
    name = known.catalogue.ingredients["curacao"].name
    assert f"add {name} to the shelf" in refused.value.message
    assert compose(problem((*ids, "curacao"), limits=limits)).drinks


def test_two_limits_that_only_together_forbid_are_both_named(problem: MakeProblem) -> None:
    limits = Limits(most_abv=0.12, most_caffeine_mg=10.0)
    with pytest.raises(CannotCompose) as refused:
        compose(problem(BAR, limits=limits))
    assert "% vol" in refused.value.message
    assert "caffeine" in refused.value.message


def test_an_empty_bottle_is_no_bottle(problem: MakeProblem) -> None:
    question = problem(("bourbon", "sweet-vermouth"))
    shelf = (question.shelf[0], Bottle(question.shelf[1].ingredient, stock_ml=2.0))
    with pytest.raises(CannotCompose) as refused:
        compose(problem((), shelf=shelf))
    assert "too little is in stock" in refused.value.message
