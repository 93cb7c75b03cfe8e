"""The cone: closed forms against hand-worked values and against numerical integration."""

from __future__ import annotations

from math import pi, radians, tan

import numpy as np
import pytest
from scipy.integrate import quad

from service.bed.geometry import (
    bed_depth_mm,
    bed_volume_ml,
    tip_conductance_mm2,
    wall_conductance_mm2,
)

SLOPE = tan(radians(30))


def test_fifteen_grams_fill_the_cone_as_worked_by_hand():
    """15 g at 360 kg/m³ = 41.7 mL; h = (9V/π)^⅓ = 4.92 cm, r = 2.84 cm, πr² = 25.4 cm²."""
    depth = bed_depth_mm(15.0)
    assert bed_volume_ml(15.0) == pytest.approx(41.7, abs=0.05)
    assert depth == pytest.approx(49.2, abs=0.05)
    assert depth * SLOPE == pytest.approx(28.4, abs=0.05)


def test_the_cone_holds_the_volume_of_the_bed():
    depth = bed_depth_mm(np.array([5.0, 15.0, 60.0]))
    volume_ml = pi * (depth * SLOPE) ** 2 * depth / 3000
    assert volume_ml == pytest.approx(bed_volume_ml(np.array([5.0, 15.0, 60.0])))


@pytest.mark.parametrize("depth", [30.0, 49.24, 90.0])
def test_tip_drainage_equals_slices_of_a_cone_added_up(depth):
    """Resistances in series: ∫ dz / A(z) from the open tip to the surface."""
    tip = 10.0 / SLOPE
    resistance, _ = quad(lambda z: 1 / (pi * (z * SLOPE) ** 2), tip, depth)
    assert tip_conductance_mm2(depth) == pytest.approx((depth - tip + 15.0) / resistance)


@pytest.mark.parametrize("depth", [30.0, 49.24, 90.0])
def test_wall_drainage_equals_upright_tubes_added_up(depth):
    """Conductances side by side: ∫ 2πr (length + pond)/length dr up to the cut-off."""
    radius = depth * SLOPE

    def tube(r: float) -> float:
        length = (radius - r) / SLOPE
        return 2 * pi * r * (length + 15.0) / length

    total, _ = quad(tube, 0.0, radius - 5.0 * SLOPE)
    assert wall_conductance_mm2(depth) == pytest.approx(total)


def test_the_wall_lets_out_three_to_four_times_as_much_as_the_tip():
    """The order of importance worked out by hand for 15 g: which surface drains, ×3-4."""
    depth = bed_depth_mm(15.0)
    assert 3 < wall_conductance_mm2(depth) / tip_conductance_mm2(depth) < 4


def test_free_choices_of_pond_and_cut_off_move_the_wall_two_fold_either_way():
    """Pond 5-25 mm and cut-off 2-10 mm: 1.4 to 5.7 min where the middle says 2.7 (by hand)."""
    middle = wall_conductance_mm2(49.24)
    slowest = wall_conductance_mm2(49.24, 5.0, 10.0)
    fastest = wall_conductance_mm2(49.24, 25.0, 2.0)
    assert 2.7 * middle / slowest == pytest.approx(5.7, rel=0.05)
    assert 2.7 * middle / fastest == pytest.approx(1.4, rel=0.05)


def test_even_a_spoonful_has_a_conductance():
    depth = bed_depth_mm(np.array([0.1, 2.0]))
    for conductance in (tip_conductance_mm2(depth), wall_conductance_mm2(depth)):
        assert np.all(np.isfinite(conductance))
        assert np.all(conductance > 0)
