"""The lattice of a bar's measures."""

from __future__ import annotations

import pytest

from service.counter.known import Known
from service.kit import BadData, OutOfRange
from service.kit.jigger import JiggerStep
from service.recommend.compose import Measures


def amounts(known: Known, measures: Measures, ingredient: str) -> tuple[float, ...]:
    return measures.amounts_ml(known.catalogue.ingredients[ingredient])


def test_quarter_ounces_are_those_of_the_us_fluid_ounce(known: Known) -> None:
    """NIST Handbook 44, Appendix C: one US fluid ounce is 29.573 529 562 5 mL."""
    found = amounts(known, Measures(step=JiggerStep.QUARTER_OUNCE), "bourbon")
    assert found == pytest.approx([29.5735295625 * n / 4 for n in range(4, 9)])


@pytest.mark.parametrize(
    ("step", "base", "modifier"),
    [
        (JiggerStep.FIVE_ML, (30, 35, 40, 45, 50, 55, 60), (5, 10, 15, 20, 25, 30)),
        (JiggerStep.SEVEN_AND_A_HALF_ML, (30, 37.5, 45, 52.5, 60), (7.5, 15, 22.5, 30)),
    ],
)
def test_amounts_are_whole_steps_within_the_bounds_of_the_role(
    known: Known, step: JiggerStep, base: tuple[float, ...], modifier: tuple[float, ...]
) -> None:
    measures = Measures(step=step)
    assert amounts(known, measures, "bourbon") == base
    assert amounts(known, measures, "sweet-vermouth") == modifier


def test_bitters_go_by_whole_dashes_and_sweeteners_by_half_steps(known: Known) -> None:
    measures = Measures()
    assert amounts(known, measures, "orange-bitters") == pytest.approx((0.8, 1.6, 2.4))
    assert amounts(known, measures, "demerara-syrup") == (3.75, 7.5)


def test_strong_saline_goes_by_the_drop_and_weak_by_the_dash(known: Known) -> None:
    measures = Measures()
    assert amounts(known, measures, "saline") == pytest.approx((0.15, 0.3))
    assert amounts(known, measures, "weak-saline") == pytest.approx((0.8, 1.6))


def test_bounds_without_a_step_between_them_are_turned_away(known: Known) -> None:
    with pytest.raises(OutOfRange):
        amounts(known, Measures(step=JiggerStep.FIVE_ML, base_ml=(31.0, 33.0)), "bourbon")
    with pytest.raises(BadData):
        Measures(base_ml=(60.0, 30.0))
    with pytest.raises(BadData):
        Measures(dashes=(0, 2))
