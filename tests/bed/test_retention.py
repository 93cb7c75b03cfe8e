"""What stays behind, against published retention and plain balance."""

from __future__ import annotations

import numpy as np
import pytest

from service.bed.defaults import DEFAULT
from service.bed.retention import held_by_grounds_ml, held_by_paper_ml, passing_share


def test_the_prior_contains_a_tenth_of_the_drink(published):
    """A tenth of 115 mL for 15 g: common practice, no source."""
    practice = float(published("coffee_retention")["practice"]["retained_g_per_g"])
    assert practice == pytest.approx(0.1 * 115 / 15, abs=0.005)
    assert DEFAULT.retention_ml_per_g.interval.contains(practice)


def test_the_prior_contains_hot_filter_coffee_in_its_upper_tail(published):
    """About 2 g/g, a rule of thumb (Gagné 2019); the measured 2.48 of an immersion lies above."""
    rows = published("coffee_retention")
    rule = float(rows["filter-rule"]["retained_g_per_g"])
    prior = DEFAULT.retention_ml_per_g
    assert prior.median < rule <= prior.high
    assert float(rows["immersion-1l"]["retained_g_per_g"]) > prior.high


def test_full_pores_lie_near_the_middle_of_the_prior(published):
    """Grain pores and half the voids: 1.0-1.3 mL/g, from pore volumes of Maille 2024 and others."""
    row = published("coffee_retention")["pore-filling"]
    prior = DEFAULT.retention_ml_per_g
    assert prior.low < float(row["retained_g_per_g_low"])
    assert float(row["retained_g_per_g_high"]) <= prior.median


def test_the_grounds_never_keep_more_than_was_poured():
    kept = held_by_grounds_ml(np.array([15.0, 200.0]), 2.0, 115.0)
    assert kept.tolist() == [30.0, 115.0]


def test_a_rinsed_paper_takes_no_drink_and_a_dry_one_does():
    assert held_by_paper_ml(1.5, 100.0, rinsed=True) == 0.0
    assert held_by_paper_ml(1.5, 100.0, rinsed=False) == 1.5
    assert held_by_paper_ml(1.5, 0.4, rinsed=False) == 0.4


def test_with_one_strength_throughout_coffee_leaves_in_proportion_to_liquid():
    """Immersion: of ten parts of liquid two stay, so eight tenths of the coffee pass."""
    assert passing_share(0.2, 1.0) == pytest.approx(0.8)


def test_a_clean_last_liquid_leaves_all_coffee_in_the_glass():
    """The percolation end of Gagné 2019."""
    assert passing_share(0.2, 1e-12) == pytest.approx(1.0)


def test_where_nothing_passes_no_coffee_passes():
    assert passing_share(1.0, 0.5) == 0.0
