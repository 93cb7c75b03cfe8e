"""The search finds what looking at every drink finds, on any shelf, whatever is asked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.counter.known import Known
from service.ingredients.records import Role
from service.kit import CannotCompose
from service.kit.jigger import JiggerStep
from service.recommend.compose import (
    Bottle,
    ComposeWeights,
    Limits,
    Measures,
    Problem,
    Shape,
    Variety,
    compose,
)
from tests.recommend.compose.by_hand import answer_by_hand, told
from tests.recommend.compose.conftest import BAR, MakeProblem

LIMIT = 4
NOTES = ("dark chocolate, dried cherry", "jasmine, bergamot", "hazelnut, caramel", "")


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    """Everything that a person can set, on a shelf small enough to work out."""
    # Never nothing: where nothing counts all is a tie, and between equals any order is right.
    amount = st.floats(0.05, 2.0, allow_nan=False)
    return {
        "seed": draw(st.integers(0, 10_000)),
        "sizes": {
            Role.BASE: draw(st.integers(1, 3)),
            Role.MODIFIER: draw(st.integers(1, 3)),
            Role.BITTERS: draw(st.integers(0, 2)),
            Role.SWEETENER: draw(st.integers(0, 1)),
            Role.SEASONING: draw(st.integers(0, 1)),
        },
        "notes": draw(st.sampled_from(NOTES)),
        "doses_g": draw(st.sampled_from([(15.0,), (12.0, 13.0), (10.0, 15.0, 20.0)])),
        "measures": Measures(
            step=draw(st.sampled_from(JiggerStep)),
            base_ml=(45.0, draw(st.sampled_from([45.0, 60.0]))),
            modifier_ml=(5.0, draw(st.sampled_from([7.5, 22.5]))),
            dashes=(1, draw(st.integers(1, 2))),
        ),
        "shape": Shape(
            modifiers=draw(st.sampled_from([(1, 1), (1, 2), (2, 2)])),
            bitters=draw(st.sampled_from([(0, 0), (0, 2), (1, 1)])),
        ),
        "limits": Limits(
            most_abv=draw(st.sampled_from([1.0, 0.26])),
            most_caffeine_mg=draw(st.sampled_from([None, 100.0])),
            most_cost=draw(st.sampled_from([None, 3.0])),
            least_balance=draw(st.sampled_from([0.0, 0.3])),
        ),
        "variety": Variety(draw(st.booleans()), draw(st.sampled_from([None, 1, 2]))),
        "weights": ComposeWeights(*(draw(amount) for _ in range(6))),
    }


def problem_of(known: Known, make: MakeProblem, asked: dict[str, Any]) -> Problem:
    random = np.random.default_rng(asked["seed"])
    bottles = []
    for role, count in asked["sizes"].items():
        every = known.catalogue.of_role(role)
        for place in random.choice(len(every), count, replace=False):
            bottles.append(
                Bottle(
                    every[place],
                    price_per_ml=float(random.uniform(0.01, 0.08)),
                    stock_ml=None if random.random() < 0.8 else float(random.uniform(0, 60)),
                    liking=float(random.uniform(-1, 1)),
                )
            )
    specs = (frozenset(b.ingredient.id for b in bottles[:2]), frozenset({"bourbon", "curacao"}))
    rest = {k: v for k, v in asked.items() if k not in ("seed", "sizes", "notes")}
    return make((), asked["notes"], shelf=tuple(bottles), house_specs=specs, **rest)


def test_the_search_finds_what_looking_at_every_drink_finds(
    known: Known, problem: MakeProblem
) -> None:
    @settings(max_examples=60, deadline=None)
    @given(asked=questions())
    def agree(asked: dict[str, Any]) -> None:
        assert_same_answer(problem_of(known, problem, asked))

    agree()


def assert_same_answer(question: Problem) -> None:
    by_hand = answer_by_hand(question, LIMIT)
    try:
        found = told(compose(question, limit=LIMIT))
    except CannotCompose:
        found = []
    assert [score for score, *_ in found] == pytest.approx([d.score for d in by_hand], abs=1e-9)
    scores = [d.score for d in by_hand]
    for place, (drink, (_, pours, dose)) in enumerate(zip(by_hand, found, strict=True)):
        alone = all(abs(drink.score - s) > 1e-7 for i, s in enumerate(scores) if i != place)
        if alone:  # between equals any order is right
            assert pours == frozenset(drink.pours)
            assert dose == drink.dose_g


@pytest.mark.parametrize("variety", [Variety(), Variety(True, None), Variety(False, 1)])
def test_enumeration_by_the_service_and_search_agree(
    problem: MakeProblem, variety: Variety
) -> None:
    question = problem(BAR[1:4] + BAR[5:9] + BAR[12:15], variety=variety)
    searched = compose(question, limit=8)
    enumerated = compose(question, limit=8, every=True)
    assert told(searched) == told(enumerated)
    assert enumerated.certificate.drinks == enumerated.certificate.candidates
    assert searched.certificate.drinks < enumerated.certificate.drinks / 20


def test_the_order_of_the_shelf_does_not_matter(problem: MakeProblem) -> None:
    question = problem(BAR)
    turned = replace(question, shelf=tuple(reversed(question.shelf)))
    assert told(compose(question)) == told(compose(turned))


def test_the_same_question_has_the_same_answer(problem: MakeProblem) -> None:
    question = problem(BAR)
    assert told(compose(question)) == told(compose(question))


def test_the_certificate_bounds_everything_left_out(problem: MakeProblem) -> None:
    question = problem(BAR)
    short, longer = compose(question, limit=3), compose(question, limit=9)
    assert short.certificate.bound is not None
    assert short.certificate.proved
    assert longer.drinks[:3] == short.drinks
    assert longer.drinks[3].score <= short.certificate.bound + 1e-9
    assert short.certificate.groups_opened <= short.certificate.groups


def test_candidates_are_counted_as_a_person_would(problem: MakeProblem) -> None:
    """2 bases at 5 amounts, 2 modifiers at 4: 2 x 5 x (2 x 4 + 4 x 4) bodies; one bitters at 1 to 3
    dashes or none: 4 finishes."""
    question = problem(("bourbon", "cognac", "sweet-vermouth", "curacao", "orange-bitters"))
    bodies = 2 * 5 * (2 * 4 + 4 * 4)
    assert compose(question).certificate.candidates == bodies * 4
