"""The conflicts in the evidence, shown and not averaged away."""

from __future__ import annotations

import pytest

from service.bed import Bed, drainage_tension, extraction_tension, retention_tension
from service.kit import OutOfRange


@pytest.fixture
def drainage():
    tension = drainage_tension(Bed(), volume_ml=115.0, density_kg_per_m3=996.7, viscosity_mpa_s=7.1)
    return {figure.label: figure.value for figure in tension.figures}, tension.text


def test_measured_permeability_and_practice_meet_by_the_wall_only(drainage):
    """By hand: needed 0.9-1.4e-10 m² by the wall (measured), 2.9-4.4e-10 by the tip (never)."""
    figures, _ = drainage
    measured = figures["measured permeability"]
    wall, tip = figures["needed if the whole wall drains"], figures["needed if only the tip drains"]
    assert (wall.low, wall.high) == pytest.approx((0.9e-10, 1.4e-10), rel=0.05)
    assert (tip.low, tip.high) == pytest.approx((2.9e-10, 4.4e-10), rel=0.05)
    assert measured.contains(wall.low)
    assert measured.contains(wall.high)
    assert tip.low > measured.high


def test_the_two_drainages_are_shown_with_practice_between_or_below_them(drainage):
    figures, text = drainage
    practice = figures["common practice"]
    assert (practice.low, practice.high) == (120.0, 180.0)
    assert figures["only the tip drains"].low > practice.high
    wall = figures["the whole paper wall drains"]
    assert wall.contains(practice.low)
    assert wall.contains(practice.high)
    for words in ("two to three minutes", "tip of the cone", "nobody has measured"):
        assert words in text


def test_tip_times_span_those_worked_by_hand(drainage):
    """2.4e-11 m² gives 37 min by the tip, 11.4 by the wall."""
    figures, _ = drainage
    assert figures["only the tip drains"].high / 60 == pytest.approx(37, rel=0.03)
    assert figures["the whole paper wall drains"].high / 60 == pytest.approx(11.4, rel=0.03)


def test_retention_shows_practice_pores_and_hot_brewing(published):
    tension = retention_tension(Bed(), volume_ml=115.0)
    figures = {figure.label: figure.value for figure in tension.figures}
    rows = published("coffee_retention")
    assert figures["common practice"].mid == pytest.approx(11.5)
    assert figures["hot filter coffee"].mid == pytest.approx(
        15 * float(rows["filter-rule"]["retained_g_per_g"])
    )
    immersion = rows["immersion-1l"]
    assert figures["hot immersion"].low == pytest.approx(
        15 * float(immersion["retained_g_per_g_low"])
    )
    ours = figures["this forecast"]
    assert ours.contains(figures["common practice"].mid)
    assert ours.contains(figures["hot filter coffee"].mid)
    assert "nobody has measured" in tension.text


def test_cold_extraction_admits_that_nobody_published_it():
    tension = extraction_tension(celsius=0.0, viscosity_mpa_s=7.1)
    by_viscosity, by_leaf, rest = (figure.value.mid for figure in tension.figures)
    assert by_viscosity == pytest.approx(1 / 0.033, rel=0.02)
    assert by_leaf == pytest.approx(1 / 0.012, rel=0.05)
    assert 6 <= rest <= 7  # Fuller & Rao 2017: level in six to seven hours, 21-25 °C
    assert "No published work" in tension.text
    assert "all the caffeine" in tension.text


def test_texts_are_plain_enough_for_a_page():
    texts = [
        retention_tension(Bed(), volume_ml=115.0).text,
        extraction_tension(celsius=0.0, viscosity_mpa_s=7.1).text,
    ]
    for text in texts:
        assert "m²" not in text
        assert max(len(sentence.split()) for sentence in text.split(". ")) < 45


def test_every_figure_names_who_says_it():
    for tension in (
        drainage_tension(Bed(), volume_ml=115.0, density_kg_per_m3=997.0, viscosity_mpa_s=7.1),
        retention_tension(Bed(), volume_ml=115.0),
        extraction_tension(celsius=0.0, viscosity_mpa_s=7.1),
    ):
        assert all(figure.source and figure.unit and figure.label for figure in tension.figures)


def test_an_impossible_drink_has_no_tension():
    with pytest.raises(OutOfRange):
        retention_tension(Bed(), volume_ml=-1.0)
