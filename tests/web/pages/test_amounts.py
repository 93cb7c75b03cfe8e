from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from service.bar import BarSettings, Lattice, Units
from service.ingredients.records import Ingredient, Role
from service.web.pages.amounts import Jigger, amount_of, build_words, lattice_step_ml, nearest_ml
from tests.conftest import small_ingredient

BASE = small_ingredient("base", Role.BASE)
BITTERS = small_ingredient("bitters", Role.BITTERS)
SYRUP = small_ingredient("syrup", Role.SWEETENER)


@pytest.mark.parametrize(
    ("ingredient", "volume_ml", "words"),
    [(BASE, 45.0, "45 mL"), (BITTERS, 1.6, "2 dashes"), (BITTERS, 0.8, "1 dash"),
     (BITTERS, 0.4, "0.5 dashes"), (SYRUP, 7.5, "7.5 mL")],
)  # fmt: skip
def test_an_amount_is_said_as_a_bar_measures_it(
    ingredient: Ingredient, volume_ml: float, words: str
) -> None:
    assert amount_of(ingredient, volume_ml).words == words


@given(volume_ml=some.floats(0.1, 200.0), step_ml=some.sampled_from([5.0, 7.5, 7.393382390625]))
def test_a_step_always_moves_and_lands_on_the_lattice(volume_ml: float, step_ml: float) -> None:
    for ingredient in (BASE, BITTERS, SYRUP):
        step = lattice_step_ml(ingredient, step_ml)
        amount = amount_of(ingredient, volume_ml, Jigger(step_ml))
        assert 0.0 <= amount.less_ml < volume_ml < amount.more_ml
        assert amount.more_ml - amount.less_ml <= 2.0 * step + 1e-9
        for landed in (amount.less_ml, amount.more_ml):
            assert landed / step == pytest.approx(round(landed / step), abs=1e-6)


@pytest.mark.parametrize(
    ("units", "volume_ml", "words"),
    [
        (Units.ML, 45.0, "45 mL"),
        (Units.CL, 45.0, "4.5 cL"),
        (Units.OZ, 44.36029434375, "1½ oz"),  # 1.5 x 29.5735295625 mL (NIST Handbook 44, App. C)
        (Units.OZ, 45.0, "1½ oz"),
        (Units.OZ, 50.0, "1.69 oz"),
    ],
)
def test_a_bar_writes_its_own_unit(units: Units, volume_ml: float, words: str) -> None:
    assert amount_of(BASE, volume_ml, Jigger(5.0, units)).words == words
    assert amount_of(BITTERS, 1.6, Jigger(5.0, units)).words == "2 dashes"


@pytest.mark.parametrize(
    ("lattice", "less_ml", "more_ml"),
    [
        (Lattice.FIVE_ML, 40.0, 50.0),
        (Lattice.SEVEN_AND_A_HALF_ML, 37.5, 52.5),
        (Lattice.QUARTER_OUNCE, 36.9669, 51.7537),
    ],
)
def test_a_tap_goes_to_the_next_amount_of_the_bars_jiggers(
    lattice: Lattice, less_ml: float, more_ml: float
) -> None:
    units = Units.OZ if lattice is Lattice.QUARTER_OUNCE else Units.ML
    amount = amount_of(BASE, 45.0, Jigger.of(BarSettings(units=units, lattice=lattice)))
    assert (amount.less_ml, amount.more_ml) == (
        pytest.approx(less_ml, abs=1e-3), pytest.approx(more_ml, abs=1e-3),
    )  # fmt: skip


@given(volume_ml=some.floats(2.0, 200.0))
def test_a_tap_changes_what_a_bar_of_ounces_reads(volume_ml: float) -> None:
    jigger = Jigger.of(BarSettings(units=Units.OZ, lattice=Lattice.QUARTER_OUNCE))
    now = amount_of(BASE, volume_ml, jigger)
    more = amount_of(BASE, now.more_ml, jigger)
    assert more.words != now.words
    if now.less_ml:
        assert amount_of(BASE, now.less_ml, jigger).words != now.words


def test_what_is_poured_first_can_be_measured() -> None:
    assert nearest_ml(BASE, 50.0, 7.5) == 52.5
    assert nearest_ml(BASE, 1.0, 7.5) == 7.5
    assert nearest_ml(BITTERS, 1.6, 7.5) == pytest.approx(1.6)


def test_a_build_is_told_in_one_line() -> None:
    assert build_words(((BASE, 50.0), (BITTERS, 1.6))) == "50 mL base, 2 dashes bitters"
