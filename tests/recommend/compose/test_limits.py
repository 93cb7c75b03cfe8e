"""What is asked is kept, told by readings and labels and not by the search itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from service.counter.known import Known
from service.drink import read
from service.ingredients.records import Role
from service.kit import BadData, OutOfRange
from service.kit.jigger import JiggerStep
from service.recommend.compose import (
    FREE_DOSES_G,
    Bottle,
    Composed,
    Limits,
    Measures,
    Problem,
    ScorePart,
    Shape,
    Variety,
    compose,
)
from tests.recommend.compose.conftest import BAR, MakeProblem


def bottles(drink: Composed) -> list[str]:
    return [pour.ingredient.id for pour in drink.drink.pours]


def priced(question: Problem, **changes: dict[str, float]) -> Problem:
    """The same shelf with a price for each bottle, and other changes by id."""
    shelf = []
    for place, bottle in enumerate(question.shelf):
        bottle = replace(bottle, price_per_ml=0.02 + 0.002 * place)
        shelf.append(replace(bottle, **changes.get(bottle.ingredient.id, {})))
    return replace(question, shelf=tuple(shelf))


def test_strength_is_kept_by_the_reading(known: Known, problem: MakeProblem) -> None:
    question = problem(BAR, limits=Limits(least_abv=0.17, most_abv=0.19))
    for drink in compose(question, limit=6).drinks:
        strength = read(drink.drink, known.band, draws=200, priors=known.priors).after.abv.mid
        assert 0.169 <= strength <= 0.191


def test_caffeine_is_kept_by_the_high_end_of_the_reading(
    known: Known, problem: MakeProblem
) -> None:
    question = problem(BAR, doses_g=FREE_DOSES_G, limits=Limits(most_caffeine_mg=75.0))
    for drink in compose(question, limit=6).drinks:
        caffeine = read(drink.drink, known.band, draws=1000, priors=known.priors).after.caffeine_mg
        assert caffeine.high <= 75.0 * 1.03
        assert drink.caffeine_mg <= 75.0


def test_volume_is_kept_by_the_reading(known: Known, problem: MakeProblem) -> None:
    question = problem(BAR, limits=Limits(least_glass_ml=80.0, most_glass_ml=90.0))
    for drink in compose(question, limit=6).drinks:
        volume = read(drink.drink, known.band, draws=200, priors=known.priors).after.volume_ml.mid
        assert 79.5 <= volume <= 90.5


def test_cost_is_kept_and_counted_from_the_pours(problem: MakeProblem) -> None:
    question = priced(problem(BAR, limits=Limits(most_cost=2.0)))
    price = {b.ingredient.id: b.price_per_ml or 0.0 for b in question.shelf}
    for drink in compose(question, limit=6).drinks:
        cost = sum(price[p.ingredient.id] * p.volume_ml for p in drink.drink.pours)
        assert drink.cost == pytest.approx(cost)
        assert cost <= 2.0


def test_an_allergen_left_out_is_in_no_bottle(problem: MakeProblem) -> None:
    question = problem((*BAR, "almond-liqueur"), limits=Limits(without_allergens=frozenset({
        "sulphites", "nuts"})))  # fmt: skip
    for drink in compose(question).drinks:
        for pour in drink.drink.pours:
            assert not pour.ingredient.allergens & {"sulphites", "nuts"}


def test_what_must_be_in_is_in_and_what_must_not_is_out(problem: MakeProblem) -> None:
    limits = Limits(
        must=frozenset({"curacao", "orange-bitters", "saline"}), must_not=frozenset({"cognac"})
    )
    found = compose(problem(BAR, limits=limits)).drinks
    assert found
    for drink in found:
        assert limits.must <= set(bottles(drink))
        assert "cognac" not in bottles(drink)


def test_no_more_is_poured_than_is_in_stock(problem: MakeProblem) -> None:
    short = {"cognac": {"stock_ml": 40.0}, "tawny-port": {"stock_ml": 16.0},
             "curacao": {"stock_ml": 3.0}}  # fmt: skip
    question = priced(problem(BAR), **short)
    for drink in compose(question, limit=20).drinks:
        for pour in drink.drink.pours:
            if pour.ingredient.id in short:
                assert pour.volume_ml <= short[pour.ingredient.id]["stock_ml"]


def test_balance_asked_for_is_given(problem: MakeProblem) -> None:
    for drink in compose(problem(BAR, limits=Limits(least_balance=0.9))).drinks:
        assert drink.balance >= 0.9


def test_the_shape_is_kept(problem: MakeProblem) -> None:
    shape = Shape(modifiers=(2, 2), bitters=(1, 1), sweetener=False, saline=False)
    for drink in compose(problem(BAR, shape=shape)).drinks:
        roles = [pour.ingredient.role for pour in drink.drink.pours]
        assert roles.count(Role.MODIFIER) == 2
        assert roles.count(Role.BITTERS) == 1
        assert Role.SWEETENER not in roles
        assert Role.SEASONING not in roles


@pytest.mark.parametrize("step", JiggerStep)
def test_amounts_lie_on_the_lattice(problem: MakeProblem, step: JiggerStep) -> None:
    measures = Measures(step=step)
    for drink in compose(problem(BAR, measures=measures)).drinks:
        for pour in drink.drink.pours:
            assert pour.volume_ml in measures.amounts_ml(pour.ingredient)


def test_a_free_dose_is_a_whole_gram_and_no_worse_than_a_fixed_one(problem: MakeProblem) -> None:
    fixed = compose(problem(BAR)).drinks[0]
    free = compose(problem(BAR, doses_g=FREE_DOSES_G)).drinks[0]
    assert free.drink.bed is not None
    assert free.drink.bed.dose_g in FREE_DOSES_G
    # The two forecasts are fitted apart: equal to the thousandth that they are true to.
    assert free.score >= fixed.score - 0.002


def test_no_two_drinks_share_base_and_modifier(problem: MakeProblem) -> None:
    found = compose(problem(BAR), limit=12).drinks
    pairs = [
        (d.drink.pours[0].ingredient.id, p.ingredient.id)
        for d in found
        for p in d.drink.pours
        if p.ingredient.role is Role.MODIFIER
    ]
    assert len(pairs) == len(set(pairs))


def test_no_bottle_is_in_more_drinks_than_asked(problem: MakeProblem) -> None:
    found = compose(problem(BAR, variety=Variety(most_per_bottle=2)), limit=8).drinks
    used = [
        p.ingredient.id
        for d in found
        for p in d.drink.pours
        if p.ingredient.role in (Role.BASE, Role.MODIFIER)
    ]
    assert max(used.count(i) for i in used) <= 2


def test_repeats_come_when_asked_for_but_never_the_same_bottles_twice(
    problem: MakeProblem,
) -> None:
    variety = Variety(repeat_pairs=True, most_per_bottle=None)
    found = compose(problem(BAR, variety=variety), limit=10).drinks
    sets = [frozenset(bottles(d)) for d in found]
    assert len(set(sets)) == 10
    assert [d.score for d in found] == sorted((d.score for d in found), reverse=True)
    assert found[9].score > compose(problem(BAR), limit=10).drinks[-1].score


def test_shares_sum_to_the_score(problem: MakeProblem) -> None:
    question = priced(
        problem(BAR, house_specs=(frozenset({"cognac", "tawny-port"}),)),
        cognac={"liking": 0.5},
    )
    for drink in compose(question).drinks:
        assert sum(s.amount for s in drink.shares) == pytest.approx(drink.score, abs=1e-9)
        assert sum(drink.parts.values()) == pytest.approx(drink.score, abs=1e-9)


def test_what_the_house_likes_comes_forward(problem: MakeProblem) -> None:
    plain = problem(BAR)
    keen = priced(plain, **{"aged-rum": {"liking": 1.0}, "cognac": {"liking": -1.0}})
    first = compose(keen, limit=1).drinks[0]
    assert "aged-rum" in bottles(first)
    assert first.parts[ScorePart.LIKING] > 0


def test_what_the_house_pours_already_is_less_new(problem: MakeProblem) -> None:
    """Half of the bottles of a drink of two shared with a drink of two: 1 of 3, so 2/3 new."""
    only = ("cognac", "tawny-port")
    specs = (frozenset({"cognac", "curacao"}),)
    drink = compose(problem(only, house_specs=specs), limit=1).drinks[0]
    assert drink.parts[ScorePart.NOVELTY] == pytest.approx(0.1 * 2 / 3)


def test_a_bottle_without_a_price_costs_the_middle_of_its_role_and_says_so(
    problem: MakeProblem,
) -> None:
    question = priced(problem(BAR), cognac={"price_per_ml": None})
    prices = [b.price_per_ml for b in question.shelf if b.ingredient.role is Role.BASE]
    drink = next(d for d in compose(question).drinks if "cognac" in bottles(d))
    assert drink.unpriced == ("cognac",)
    amount = {p.ingredient.id: p.volume_ml for p in drink.drink.pours}
    others = sum((b.price_per_ml or 0.0) * amount.get(b.ingredient.id, 0.0) for b in question.shelf)
    middle = float(np.median([p for p in prices if p is not None]))
    assert drink.cost == pytest.approx(others + amount["cognac"] * middle)


def test_questions_that_make_no_sense_are_turned_away(problem: MakeProblem) -> None:
    with pytest.raises(BadData):
        Limits(must=frozenset({"cognac"}), must_not=frozenset({"cognac"}))
    with pytest.raises(BadData):
        Shape(modifiers=(0, 3))
    with pytest.raises(OutOfRange):
        Bottle(problem(BAR).shelf[0].ingredient, liking=2.0)
    with pytest.raises(OutOfRange):
        problem(BAR, doses_g=(40.0,))
    with pytest.raises(BadData):
        problem((*BAR, BAR[0]))
    with pytest.raises(OutOfRange):
        compose(problem(BAR), limit=0)
