"""A reading: ordered intervals, the bed's effect, the same answer every time."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import Bed
from service.drink import Drink, read, read_many
from service.drink.state import State
from service.ingredients.records import Roast
from service.kit import Interval, OutOfRange
from service.liquid import BuiltOnCube, PreDiluted, Stirring, Unchilled

MANHATTAN = {"rye_whiskey": 50, "sweet_vermouth": 20, "aromatic_bitters": 0.8}


def numbers(reading):
    states = [getattr(s, f.name) for s in (reading.before, reading.after) for f in fields(State)]
    balances = [reading.balance_before.distance, reading.balance_after.distance]
    return [*states, *balances, reading.kept_ml, reading.yield_share, reading.drain_seconds]


def test_without_coffee_nothing_changes(mix, band):
    reading = read(mix(**MANHATTAN), band, draws=100)
    assert reading.after == reading.before
    assert reading.balance_after == reading.balance_before
    assert reading.kept_ml == Interval.exactly(0.0)
    assert reading.yield_share == Interval.exactly(1.0)
    assert reading.caffeine_ceiling_mg == 0.0


def test_coffee_takes_volume_and_gives_bitterness_and_caffeine(mix, band):
    reading = read(mix(Bed(), **MANHATTAN), band, draws=200)
    before, after = reading.before, reading.after
    assert after.volume_ml.mid < before.volume_ml.mid
    assert after.qhe_mg_per_l.mid > before.qhe_mg_per_l.mid
    assert after.bitter.mid > before.bitter.mid
    assert after.sweet.mid < before.sweet.mid
    assert after.caffeine_mg.mid > 5.0
    assert after.caffeine_mg.high <= reading.caffeine_ceiling_mg
    assert after.ethanol_g.mid < before.ethanol_g.mid
    assert after.celsius.mid > before.celsius.mid


def test_common_practice_lies_inside_the_intervals(mix, band):
    """Common practice, no source: 15 g keep a tenth of a 115 mL drink, two to three minutes."""
    reading = read(mix(Bed(dose_g=15), bourbon=58, sweet_vermouth=22), band)
    assert reading.before.volume_ml.mid == pytest.approx(115.0, abs=3.0)
    assert reading.kept_ml.contains(11.5)
    assert reading.drain_seconds.contains(120.0)
    assert reading.drain_seconds.contains(180.0)


def test_the_same_question_gets_the_same_answer(mix, band):
    drink = mix(Bed(), **MANHATTAN)
    assert read(drink, band, draws=300) == read(drink, band, draws=300)
    assert read(drink, band, draws=300) != read(drink, band, draws=300, seed=1)


def test_one_drink_reads_the_same_alone_and_in_a_list(mix, band):
    drinks = [
        mix(Bed(dose_g=12), **MANHATTAN),
        mix(**MANHATTAN),
        mix(Bed(roast=Roast.DARK), london_gin=45, dry_vermouth=20),
        mix(None, PreDiluted(dilution=0.3), cognac=50, mint_liqueur_white=20),
        mix(Bed(), BuiltOnCube(), bourbon=50, simple_syrup=5, aromatic_bitters=1.6),
    ]
    listed = read_many(drinks, band, draws=100)
    for drink, reading in zip(drinks, listed, strict=True):
        alone = read(drink, band, draws=100)
        for one, other in zip(numbers(alone), numbers(reading), strict=True):
            assert (one.low, one.mid, one.high) == pytest.approx(
                (other.low, other.mid, other.high), rel=1e-9, abs=1e-9
            )
        assert alone.verdict is reading.verdict
        assert alone.cautions == reading.cautions


def test_an_empty_list_is_an_empty_answer(band):
    assert read_many([], band) == []


def test_no_draws_gives_the_usual_bottles_alone(mix, band):
    reading = read(mix(Bed(), **MANHATTAN), band, draws=0)
    assert all(number.width == 0.0 for number in numbers(reading))
    drawn = read(mix(Bed(), **MANHATTAN), band, draws=50)
    assert reading.after.abv.mid == pytest.approx(drawn.after.abv.mid)
    assert reading.verdict is drawn.verdict


def test_more_coffee_keeps_more_and_gives_more(mix, band):
    doses = (8.0, 12.0, 16.0, 20.0)
    readings = read_many([mix(Bed(dose_g=d), **MANHATTAN) for d in doses], band, draws=50)
    kept = [r.kept_ml.mid for r in readings]
    bitter = [r.after.bitter.mid for r in readings]
    caffeine = [r.after.caffeine_mg.mid for r in readings]
    assert (kept, bitter, caffeine) == (sorted(kept), sorted(bitter), sorted(caffeine))


def test_more_modifier_is_sweeter_and_weaker_with_the_same_bottles(mix, band):
    drinks = [mix(Bed(), rye_whiskey=50, sweet_vermouth=v) for v in (10, 20, 30, 40)]
    readings = read_many(drinks, band, draws=50)
    sweet = [r.after.sweet.mid for r in readings]
    strong = [r.after.abv.mid for r in readings]
    assert sweet == sorted(sweet)
    assert strong == sorted(strong, reverse=True)


def test_a_longer_stir_dilutes_more(mix, band):
    drinks = [mix(None, Stirring(seconds=float(s)), **MANHATTAN) for s in (10, 30, 60)]
    volumes = [r.before.volume_ml.mid for r in read_many(drinks, band, draws=0)]
    assert volumes == sorted(volumes)


def test_a_measured_dilution_does_not_depend_on_the_hand(mix, band):
    reading = read(mix(None, PreDiluted(dilution=0.4, celsius=-4.0), **MANHATTAN), band, draws=200)
    assert reading.before.celsius == Interval.exactly(-4.0)
    stirred = read(mix(None, Stirring(), **MANHATTAN), band, draws=200)
    assert stirred.before.celsius.width > 1.0
    assert stirred.before.volume_ml.width > reading.before.volume_ml.width


def test_what_the_liquid_room_refuses_is_refused_with_its_field(mix, band):
    with pytest.raises(OutOfRange, match="dilution"):
        read(mix(None, PreDiluted(dilution=5.0), **MANHATTAN), band)
    with pytest.raises(OutOfRange, match="seconds"):
        read(mix(None, Stirring(seconds=5000.0), **MANHATTAN), band)


def test_a_bed_that_drinks_the_drink_is_refused_with_what_to_do(mix, band):
    with pytest.raises(OutOfRange, match="pour more, or use less coffee"):
        read(mix(Bed(dose_g=30), bourbon=25), band)


def test_a_small_drink_through_much_coffee_still_has_numbers(mix, band):
    reading = read(mix(Bed(dose_g=20), bourbon=30), band, draws=500)
    assert 0.0 < reading.yield_share.low < 0.2
    assert reading.after.volume_ml.low > 0.0


def test_a_drink_may_be_left_warm(mix, band):
    reading = read(mix(None, Unchilled(celsius=20.0), **MANHATTAN), band, draws=20)
    assert reading.before.celsius == Interval.exactly(20.0)
    assert reading.before.abv.mid > 0.35


IDS = (
    "bourbon", "london-gin", "cognac", "sweet-vermouth", "dry-vermouth", "banana-liqueur",
    "red-bitter-aperitif", "walnut-liqueur", "fernet", "aromatic-bitters", "simple-syrup",
    "saline", "water",
)  # fmt: skip
recipes = st.dictionaries(st.sampled_from(IDS), st.floats(0.5, 60.0), min_size=1, max_size=5)


@settings(max_examples=40, deadline=None)
@given(
    recipe=recipes,
    dose=st.one_of(st.none(), st.floats(5.0, 25.0)),
    dilution=st.floats(0.2, 0.9),
)
def test_any_drink_gets_ordered_finite_numbers(pour, band, recipe, dose, dilution):
    pours = tuple(pour(i, v) for i, v in recipe.items())
    bed = None if dose is None else Bed(dose_g=dose)
    drink = Drink((*pours, pour("vodka", 30.0)), PreDiluted(dilution=dilution, celsius=4.0), bed)
    reading = read(drink, band, draws=40)
    for number in numbers(reading):
        assert np.isfinite([number.low, number.mid, number.high]).all()
        assert number.low <= number.mid <= number.high
    for balance in (reading.balance_before, reading.balance_after):
        parts = (
            balance.inside_probability,
            balance.edge_probability,
            balance.outside_probability,
        )
        assert sum(parts) == pytest.approx(1.0)
        assert min(parts) >= 0.0
    assert reading.after.volume_ml.mid > 0.0
