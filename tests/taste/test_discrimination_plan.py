"""Serving plans: balanced, drawn by lot, coded; answers counted; sittings kept small."""

from __future__ import annotations

import json
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.kit import BadData, OutOfRange
from service.taste import Method, ReferenceGlass, count_answers, plan_blind_test, sitting

# ISO 4120 names six orders of a triangle, ISO 10399 four of a balanced and two of a constant
# duo-trio, ISO 5495 two of a pair.
ORDERS = {Method.TRIANGLE: 6, Method.DUO_TRIO: 4, Method.PAIRED: 2}
methods = st.sampled_from(list(Method))


def orders_of(plan) -> Counter:
    return Counter(tuple(g.sample for g in serving.glasses) for serving in plan.servings)


@settings(max_examples=60, deadline=None)
@given(method=methods, assessors=st.integers(1, 80), seed=st.integers(0, 2**32))
def test_every_order_is_poured_as_often_as_any_other(method, assessors, seed):
    counts = orders_of(plan_blind_test(method, assessors, seed=seed))
    every = [counts[order] for order in counts] + [0] * (ORDERS[method] - len(counts))
    assert len(every) == ORDERS[method]
    assert max(every) - min(every) <= 1


def test_the_six_orders_of_a_triangle():
    """ISO 4120: ABB, BAA, AAB, BBA, ABA, BAB."""
    counts = orders_of(plan_blind_test(Method.TRIANGLE, 18, seed=1))
    assert {"".join(order) for order in counts} == {"ABB", "BAA", "AAB", "BBA", "ABA", "BAB"}
    assert set(counts.values()) == {3}


def test_a_constant_reference_shows_the_first_sample_alone():
    plan = plan_blind_test(Method.DUO_TRIO, 10, seed=1, reference=ReferenceGlass.FIRST)
    assert {serving.glasses[0].sample for serving in plan.servings} == {"A"}
    assert orders_of(plan) == {("A", "A", "B"): 5, ("A", "B", "A"): 5}
    balanced = plan_blind_test(Method.DUO_TRIO, 12, seed=1)
    shown = Counter(serving.glasses[0].sample for serving in balanced.servings)
    assert shown == {"A": 6, "B": 6}


@settings(max_examples=40, deadline=None)
@given(method=methods, assessors=st.integers(1, 400), seed=st.integers(0, 2**32))
def test_codes_are_three_digits_and_never_twice_before_one_taster(method, assessors, seed):
    plan = plan_blind_test(method, assessors, seed=seed)
    used = []
    for serving in plan.servings:
        codes = [g.code for g in serving.glasses if not g.is_reference]
        assert len(set(codes)) == len(codes)
        assert all(len(code) == 3 and code.isdigit() and code[0] != "0" for code in codes)
        used += codes
    if len(used) <= 600:
        assert len(set(used)) == len(used)


def test_the_same_seed_gives_the_same_plan_and_another_another():
    first, again, other = (plan_blind_test(Method.TRIANGLE, 24, seed=s) for s in (5, 5, 6))
    assert first == again
    assert first.sheet() != other.sheet()


def test_the_right_code_is_that_of_the_odd_the_like_and_the_stronger_glass():
    for method in Method:
        for serving in plan_blind_test(method, 24, seed=9).servings:
            poured = Counter(g.sample for g in serving.glasses if not g.is_reference)
            right = next(g for g in serving.glasses if g.code == serving.right)
            if method is Method.TRIANGLE:
                assert poured[right.sample] == 1
            elif method is Method.DUO_TRIO:
                assert right.sample == serving.glasses[0].sample
            else:
                assert right.sample == "A"


def test_the_order_tells_nothing_of_the_answer():
    """The right glass stands in each place equally often."""
    for method in Method:
        plan = plan_blind_test(method, 120, seed=2)
        places = Counter(
            [g.code for g in serving.glasses if not g.is_reference].index(serving.right)
            for serving in plan.servings
        )
        assert len(set(places.values())) == 1, method


def test_tasters_see_codes_and_the_pourer_samples():
    plan = plan_blind_test(Method.TRIANGLE, 6, seed=1, samples=("with salt", "without"))
    assert "salt" not in json.dumps(plan.slips())
    assert "salt" in json.dumps(plan.sheet())
    assert sum(plan.glasses.values()) == 18
    assert plan.glasses == {"with salt": 9, "without": 9}


def test_a_paired_test_asks_for_its_attribute():
    plan = plan_blind_test(Method.PAIRED, 4, seed=1, attribute="sweetness")
    assert plan.question.endswith("more sweetness?")


def test_answers_are_counted_and_slips_of_the_pen_named():
    plan = plan_blind_test(Method.TRIANGLE, 6, seed=4)
    answers = {serving.seat: serving.right for serving in plan.servings}
    assert count_answers(plan, answers).correct == 6
    answers[2] = "000"
    wrong = next(g.code for g in plan.servings[2].glasses if g.code != plan.servings[2].right)
    answers[3] = f" {wrong} "
    del answers[6]
    counted = count_answers(plan, answers)
    assert (counted.correct, counted.assessors, counted.unread) == (3, 4, (2,))
    with pytest.raises(BadData, match="not in the plan"):
        count_answers(plan, {7: "123"})


def test_the_reference_itself_is_no_answer():
    plan = plan_blind_test(Method.DUO_TRIO, 1, seed=4)
    assert count_answers(plan, {1: "R"}).unread == (1,)


def test_guessing_tasters_are_right_as_often_as_chance_has_it():
    rng = np.random.default_rng(6)
    for method, chance in ((Method.TRIANGLE, 1 / 3), (Method.DUO_TRIO, 1 / 2)):
        plan = plan_blind_test(method, 1000, seed=3)
        guesses = {
            s.seat: str(rng.choice([g.code for g in s.glasses if not g.is_reference]))
            for s in plan.servings
        }
        counted = count_answers(plan, guesses)
        assert counted.correct / counted.assessors == pytest.approx(chance, abs=0.05)


@pytest.mark.parametrize("assessors", [0, 1001])
def test_a_plan_has_seats(assessors):
    with pytest.raises(OutOfRange):
        plan_blind_test(Method.PAIRED, assessors, seed=1)


def test_two_drinks_need_two_names():
    with pytest.raises(BadData):
        plan_blind_test(Method.PAIRED, 4, seed=1, samples=("x", "x"))


def test_a_sitting_stays_within_one_standard_drink():
    """10 g: the standard drink of the World Health Organization. 15 mL at 24 % vol hold 2.84 g."""
    triangle = sitting(Method.TRIANGLE, ethanol_g_per_glass=2.84)
    assert (triangle.glasses, triangle.tests) == (3, 1)
    assert triangle.ethanol_g <= 10.0
    paired = sitting(Method.PAIRED, ethanol_g_per_glass=1.5)
    assert (paired.glasses, paired.tests) == (6, 3)
    assert any("local law" in caution.lower() for caution in triangle.cautions)


def test_a_full_glass_is_too_much_for_a_test():
    full = sitting(Method.TRIANGLE, ethanol_g_per_glass=20.0)
    assert (full.tests, full.ethanol_g) == (0, 0.0)
    assert any("pour less" in caution for caution in full.cautions)


def test_caffeine_limits_a_sitting_too():
    """200 mg at once: EFSA 2015."""
    strong = sitting(Method.TRIANGLE, ethanol_g_per_glass=0.5, caffeine_mg_per_glass=60.0)
    assert strong.glasses == 3
    assert strong.caffeine_mg <= 200.0
    assert any("sober" in caution for caution in strong.cautions)


@given(
    method=methods,
    ethanol=st.floats(0, 100),
    caffeine=st.floats(0, 1000),
)
def test_no_sitting_goes_over_its_limits(method, ethanol, caffeine):
    asked = sitting(method, ethanol_g_per_glass=ethanol, caffeine_mg_per_glass=caffeine)
    assert asked.ethanol_g <= 10.0 + 1e-6
    assert asked.caffeine_mg <= 200.0 + 1e-6
    assert asked.glasses <= 6
    assert asked.cautions
