"""Penalties against a regression and a textbook test; answers off the scale are turned away."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from service.kit import BadData
from service.taste import Attribute, Percept, Tasting, penalties

A_DRINK = Percept(4.0, 3.5, 1.0, 0.0, 21.0)
RNG = np.random.default_rng(11)
ANSWERS = RNG.choice([-2, -1, 0, 1, 2], size=80, p=[0.02, 0.08, 0.5, 0.3, 0.1])
LIKINGS = 7.4 - 1.3 * ANSWERS.clip(0) + 0.4 * ANSWERS.clip(None, 0) + RNG.normal(0, 1, 80)
SAID = [
    Tasting(str(i), "ab", A_DRINK, sweetness=int(answer), liking=int(np.clip(liking, 1, 9)))
    for i, (answer, liking) in enumerate(zip(ANSWERS, LIKINGS, strict=True))
]


def sweetness(too_much: bool):
    return next(
        p for p in penalties(SAID) if p.attribute is Attribute.SWEETNESS and p.too_much is too_much
    )


def test_drops_are_the_coefficients_of_a_regression_on_the_two_sides():
    """Ordinary least squares by numpy: liking on "too little" and "too much"."""
    answers = np.array([t.sweetness for t in SAID])
    sides = np.column_stack([np.ones(len(SAID)), answers < 0, answers > 0]).astype(float)
    likings = np.array([t.liking for t in SAID], dtype=float)
    fitted, *_ = np.linalg.lstsq(sides, likings, rcond=None)
    assert sweetness(False).drop == pytest.approx(-fitted[1])
    assert sweetness(True).drop == pytest.approx(-fitted[2])


def test_drop_over_error_is_welchs_t():
    """scipy.stats: the t test of unequal variances."""
    right = [t.liking for t in SAID if t.sweetness == 0]
    off = [t.liking for t in SAID if t.sweetness > 0]
    found = sweetness(True)
    expected = stats.ttest_ind(right, off, equal_var=False).statistic
    assert found.drop / found.error == pytest.approx(expected)
    assert (found.people, found.just_right) == (len(off), len(right))
    assert found.share == pytest.approx(len(off) / len(SAID))


def test_only_a_side_that_many_take_and_like_less_is_worth_acting_on():
    assert sweetness(True).worth_acting
    assert sweetness(False).share < 0.2
    assert not sweetness(False).worth_acting


def test_what_nobody_answered_has_no_drop():
    for penalty in penalties([Tasting("1", "ab", A_DRINK, bitterness=1, liking=4)]):
        assert penalty.drop is None
        assert not penalty.worth_acting
    assert penalties([])[0].share == 0.0


def test_an_answer_without_a_liking_tells_nothing_of_liking():
    assert all(p.people == 0 for p in penalties([Tasting("1", "ab", A_DRINK, sweetness=2)]))


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"sweetness": 3}, "sweetness"),
        ({"coffee_strength": -3}, "coffee_strength"),
        ({"liking": 0}, "liking"),
        ({"liking": 10}, "liking"),
        ({"coffee_qhe_share": 1.5}, "coffee_qhe_share"),
    ],
)
def test_answers_off_the_scale_are_turned_away(said, field):
    with pytest.raises(BadData) as error:
        Tasting("1", "ab", A_DRINK, **said)
    assert error.value.field == field
