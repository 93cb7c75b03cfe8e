from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from service.ingredients.records import Ingredient, Role
from service.web.pages.amounts import amount_of, build_words, lattice_step_ml
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
        amount = amount_of(ingredient, volume_ml, step_ml)
        assert 0.0 <= amount.less_ml < volume_ml < amount.more_ml
        assert amount.more_ml - amount.less_ml <= 2.0 * step + 1e-9
        for landed in (amount.less_ml, amount.more_ml):
            assert landed / step == pytest.approx(round(landed / step), abs=1e-6)


def test_a_build_is_told_in_one_line() -> None:
    assert build_words(((BASE, 50.0), (BITTERS, 1.6))) == "50 mL base, 2 dashes bitters"
