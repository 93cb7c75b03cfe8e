"""Odour activity and impact classes."""

import pytest

from service.aroma import Thresholds, fit_impact, intensity
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
