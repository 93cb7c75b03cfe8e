"""Odour activity and impact classes."""

import math

import pytest

from service.aroma import Thresholds, fit_impact, intensity
from service.aroma.intensity import steadiness
from service.ingredients.records import Grade, Impact, Occurrence, Threshold
from service.kit import Interval

THRESHOLDS = Thresholds.of(
    [
        Threshold("linalool", 0.0, 6.0, Grade.MEASURED, "a"),
        Threshold("linalool", 0.1, 25.0, Grade.MEASURED, "b"),
        Threshold("linalool", 0.4, 100.0, Grade.MEASURED, "c"),
    ]
)


def row(amount: float | None, impact: Impact | None, ingredient: str = "x") -> Occurrence:
    value = None if amount is None else Interval.exactly(amount)
    return Occurrence(ingredient, "linalool", value, impact, Grade.MEASURED, "a")


@pytest.mark.parametrize(
    ("ethanol", "expected"), [(0.0, 6.0), (0.04, 6.0), (0.08, 25.0), (0.2, 25.0), (0.55, 100.0)]
)
def test_the_threshold_of_the_nearest_matrix_counts(ethanol: float, expected: float) -> None:
    assert THRESHOLDS.nearest_ug_per_l("linalool", ethanol) == pytest.approx(expected)


def test_intensity_is_the_logarithm_of_one_plus_the_odour_activity() -> None:
    fit = fit_impact([], THRESHOLDS, {})
    # 594 µg/L over 6 µg/L is an odour activity of 99.
    assert intensity(row(594.0, None), THRESHOLDS, fit, 0.0) == pytest.approx(2.0)


def test_an_impact_class_stands_in_where_no_figure_is_known() -> None:
    fit = fit_impact([], THRESHOLDS, {})
    assert (
        intensity(row(None, Impact.CHARACTER), THRESHOLDS, fit, 0.0)
        == fit.intensity[Impact.CHARACTER]
    )


def test_classes_are_fitted_on_rows_with_both_and_stay_in_order() -> None:
    # Background rows louder than key rows must be pooled, never swapped.
    rows = [row(6e6, Impact.BACKGROUND)] * 20 + [row(6.0, Impact.KEY)] * 20
    fit = fit_impact(rows, THRESHOLDS, {"x": 0.0})
    values = fit.intensity
    assert values[Impact.BACKGROUND] == pytest.approx(values[Impact.KEY])
    assert values[Impact.KEY] <= values[Impact.CHARACTER]
    assert fit.rows == {Impact.BACKGROUND: 20, Impact.KEY: 20, Impact.CHARACTER: 0}


def test_an_exact_figure_is_steady_and_a_wide_range_is_not() -> None:
    exact = row(594.0, None)
    wide = Occurrence(
        "x", "linalool", Interval(59.4, 594.0, 5940.0), None, Grade.MEASURED, "a"
    )  # fmt: skip
    assert steadiness(exact, 2.0) == pytest.approx(1.0)
    # Odour activity 99, from 9.9 to 990: half the width is (log10(991) - log10(10.9)) / 2.
    half = (math.log10(991.0) - math.log10(10.9)) / 2.0
    assert steadiness(wide, 2.0) == pytest.approx(2.0 / (2.0 + half))
