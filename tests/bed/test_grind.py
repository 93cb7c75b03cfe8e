"""Grind words and grains against measured coffees."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from service.bed.grind import (
    GRIND_UM,
    broken_share,
    nearest_grind,
    particle_um,
    sauter_um,
    usual_fines_share,
)
from service.ingredients.records import Grind
from service.kit import OutOfRange


def test_a_coarser_word_means_larger_grains_at_every_part_of_its_range():
    for finer, coarser in itertools.pairwise(Grind):
        for part in ("low", "mid", "high"):
            assert getattr(GRIND_UM[finer], part) < getattr(GRIND_UM[coarser], part)


def test_medium_and_coarser_agree_with_the_sizes_of_a_cold_brew_paper():
    """Córdoba et al. 2019, Sci. Rep. 9, 8440: medium 501-700 µm, coarse 701-900 µm (mean)."""
    assert 501 <= particle_um(Grind.MEDIUM) <= 700
    assert 701 <= particle_um(Grind.MEDIUM_COARSE) <= 900


def test_filter_grinds_lie_within_the_measured_medians_of_one_grinder():
    """Liang et al. 2021, Sci. Rep. 11, 6904, supplement: medians 579-1311 µm for settings 2-6."""
    for word in (Grind.MEDIUM, Grind.MEDIUM_COARSE, Grind.COARSE):
        assert 579 <= particle_um(word) <= 1311


def test_each_word_is_nearest_to_its_own_size():
    for word in Grind:
        assert nearest_grind(particle_um(word)) is word


@pytest.mark.parametrize("size", [0.0, -500.0, 99.0, 2001.0, float("nan"), float("inf")])
def test_a_size_no_grinder_gives_is_refused(size):
    with pytest.raises(OutOfRange) as error:
        nearest_grind(size)
    assert error.value.field == "particle_um"
    assert "trade word" in error.value.message


def test_broken_cells_agree_with_the_measured_fast_share(published):
    """Maille 2024, Table 6.3: 17 samples, computed there from 25 size bins each.

    With one diameter instead of the bins, the mean error is 0.02 and none exceeds 0.05.
    """
    samples = [row for row in published("coffee_kinetics").values() if row["fast_share"]]
    ours = np.array(
        [
            broken_share(float(row["volume_mean_um"]), float(row["fines_share_liquid"]))
            for row in samples
        ]
    )
    theirs = np.array([float(row["fast_share"]) for row in samples])
    assert len(samples) == 17
    assert np.abs(ours - theirs).mean() < 0.03
    assert np.abs(ours - theirs).max() < 0.05


def test_one_layer_of_cells_does_not_explain_the_measured_fast_share(published):
    """The printed equation takes one layer, its text two; only two meet the printed table."""
    samples = [row for row in published("coffee_kinetics").values() if row["fast_share"]]
    misses = [
        float(row["fast_share"])
        - broken_share(float(row["volume_mean_um"]), float(row["fines_share_liquid"]), layers=1)
        for row in samples
    ]
    assert min(misses) > 0.1


def test_usual_fines_meet_unsieved_grinds_within_a_factor_of_one_and_a_half(published):
    """Maille 2024, Table 5.4: five grinds with their full distribution."""
    grinds = [row for row in published("coffee_kinetics").values() if row["distribution"] == "full"]
    assert len(grinds) == 5
    for row in grinds:
        ratio = usual_fines_share(float(row["volume_mean_um"])) / float(row["fines_share"])
        assert 1 / 1.5 < ratio < 1.5


def test_the_sauter_diameter_of_a_mix_is_volume_over_surface():
    """By hand: half the volume as 100 µm, half as 300 µm spheres: 2/(1/100 + 1/300) = 150."""
    assert sauter_um(300.0, 0.5, 100.0) == pytest.approx(150.0)


def test_grains_smaller_than_their_surface_layers_are_all_broken():
    assert broken_share(np.array([50.0, 120.0, 180.0]), 0.0).tolist() == [1.0, 1.0, 1.0]
