"""Pours by the scale, against printed densities."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.drink import grams_per_ml, poured_ml
from service.ingredients import Catalogue
from service.kit import Interval, OutOfRange
from service.kit.units import Weighed
from service.liquid import volume_ml, weighed
from tests.drink.conftest import bottle


@pytest.mark.parametrize(
    ("strength", "kg_per_m3"), [(0.0, 998.20), (0.40, 948.05), (0.50, 930.14), (0.96, 807.42)]
)
def test_a_spirit_weighs_what_the_tables_print(strength: float, kg_per_m3: float) -> None:
    # OIML R 22 (1975), Table IIIa, density at 20 °C (recalled); printed to 0.01 kg/m3.
    spirit = bottle("spirit", abv=Interval.exactly(strength))
    assert grams_per_ml(spirit) * 1000 == pytest.approx(kg_per_m3, abs=0.011)
    assert poured_ml(spirit, Weighed(kg_per_m3)) == pytest.approx(1000.0, abs=0.012)


@pytest.mark.parametrize(("brix", "kg_per_m3"), [(20, 1080.97), (50, 1229.65), (60, 1286.5)])
def test_a_syrup_weighs_what_the_sugar_tables_print(brix: int, kg_per_m3: float) -> None:
    # ICUMSA SPS-4 (1998), density of sucrose solutions at 20 °C (recalled), to 0.1 kg/m3.
    syrup = bottle("syrup", sugar=Interval.exactly(brix / 100 * kg_per_m3))
    assert grams_per_ml(syrup) * 1000 == pytest.approx(kg_per_m3, abs=0.15)


def test_every_bottle_of_the_catalogue_weighs_as_its_composition_does(
    catalogue: Catalogue,
) -> None:
    poured = [i for i in catalogue.ingredients.values() if i.role not in {"garnish", "coffee"}]
    assert len(poured) > 100
    for ingredient in poured:
        holds = ingredient.composition
        sugar = holds.sugar_g_per_l.mid
        if sugar > 1100:  # dry, by the spoon
            assert grams_per_ml(ingredient) == pytest.approx(sugar / 1000)
            continue
        by_scale = weighed(
            100.0,
            abv=holds.abv.mid,
            sugar_g_per_l=sugar,
            acid_g_per_l=holds.acid_g_per_l.mid,
            salt_g_per_l=holds.salt_g_per_l.mid,
        )
        assert poured_ml(ingredient, Weighed(100.0)) == pytest.approx(
            float(volume_ml(by_scale)), rel=1e-8
        )


@given(st.floats(0.01, 10_000.0))
def test_what_is_measured_stays_and_what_is_weighed_comes_back(amount: float) -> None:
    spirit = bottle("spirit", abv=Interval.exactly(0.4))
    assert poured_ml(spirit, amount) == amount
    volume = poured_ml(spirit, Weighed(amount))
    assert volume * grams_per_ml(spirit) == pytest.approx(amount, rel=1e-12)


@pytest.mark.parametrize("mass_g", [0.0, -1.0, 100_001.0, float("nan"), float("inf")])
def test_no_pour_weighs_nothing_or_a_barrel(mass_g: float) -> None:
    spirit = bottle("spirit", abv=Interval.exactly(0.4))
    with pytest.raises(OutOfRange) as caught:
        poured_ml(spirit, Weighed(mass_g), field="pours.2.mass_g")
    assert caught.value.field == "pours.2.mass_g"


def test_a_weight_that_fills_more_than_a_barrel_says_so() -> None:
    spirit = bottle("spirit", abv=Interval.exactly(0.96))
    with pytest.raises(OutOfRange, match="split the batch"):
        poured_ml(spirit, Weighed(100_000.0), field="pour")
