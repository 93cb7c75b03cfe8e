"""The grid against the textbook: normal prior, normal errors, and levels within levels."""

from __future__ import annotations

from itertools import permutations
from math import exp, log

import numpy as np
import pytest

from service.bed.belief import Belief, Finding
from service.bed.prior import Z90, Prior

PRIOR_SD = 0.5
PRIOR = Prior(2.0, 2.0 * exp(-Z90 * PRIOR_SD), 2.0 * exp(Z90 * PRIOR_SD), "1", "test")
SPREAD = Prior(0.2, 0.2, 0.2, "1", "known exactly")
OBSERVED = (0.9, 1.15, 0.8, 1.3)


def finding(value: float, coffee: str = "a", error: float = 0.1) -> Finding:
    values = Belief.before(PRIOR, SPREAD, 0.0).values
    return Finding(str(value), coffee, value, np.log(values), error, 1.0, exp(value))


def normal_interval(mean: float, sd: float) -> list[float]:
    return [exp(mean - Z90 * sd), exp(mean), exp(mean + Z90 * sd)]


def as_list(interval) -> list[float]:
    return [interval.low, interval.mid, interval.high]


def test_a_normal_prior_and_normal_errors_give_the_textbook_posterior():
    """Gelman et al. 2013, Bayesian Data Analysis, eq. 2.12: precisions add."""
    belief = Belief.before(PRIOR, SPREAD, 0.0)
    for value in OBSERVED:
        belief = belief.given(finding(value))
    precision_of_one = 1.0 / (0.2**2 + 0.1**2)
    precision = 1.0 / PRIOR_SD**2 + len(OBSERVED) * precision_of_one
    mean = (log(2.0) / PRIOR_SD**2 + sum(OBSERVED) * precision_of_one) / precision
    assert as_list(belief.level()) == pytest.approx(
        normal_interval(mean, precision**-0.5), rel=5e-4
    )  # the grid's own coarseness
    ahead = (1.0 / precision + 0.2**2) ** 0.5
    assert as_list(belief.next_drink()) == pytest.approx(normal_interval(mean, ahead), rel=2e-3)
    assert belief.log_moments() == pytest.approx((mean, precision**-0.5), rel=1e-3)


def test_another_coffee_teaches_as_two_levels_of_normals_do():
    """Conditional of a joint normal: bar ~ N(m, s²), each coffee ~ N(bar, 0.3²), trials on top."""
    apart, others, own = 0.3, (0.2, 0.35), (1.0,)
    belief = Belief.before(PRIOR, SPREAD, 0.0)
    belief = belief.given_another([finding(v, "b") for v in others], apart)
    belief = belief.of_one_coffee(apart)
    for value in own:
        belief = belief.given(finding(value))
    level = np.full((4, 4), PRIOR_SD**2)  # rows: coffee a, trials b, b, a
    level[np.ix_([0, 3], [0, 3])] += apart**2
    level[np.ix_([1, 2], [1, 2])] += apart**2
    error = np.diag([0.2**2 + 0.1**2] * 3)
    gain = level[0, 1:] @ np.linalg.inv(level[1:, 1:] + error)
    mean = log(2.0) + gain @ (np.array([*others, *own]) - log(2.0))
    variance = level[0, 0] - gain @ level[1:, 0]
    assert as_list(belief.level()) == pytest.approx(normal_interval(mean, variance**0.5), rel=0.01)


def test_one_after_the_other_is_all_at_once_in_any_order():
    together = Belief.before(PRIOR, SPREAD, 0.05)
    for value in OBSERVED:
        together = together.given(finding(value))
    for order in permutations(OBSERVED):
        belief = Belief.before(PRIOR, SPREAD, 0.05)
        for value in order:
            belief = belief.given(finding(value))
        np.testing.assert_allclose(belief.log_weight, together.log_weight, rtol=1e-12)
        assert as_list(belief.level()) == pytest.approx(as_list(together.level()), rel=1e-12)


def test_the_prior_is_met_exactly_before_any_trial():
    uneven = Prior(1.3, 0.7, 2.1, "mL/g", "test")
    level = Belief.before(uneven, SPREAD, 0.05).level()
    assert as_list(level) == pytest.approx([0.7, 1.3, 2.1], rel=1e-4)


def test_steadiness_is_learnt_too():
    """Twenty trials that scatter by 0.3 against twenty that scatter by 0.05."""
    unknown = Prior(0.12, 0.06, 0.25, "1", "test")
    found = []
    for scatter in (0.05, 0.3):
        belief = Belief.before(PRIOR, unknown, 0.05)
        for value in 0.7 + scatter * np.random.default_rng(4).standard_normal(20):
            belief = belief.given(finding(float(value), error=0.01))
        found.append(belief.spread().mid)
    assert found[0] < 0.09
    assert found[1] > 0.2


def test_a_slip_is_likely_one_only_when_it_lies_far_off():
    belief = Belief.before(PRIOR, SPREAD, 0.05)
    for value in (*OBSERVED, 3.0):
        belief = belief.given(finding(value))
    assert belief.slip_probability(finding(3.0)) > 0.95
    assert belief.slip_probability(finding(1.15)) < 0.05
