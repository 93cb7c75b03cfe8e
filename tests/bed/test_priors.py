"""Priors: their percentiles, their draws, and that they can be replaced."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from service.bed import DEFAULT, Bed, BedPriors, Prior, percolate
from service.bed.prior import Z90
from service.bed.priors import PRIOR_NAMES, deviates, values_at
from service.kit import BadData, OutOfRange

EVERY_PRIOR = [getattr(DEFAULT, name) for name in PRIOR_NAMES]


@pytest.mark.parametrize("prior", EVERY_PRIOR, ids=PRIOR_NAMES)
def test_the_three_percentiles_are_met_exactly(prior):
    values = prior.at(np.array([-Z90, 0.0, Z90]))
    assert values == pytest.approx([prior.low, prior.median, prior.high])


@pytest.mark.parametrize("prior", EVERY_PRIOR, ids=PRIOR_NAMES)
def test_draws_are_positive_and_shares_stay_below_one(prior):
    values = prior.at(np.linspace(-6, 6, 200))
    assert np.all(np.diff(values) > 0)
    assert values[0] > 0
    assert prior.scale == "log" or values[-1] < 1


@pytest.mark.parametrize("prior", EVERY_PRIOR, ids=PRIOR_NAMES)
def test_every_prior_has_a_unit_and_a_source_or_says_estimate(prior):
    assert prior.unit
    assert any(mark in prior.source for mark in ("estimate", "recalled", "19", "20"))


def test_the_90th_percentile_is_that_of_the_normal_table():
    """Any table of the normal distribution: 1.2816."""
    assert pytest.approx(1.2816, abs=5e-5) == Z90


def test_eighty_percent_of_draws_fall_inside_the_interval():
    draws = DEFAULT.retention_ml_per_g.at(np.random.default_rng(5).standard_normal(100_000))
    inside = (draws > 0.7) & (draws < 2.1)
    assert inside.mean() == pytest.approx(0.8, abs=0.005)


def test_a_certain_prior_always_gives_its_value():
    known = Prior(1.1, 1.1, 1.1, "mL/g", "ten weighed trials")
    assert np.all(known.at(np.array([-3.0, 0.0, 3.0])) == 1.1)


@pytest.mark.parametrize(
    ("numbers", "scale"),
    [
        ((1.0, 2.0, 3.0), "log"),
        ((1.0, 0.5, 0.9), "log"),
        ((1.0, 0.0, 2.0), "log"),
        ((-1.0, -2.0, 1.0), "log"),
        ((0.5, 0.2, 1.0), "odds"),
        ((float("nan"), 0.2, 1.0), "log"),
    ],
)
def test_a_prior_out_of_order_is_refused(numbers, scale):
    with pytest.raises(BadData, match="low <= median <= high"):
        Prior(*numbers, "1", "estimate", scale)


def test_column_nought_is_all_medians():
    values = values_at(DEFAULT, deviates(10, 3))
    assert {name: column[0] for name, column in values.items()} == pytest.approx(
        {name: getattr(DEFAULT, name).median for name in PRIOR_NAMES}
    )


@pytest.mark.parametrize("draws", [1, 2, 7, 200])
def test_the_number_of_draws_is_what_was_asked(draws):
    assert deviates(draws, 1).shape == (len(PRIOR_NAMES), draws + 1)


def test_draws_come_in_mirrored_pairs():
    columns = deviates(200, 8)[:, 1:]
    assert columns[:, :100] == pytest.approx(-columns[:, 100:])


@pytest.mark.parametrize("draws", [0, -5, 10_000_000])
def test_a_senseless_number_of_draws_is_refused(draws):
    with pytest.raises(OutOfRange):
        deviates(draws, 1)


def test_what_a_bar_has_learnt_replaces_a_prior(house_drink):
    weighed = replace(DEFAULT, retention_ml_per_g=Prior(0.8, 0.75, 0.85, "mL/g", "ten trials"))
    before, after = (percolate(Bed(), **house_drink, priors=p) for p in (DEFAULT, weighed))
    assert float(after.central.retained_ml) == pytest.approx(12.0)
    assert after.retained_ml.std() < before.retained_ml.std() / 5
    assert np.array_equal(after.paper_water_ml, before.paper_water_ml)


def test_names_follow_the_record():
    assert tuple(field.name for field in fields(BedPriors)) == PRIOR_NAMES
