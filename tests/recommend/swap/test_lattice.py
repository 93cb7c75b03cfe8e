"""What a bar can measure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.counter.known import Known
from service.drink.lattice import FIVE_ML, QUARTER_OUNCES, Lattice, by_the_dash
from service.kit import OutOfRange
from service.kit.units import DASH_ML, DROP_ML, US_FLUID_OUNCE_ML


def test_pours_go_by_steps_and_small_ones_by_half_steps(known: Known) -> None:
    vermouth = known.catalogue.ingredients["sweet-vermouth"]
    assert FIVE_ML.between(vermouth, 0, 25).tolist() == [2.5, 5, 7.5, 10, 15, 20, 25]


def test_bitters_go_by_whole_dashes(known: Known) -> None:
    bitters = known.catalogue.ingredients["orange-bitters"]
    assert by_the_dash(bitters)
    counts = FIVE_ML.between(bitters, 0, 4) / DASH_ML
    assert counts.tolist() == pytest.approx([1, 2, 3, 4, 5])


def test_strong_salt_goes_by_the_drop_and_weak_salt_by_the_dash(known: Known) -> None:
    strong, weak = (known.catalogue.ingredients[i] for i in ("saline", "weak-saline"))
    assert FIVE_ML.between(strong, 0, 0.15).tolist() == pytest.approx([0.05, 0.1, 0.15])
    assert FIVE_ML.between(weak, 0, 1).tolist() == pytest.approx([DASH_ML])
    assert FIVE_ML.step_of(strong, 1.0) == DROP_ML


def test_a_quarter_ounce_is_a_quarter_of_the_exact_ounce(known: Known) -> None:
    gin = known.catalogue.ingredients["london-gin"]
    steps = QUARTER_OUNCES.between(gin, 7, 70) / (US_FLUID_OUNCE_ML / 4)
    assert steps.tolist() == pytest.approx(range(1, 10), abs=1e-5)


@given(st.floats(0.5, 30), st.floats(0.5, 30))
def test_every_amount_is_a_whole_number_of_steps_or_half_steps(step: float, fine: float) -> None:
    from service.ingredients.records import Role
    from tests.conftest import small_ingredient

    lattice = Lattice(step, fine, 2 * fine)
    for amount in lattice.between(small_ingredient("x", Role.BASE), 0, 100):
        steps, halves = amount / step, amount / fine
        assert min(abs(steps - round(steps)), abs(halves - round(halves))) < 1e-4


def test_a_step_must_be_one_that_a_jigger_has() -> None:
    with pytest.raises(OutOfRange):
        Lattice(step_ml=0.1)
