"""Blind tests against the standards' tables, published and worked apart from this code."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from service.kit import BadData, OutOfRange
from service.taste import (
    MOST_D_PRIME,
    Method,
    assessors_needed,
    d_prime,
    discriminators,
    fewest_correct,
    guess_share,
    judge_blind_test,
    p_value,
    power,
    share_correct,
)

ALPHAS = {
    "fewest_at_20_percent": 0.2,
    "fewest_at_10_percent": 0.1,
    "fewest_at_5_percent": 0.05,
    "fewest_at_1_percent": 0.01,
    "fewest_at_0_1_percent": 0.001,
}
# The rows worked apart give three levels, the published triangle four (none at 20 %).
GIVEN = {
    ("triangle", "read"): tuple(ALPHAS)[1:],
    ("duo-trio", "second-hand"): tuple(ALPHAS),
    ("triangle", "computed"): tuple(ALPHAS)[2:],
    ("duo-trio", "computed"): tuple(ALPHAS)[2:],
    ("paired", "computed"): tuple(ALPHAS)[2:],
}

methods = st.sampled_from(list(Method))


def test_every_critical_number_of_the_tables_is_met(published):
    """FAO Fisheries Technical Paper 348, Appendix A; ISO 10399, Table A.1; and binomial sums."""
    checked = {key: 0 for key in GIVEN}
    for row in published("discrimination_critical"):
        key = (row["test"], row["how"])
        for column in GIVEN[key]:
            found = fewest_correct(
                int(row["assessors"]),
                Method(row["test"]),
                alpha=ALPHAS[column],
                two_sided=row["sides"] == "2",
            )
            assert str(found or "") == row[column], (row, column)
            checked[key] += 1
    assert checked["triangle", "read"] == 44 * 4
    assert checked["duo-trio", "second-hand"] == 39 * 5
    assert min(checked.values()) >= 39


def test_p_and_d_prime_of_the_worked_examples(published):
    for row in published("discrimination_worked"):
        correct, assessors, method = int(row["correct"]), int(row["assessors"]), Method(row["test"])
        tolerance = 0.5 * 10.0 ** -len(row["p_value"].split(".")[1])
        found = p_value(correct, assessors, method)
        assert found == pytest.approx(float(row["p_value"]), abs=tolerance)
        assert d_prime(correct, assessors, method).mid == pytest.approx(
            float(row["d_prime"]), abs=1e-4
        )


def test_shares_right_by_d_prime(published):
    for row in published("discrimination_d_prime"):
        found = share_correct(float(row["d_prime"]), Method(row["test"]))
        assert found == pytest.approx(float(row["share_correct"]), abs=1e-5)


def test_shares_right_agree_with_tasters_drawn_by_lot():
    """Thurstone's model by its definition: normal impressions, the nearest two are alike."""
    rng = np.random.default_rng(8)
    apart = 1.5
    a, b = rng.standard_normal((2, 400_000)), rng.standard_normal((2, 400_000)) + apart
    pair = abs(a[0] - a[1])
    triangle = (pair < abs(a[0] - b[0])) & (pair < abs(a[1] - b[0]))
    duo_trio = abs(a[0] - a[1]) < abs(a[0] - b[0])
    paired = b[0] > a[0]
    for method, right in zip(Method, (triangle, duo_trio, paired), strict=True):
        assert right.mean() == pytest.approx(float(share_correct(apart, method)), abs=0.003)


def test_power_of_the_tables(published):
    for row in published("discrimination_power"):
        found = power(
            int(row["assessors"]),
            Method(row["test"]),
            discriminators=float(row["discriminators"]),
            alpha=float(row["alpha"]),
        )
        assert found == pytest.approx(float(row["power"]), abs=6e-5)


def test_assessors_for_a_wanted_power(published):
    for row in published("discrimination_assessors"):
        asked = {
            "discriminators": float(row["discriminators"]),
            "target_power": float(row["power"]),
            "alpha": float(row["alpha"]),
        }
        first = assessors_needed(Method(row["test"]), **asked, steady=False)
        assert first == int(row["first_assessors"])
        if row["steady_assessors"]:
            assert assessors_needed(Method(row["test"]), **asked) == int(row["steady_assessors"])


def test_a_steady_number_never_falls_short_above():
    needed = assessors_needed(Method.TRIANGLE, discriminators=0.4)
    assert all(power(n, Method.TRIANGLE, discriminators=0.4) >= 0.8 for n in range(needed, 200))
    assert power(needed - 1, Method.TRIANGLE, discriminators=0.4) < 0.8


@pytest.mark.parametrize("two_sided", [False, True])
def test_p_is_that_of_a_reference_library(two_sided):
    """scipy.stats.binomtest."""
    side = "two-sided" if two_sided else "greater"
    for correct in range(25):
        expected = stats.binomtest(correct, 24, 0.5, alternative=side).pvalue
        found = p_value(correct, 24, Method.PAIRED, two_sided=two_sided)
        assert found == pytest.approx(expected)


def test_eighty_percent_intervals_of_d_prime_hold_at_least_80_percent():
    """Clopper and Pearson 1934: never fewer than stated, whatever the truth."""
    rng = np.random.default_rng(3)
    for method in Method:
        for truth in (0.5, 1.5):
            right = float(share_correct(truth, method))
            counts = rng.binomial(24, right, 4000)
            intervals = {int(k): d_prime(int(k), 24, method) for k in set(counts)}
            held = np.mean([intervals[int(k)].contains(truth) for k in counts])
            assert held >= 0.78  # sampling error of 4 000 draws taken off


def test_no_more_than_chance_is_no_distance_and_all_right_has_an_end():
    assert d_prime(8, 24, Method.TRIANGLE).mid == 0.0
    assert discriminators(8, 24, Method.TRIANGLE).mid == 0.0
    everything = d_prime(24, 24, Method.TRIANGLE)
    assert everything.high == MOST_D_PRIME
    expected = 1.0 - 0.5 / 24
    assert share_correct(everything.mid, Method.TRIANGLE) == pytest.approx(expected)


@settings(max_examples=60, deadline=None)
@given(method=methods, assessors=st.integers(1, 120), data=st.data())
def test_more_right_answers_never_make_a_difference_less_likely(method, assessors, data):
    correct = data.draw(st.integers(0, assessors - 1))
    fewer, more = (judge_blind_test(k, assessors, method) for k in (correct, correct + 1))
    assert more.p_value <= fewer.p_value
    assert more.significant >= fewer.significant
    assert more.significant == (more.p_value <= 0.05)
    for name in ("d_prime", "discriminators"):
        assert getattr(more, name).mid >= getattr(fewer, name).mid
    assert 0.0 <= fewer.power <= 1.0


@given(method=methods, apart=st.floats(0.0, 6.0))
def test_the_further_apart_the_more_often_right(method, apart):
    right = float(share_correct(apart, method))
    assert guess_share(method) - 1e-9 <= right <= 1.0
    assert float(share_correct(apart + 0.5, method)) >= right


def test_two_sided_looks_at_both_samples():
    named_first, named_second = (
        judge_blind_test(k, 30, Method.PAIRED, two_sided=True) for k in (24, 6)
    )
    assert named_first.significant
    assert named_second.significant
    assert named_first.p_value == named_second.p_value
    assert not judge_blind_test(6, 30, Method.PAIRED).significant


def test_a_result_claims_no_more_than_it_shows():
    missed = judge_blind_test(6, 12, Method.TRIANGLE)
    assert "does not show that there is none" in missed.words
    assert missed.discriminators.high > 0.3
    assert "A difference was found" in judge_blind_test(19, 30, Method.TRIANGLE).words


def test_too_few_tasters_can_show_nothing():
    two = judge_blind_test(2, 2, Method.TRIANGLE)
    assert two.fewest_correct is None
    assert not two.significant
    assert two.power == 0.0


@pytest.mark.parametrize(
    ("call", "error"),
    [
        (lambda: p_value(5, 4, Method.TRIANGLE), OutOfRange),
        (lambda: p_value(-1, 4, Method.TRIANGLE), OutOfRange),
        (lambda: p_value(3, 4, Method.TRIANGLE, two_sided=True), BadData),
        (lambda: fewest_correct(20, Method.PAIRED, alpha=0.0), OutOfRange),
        (lambda: power(20, Method.PAIRED, discriminators=1.2), OutOfRange),
        (lambda: d_prime(0, 0, Method.PAIRED), OutOfRange),
        (lambda: share_correct(-0.1, Method.PAIRED), OutOfRange),
        (lambda: assessors_needed(Method.TRIANGLE, discriminators=0.001), BadData),
    ],
)
def test_what_cannot_be_is_turned_away(call, error):
    with pytest.raises(error):
        call()
