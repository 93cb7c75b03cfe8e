"""Constants: ordered ranges, named sources, repeatable draws."""

from __future__ import annotations

import numpy as np
import pytest

from service.kit import Interval, OutOfRange
from service.taste import CONSTANTS, USUAL, draw_parameters, perceive, value_at


@pytest.mark.parametrize("constant", CONSTANTS, ids=lambda c: c.name)
def test_every_constant_names_unit_and_source_or_says_estimate(constant):
    assert constant.unit
    assert len(constant.source) > 10
    assert constant.value.low < constant.value.mid < constant.value.high


@pytest.mark.parametrize("constant", CONSTANTS, ids=lambda c: c.name)
def test_draws_keep_the_stated_interval(constant):
    drawn = getattr(draw_parameters(40_000, seed=3), constant.name)
    low, mid, high = np.quantile(drawn, (0.1, 0.5, 0.9))
    width = constant.value.width
    assert low == pytest.approx(max(constant.value.low, 0.0), abs=0.02 * width)
    assert mid == pytest.approx(constant.value.mid, abs=0.02 * width)
    assert high == pytest.approx(constant.value.high, abs=0.02 * width)
    assert drawn.min() >= 0.0


def test_the_same_seed_gives_the_same_palates():
    first, again, other = draw_parameters(50, 1), draw_parameters(50, 1), draw_parameters(50, 2)
    assert np.array_equal(first.salt_on_bitter, again.salt_on_bitter)
    assert not np.array_equal(first.salt_on_bitter, other.salt_on_bitter)


def test_the_usual_palate_lies_inside_the_drawn_ones():
    drink = {"sugar_g_per_l": 40.0, "qhe_mg_per_l": 25.0, "acid_g_per_l": 1.0, "abv": 0.24}
    usual = perceive(**drink, celsius=0.0, parameters=USUAL)
    drawn = perceive(**drink, celsius=0.0, parameters=draw_parameters(4000))
    for taste in ("sweet", "bitter", "sour", "heat"):
        interval = Interval.of_draws(getattr(drawn, taste))
        assert interval.contains(float(getattr(usual, taste)))


def test_a_value_is_linear_between_its_percentiles():
    wide = Interval(10.0, 20.0, 50.0)
    assert [float(value_at(wide, share)) for share in (0.1, 0.3, 0.5, 0.7, 0.9)] == pytest.approx(
        [10.0, 15.0, 20.0, 35.0, 50.0]
    )


@pytest.mark.parametrize("draws", [0, -5, 10_000_000])
def test_a_silly_number_of_draws_is_refused(draws):
    with pytest.raises(OutOfRange, match="draws"):
        draw_parameters(draws)
