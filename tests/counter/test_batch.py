"""A batch done again by hand, on paper."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.counter.batch import (
    Part,
    batch,
    need,
    pour_cost,
    price_for,
    serves_of_bottles,
)
from service.kit import BadData, OutOfRange

# Worked by hand: 24 serves, factor 1.25, so 30 times each amount.
# rye 45 mL: 1350 mL, two bottles of 700 (1400), 50 mL left; 1350 / 700 * 28.00 = 54.00
# vermouth 20 mL: 600 mL, one bottle of 750, 150 mL left; 600 / 750 * 12.50 = 10.00
# bitters 1.6 mL: 48 mL, one bottle of 100, 52 mL left, nobody knows its price
PARTS = (
    Part("rye-whiskey", 45.0, 700.0, 28.0, stock_ml=1_000.0),
    Part("sweet-vermouth", 20.0, 750.0, 12.5, stock_ml=750.0),
    Part("aromatic-bitters", 1.6, 100.0, None, stock_ml=100.0),
)


def test_a_batch_worked_by_hand() -> None:
    made = batch(PARTS, serves=24, factor=1.25, water_ml=32.0, coffee_g=15.0)
    rye, vermouth, bitters = made.lines
    assert (rye.volume_ml, rye.bottles, rye.left_ml, rye.short_ml) == (1350.0, 2, 50.0, 350.0)
    assert rye.cost == pytest.approx(54.0)
    assert (vermouth.volume_ml, vermouth.bottles, vermouth.left_ml) == (600.0, 1, 150.0)
    assert vermouth.cost == pytest.approx(10.0)
    assert bitters.volume_ml == pytest.approx(48.0)
    assert bitters.cost is None
    assert made.unpriced == ("aromatic-bitters",)
    assert made.water_ml == pytest.approx(960.0)
    assert made.coffee_g == pytest.approx(450.0)
    assert made.poured_ml == pytest.approx(1350.0 + 600.0 + 48.0 + 960.0)
    assert made.cost == pytest.approx(64.0)
    assert made.cost_per_serve == pytest.approx(64.0 / 24)


def test_pour_cost_and_price_are_each_others_reverse() -> None:
    """A serve of 3.00 sold at 15.00 has a pour cost of a fifth; so has its price for a fifth."""
    assert pour_cost(3.0, 15.0) == pytest.approx(0.2)
    assert price_for(3.0, 0.2) == pytest.approx(15.0)
    with pytest.raises(BadData):
        pour_cost(3.0, 0.0)
    with pytest.raises(OutOfRange):
        price_for(3.0, 1.2)


def test_a_bottle_that_is_just_enough_is_enough() -> None:
    assert batch([Part("gin", 35.0, 700.0)], serves=20).lines[0].bottles == 1
    assert batch([Part("gin", 35.1, 700.0)], serves=20).lines[0].bottles == 2
    assert serves_of_bottles(Part("gin", 35.0, 700.0), 1) == 20


def test_how_far_whole_bottles_reach() -> None:
    """Two bottles of 700 mL at 45 mL times 1.25: 1400 / 56.25 = 24.9."""
    assert serves_of_bottles(PARTS[0], 2, 1.25) == 24
    assert serves_of_bottles(Part("gin", 35.0), 2) == 0


def test_what_to_buy_counts_what_stands_there_unless_it_is_out() -> None:
    cognac = Part("cognac", 0.0, 700.0, 33.0, stock_ml=500.0)
    assert need(cognac, 500.0).bottles == 0
    assert need(cognac, 1_600.0).bottles == 2
    assert need(cognac, 1_600.0).cost == pytest.approx(66.0)
    assert need(cognac, 1_600.0, out=True).bottles == 3


@pytest.mark.parametrize("serves", [0, -3, 1_001])
def test_a_number_of_serves_that_nobody_makes_is_refused(serves: int) -> None:
    with pytest.raises(OutOfRange):
        batch(PARTS, serves=serves)


@given(
    volume=st.floats(0.1, 200.0),
    size=st.floats(50.0, 5_000.0),
    serves=st.integers(1, 1_000),
    factor=st.floats(0.5, 3.0),
)
def test_bottles_hold_what_is_poured_and_no_whole_one_is_left(
    volume: float, size: float, serves: int, factor: float
) -> None:
    line = batch([Part("x", volume, size)], serves=serves, factor=factor).lines[0]
    assert line.bottles is not None
    assert line.bottles * size >= line.volume_ml - 1e-3
    assert (line.bottles - 1) * size < line.volume_ml
    assert 0 <= line.left_ml < size + 1e-6
