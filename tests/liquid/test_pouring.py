"""From the label to the masses, by volume and by weight."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange
from service.liquid import analysis, density_kg_per_m3, poured, volume_ml, weighed

VOLUME_ML = st.floats(0.0, 10_000.0)


@given(
    VOLUME_ML,
    st.floats(0.0, 0.6),
    st.floats(0.0, 450.0),
    st.floats(0.0, 30.0),
    st.floats(0.0, 100.0),
)
def test_the_label_can_be_read_back_from_the_glass(
    volume: float, abv: float, sugar: float, acid: float, salt: float
) -> None:
    pour = poured(
        volume, abv=abv, sugar_g_per_l=sugar, acid_g_per_l=acid, salt_g_per_l=salt,
        qhe_mg_per_l=40.0, caffeine_mg_per_l=300.0,
    )  # fmt: skip
    assert pour.water_g >= 0.0
    assert volume_ml(pour) == pytest.approx(volume, rel=1e-9, abs=1e-9)
    if volume > 1e-6:
        read = analysis(pour)
        assert read.abv == pytest.approx(abv, rel=1e-9, abs=1e-12)
        assert read.sugar_g_per_l == pytest.approx(sugar, rel=1e-9, abs=1e-9)
        assert read.acid_g_per_l == pytest.approx(acid, rel=1e-9, abs=1e-9)
        assert read.salt_g_per_l == pytest.approx(salt, rel=1e-9, abs=1e-9)
        assert read.qhe_mg_per_l == pytest.approx(40.0, rel=1e-9)
        assert read.caffeine_mg_per_l == pytest.approx(300.0, rel=1e-9)


@given(st.floats(0.01, 10_000.0), st.floats(0.0, 0.6), st.floats(0.0, 300.0), st.floats(0.0, 1.0))
def test_weighing_and_measuring_the_same_pour_agree(
    mass: float, abv: float, sugar: float, invert: float
) -> None:
    by_scale = weighed(mass, abv=abv, sugar_g_per_l=sugar, invert_share=invert)
    assert by_scale.mass_g == pytest.approx(mass, rel=1e-12)
    jigger = poured(volume_ml(by_scale), abv=abv, sugar_g_per_l=sugar, invert_share=invert)
    assert jigger.water_g == pytest.approx(by_scale.water_g, rel=1e-8, abs=1e-9)
    assert jigger.invert_g == pytest.approx(by_scale.invert_g, rel=1e-8, abs=1e-9)


def test_a_bottle_of_spirit_weighs_what_the_tables_say() -> None:
    # OIML R 22 (1975): 700 mL of 40 % vol at 948.05 g/L, a third of it ethanol by mass.
    bottle = poured(700.0, abv=0.40)
    assert bottle.mass_g == pytest.approx(663.6, abs=0.05)
    assert bottle.ethanol_g == pytest.approx(0.332996 * 663.63, abs=0.01)


@pytest.mark.parametrize(
    ("parts_by_mass", "sugar", "density"),
    # ICUMSA SPS-4: bar syrups of one and two parts of sugar to one of water, by mass.
    [("one to one", 614.8, 1229.65), ("two to one", 885.1, 1326.96)],
)
def test_bar_syrups_weigh_what_the_standard_says(
    parts_by_mass: str, sugar: float, density: float
) -> None:
    syrup = poured(20.0, abv=0.0, sugar_g_per_l=sugar)
    assert density_kg_per_m3(syrup) == pytest.approx(density, abs=0.1)


def test_many_bottles_in_one_call_agree_with_one_at_a_time() -> None:
    strengths, sugars = np.linspace(0.1, 0.5, 30), np.linspace(0.0, 300.0, 30)
    many = poured(30.0, abv=strengths, sugar_g_per_l=sugars, acid_g_per_l=2.0)
    for i in (0, 7, 29):
        one = poured(
            30.0, abv=float(strengths[i]), sugar_g_per_l=float(sugars[i]), acid_g_per_l=2.0
        )
        assert np.asarray(many.water_g)[i] == pytest.approx(one.water_g, rel=1e-11)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"abv": 1.2}, "abv"),
        ({"abv": -0.1}, "abv"),
        ({"sugar_g_per_l": -1.0}, "sugar_g_per_l"),
        ({"sugar_g_per_l": 1200.0}, "sugar_g_per_l"),
        ({"acid_g_per_l": 400.0}, "acid_g_per_l"),
        ({"salt_g_per_l": 400.0}, "salt_g_per_l"),
        ({"qhe_mg_per_l": -1.0}, "qhe_mg_per_l"),
        ({"caffeine_mg_per_l": float("nan")}, "caffeine_mg_per_l"),
        ({"invert_share": 1.5}, "invert_share"),
    ],
)
def test_an_impossible_label_names_its_field(change: dict[str, float], field: str) -> None:
    label = {"abv": 0.3} | change
    with pytest.raises(OutOfRange) as caught:
        poured(30.0, **label)
    assert caught.value.field == field
    with pytest.raises(OutOfRange):
        weighed(30.0, **label)


def test_a_negative_pour_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        poured(-5.0, abv=0.3)
    assert caught.value.field == "volume_ml"
    with pytest.raises(OutOfRange) as caught:
        weighed(-5.0, abv=0.3)
    assert caught.value.field == "mass_g"


def test_what_cannot_fit_into_one_volume_is_refused() -> None:
    with pytest.raises(OutOfRange, match="do not fit"):
        poured(30.0, abv=0.8, sugar_g_per_l=600.0)
    with pytest.raises(OutOfRange, match="do not fit"):
        poured(30.0, abv=np.array([0.2, 0.8]), sugar_g_per_l=600.0)
