"""The quinine scale against the pharmacopoeia and the law."""

from __future__ import annotations

import pytest

from service.kit import OutOfRange
from service.taste import (
    QHE_MG_PER_G_CAFFEINE,
    qhe_of_bitterness_value,
    qhe_of_plant_drug,
    qhe_of_quinine_base,
    threshold_multiple,
)
from service.taste.bitterness import REFERENCE_BITTERNESS_VALUE, THRESHOLD_QHE_MG_PER_L


def rows_by(rows, key):
    return {row[key]: row for row in rows}


def test_quinine_hydrochloride_has_the_reference_bitterness_value(published):
    """European Pharmacopoeia 2.8.15: 200 000, hence 5 mg/L is just bitter."""
    row = rows_by(published("bitterness_values"), "item")["quinine hydrochloride"]
    assert float(row["bitterness_value"]) == REFERENCE_BITTERNESS_VALUE
    just_bitter_mg_per_l = 1e6 / REFERENCE_BITTERNESS_VALUE
    assert just_bitter_mg_per_l == pytest.approx(THRESHOLD_QHE_MG_PER_L)


def test_the_accepted_panel_range_contains_the_threshold(published):
    """European Pharmacopoeia 2.8.15: panels that find 3.6 to 5.8 mg/L are accepted."""
    row = next(
        r
        for r in published("taste_thresholds")
        if (r["stimulus"], r["kind"]) == ("quinine hydrochloride", "recognition")
    )
    low, high = float(row["mg_per_l_low"]), float(row["mg_per_l_high"])
    assert low < THRESHOLD_QHE_MG_PER_L < high


def test_a_plant_of_a_known_bitterness_value_converts_by_definition(published):
    """One gram of gentian (minimum value 10 000) in a litre: 10 000 / 200 000 of a gram."""
    gentian = rows_by(published("bitterness_values"), "item")["gentian root"]
    assert qhe_of_plant_drug(1.0, float(gentian["bitterness_value_low"])) == pytest.approx(50.0)
    assert qhe_of_plant_drug(1.0, 200_000.0) == pytest.approx(1000.0)


def test_the_us_limit_for_quinine_is_twenty_thresholds():
    """21 CFR 172.575: 83 ppm as quinine; 396.91 and 324.42 g/mol."""
    limit = qhe_of_quinine_base(83.0)
    assert limit == pytest.approx(101.5, rel=1e-3)
    assert threshold_multiple(limit) == pytest.approx(20.3, rel=1e-3)


def test_a_liquid_just_bitter_at_twenty_fold_dilution_holds_twenty_thresholds():
    assert threshold_multiple(qhe_of_bitterness_value(20.0)) == pytest.approx(20.0)


def test_caffeine_range_covers_its_published_thresholds(published):
    """5 mg quinine over the caffeine threshold of 75 to 155 mg/L (lecture tables)."""
    row = next(
        r
        for r in published("taste_thresholds")
        if (r["stimulus"], r["kind"]) == ("caffeine", "detection")
    )
    for end in ("mg_per_l_low", "mg_per_l_high"):
        per_gram = 1000.0 * THRESHOLD_QHE_MG_PER_L / float(row[end])
        assert QHE_MG_PER_G_CAFFEINE.low < per_gram < QHE_MG_PER_G_CAFFEINE.high + 0.5


@pytest.mark.parametrize("bad", [-1.0, float("nan"), float("inf")])
def test_impossible_bitterness_is_refused(bad):
    with pytest.raises(OutOfRange):
        threshold_multiple(bad)
