"""Intervals and roots."""

import numpy as np
import pytest

from service.kit import BadData, Interval, find_root


def test_an_interval_must_be_ordered() -> None:
    with pytest.raises(BadData):
        Interval(2.0, 1.0, 3.0)


def test_the_interval_of_draws_is_the_middle_80_percent() -> None:
    # Normal quantiles: 10 % and 90 % lie 1.2816 standard deviations out (any table of the normal).
    draws = np.random.default_rng(1).normal(10.0, 2.0, 200_000)
    interval = Interval.of_draws(draws)
    assert interval.low == pytest.approx(10 - 1.2816 * 2, abs=0.03)
    assert interval.high == pytest.approx(10 + 1.2816 * 2, abs=0.03)


def test_a_root_is_found_or_said_to_be_missing() -> None:
    assert find_root(lambda x: x**3 - 8, 0, 5) == pytest.approx(2.0)
    assert find_root(lambda x: x + 10, 0, 5) is None
    assert find_root(lambda x: x, 0, 5) == 0
