"""Backwards at the counter: rounded to what a bar measures, read back, told in words."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import Bed
from service.counter.known import Known
from service.counter.measure import Measure
from service.counter.reach import Backwards, Found, ReachQuestion, backwards, nearest_ml
from service.counter.reach_json import reach_json, way_words
from service.drink import Missed, Target, Way
from service.drink.lattice import FIVE_ML, QUARTER_OUNCES, SEVEN_AND_A_HALF_ML, Lattice
from service.ingredients import Catalogue
from service.kit.units import DASH_ML, Weighed
from service.liquid import BuiltOnCube, PreDiluted, Preparation, Stirring

POURS = (("bourbon", 50.0), ("sweet-vermouth", Weighed(26.0)), ("aromatic-bitters", 1.6))


def asked(
    known: Known,
    target: Target,
    lattice: Lattice = FIVE_ML,
    preparation: Preparation | None = None,
    bed: Bed | None = None,
) -> Backwards:
    measure = Measure(POURS, preparation or Stirring(), bed)
    return backwards(known, ReachQuestion(measure, target, lattice))


def found(answer: Backwards, way: Way) -> Found:
    (one,) = (w for w in answer.ways if w.way is way)
    assert isinstance(one, Found)
    return one


def test_every_way_is_answered_once_and_in_the_same_order(known: Known) -> None:
    answer = asked(known, Target(abv=0.24), bed=Bed())
    assert [way.way for way in answer.ways] == list(Way)


@pytest.mark.parametrize("lattice", [FIVE_ML, QUARTER_OUNCES, SEVEN_AND_A_HALF_ML])
def test_measured_pours_stand_on_the_lattice_and_come_near(known: Known, lattice: Lattice) -> None:
    answer = asked(known, Target(volume_ml=110.0), lattice, bed=Bed())
    made = found(answer, Way.AMOUNTS)
    for exact, pour in zip(made.exact.drink.pours, made.measured.drink.pours, strict=True):
        step = lattice.step_of(pour.ingredient, exact.volume_ml)
        assert pour.volume_ml / step == pytest.approx(round(pour.volume_ml / step))
        assert abs(pour.volume_ml - exact.volume_ml) <= 0.5 * step + 1e-9 or (
            pour.volume_ml == pytest.approx(step)
        )
    assert made.exact.reading.after.volume_ml.mid == pytest.approx(110.0, rel=1e-6)
    steps = sum(lattice.step_ml for _ in made.measured.drink.pours)
    assert abs(made.measured.reading.after.volume_ml.mid - 110.0) < steps


def test_seconds_and_water_are_whole_and_hardly_miss(known: Known) -> None:
    answer = asked(known, Target(abv=0.25), bed=Bed())
    stirred, watered = found(answer, Way.STIRRING), found(answer, Way.WATER)
    assert stirred.measured.seconds == round(stirred.exact.seconds or 0.0)
    assert watered.measured.water_ml == pytest.approx(round(watered.exact.water_ml), abs=1e-6)
    for one in (stirred, watered):
        assert one.exact.factor == 1.0
        assert one.exact.drink.pours == answer.drink.pours
        assert one.exact.reading.after.abv.mid == pytest.approx(0.25, abs=1e-6)
        assert one.measured.reading.after.abv.mid == pytest.approx(0.25, abs=0.003)


def test_with_rounded_pours_the_strength_is_sought_again(known: Known) -> None:
    for way in (Way.STIRRING, Way.WATER):
        one = found(asked(known, Target(0.25, 120.0), QUARTER_OUNCES), way)
        assert one.exact.factor != 1.0
        assert one.measured.reading.after.abv.mid == pytest.approx(0.25, abs=0.003)
        assert one.measured.reading.after.volume_ml.mid == pytest.approx(120.0, abs=8.0)


@settings(max_examples=50)
@given(st.floats(0.01, 500.0), st.sampled_from([FIVE_ML, QUARTER_OUNCES]))
def test_a_measured_amount_is_never_nothing(
    catalogue: Catalogue, volume: float, lattice: Lattice
) -> None:
    for name in ("bourbon", "aromatic-bitters", "saline", "simple-syrup"):
        ingredient = catalogue.ingredients[name]
        step = lattice.step_of(ingredient, volume)
        nearest = nearest_ml(lattice, ingredient, volume)
        assert nearest >= step - 1e-12
        assert abs(nearest - volume) <= max(0.5 * step, step - volume) + 1e-6


def test_a_dash_stays_a_dash(catalogue: Catalogue) -> None:
    bitters = catalogue.ingredients["aromatic-bitters"]
    assert nearest_ml(FIVE_ML, bitters, 0.2) == pytest.approx(DASH_ML)
    assert nearest_ml(FIVE_ML, bitters, 2.1) == pytest.approx(3 * DASH_ML)


@pytest.mark.parametrize(
    ("target", "way", "words"),
    [
        (Target(abv=0.25), Way.STIRRING, "stir for "),
        (Target(abv=0.25), Way.WATER, " mL of water to each serve in place of ice, and keep it at"),
        (Target(volume_ml=150.0), Way.AMOUNTS, "bourbon whiskey"),
        (Target(volume_ml=150.0), Way.AMOUNTS, "stir as before"),
        (Target(abv=0.6), Way.STIRRING, "out of reach: 0 to 900 s of stirring bring the glass to"),
        (Target(abv=0.6), Way.WATER, "out of reach: no water at all to three times the drink"),
        (Target(0.25, 100.0), Way.AMOUNTS, "a strength and a volume at once need"),
        (Target(volume_ml=3.0), Way.AMOUNTS, "make several serves at once"),
        (Target(volume_ml=124.0), Way.STIRRING, "longer than a bar stirs"),
    ],
)
def test_it_is_said_plainly(known: Known, target: Target, way: Way, words: str) -> None:
    answer = asked(known, target)
    (one,) = (w for w in answer.ways if w.way is way)
    assert words in way_words(answer, one)


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (BuiltOnCube(), "turn it on its cube for"),
        (PreDiluted(), "stir for"),
    ],
)
def test_the_ice_that_is_asked_for_is_stirred(known: Known, made: Preparation, words: str) -> None:
    answer = asked(known, Target(abv=0.28), preparation=made)
    assert words in way_words(answer, found(answer, Way.STIRRING))


def test_no_strength_can_be_set_by_amounts_where_no_ice_is(known: Known) -> None:
    answer = asked(known, Target(abv=0.25), preparation=PreDiluted())
    (missed,) = (w for w in answer.ways if w.way is Way.AMOUNTS)
    assert isinstance(missed, Missed)
    assert "the glass stays at" in way_words(answer, missed)


def test_cautions_are_those_of_the_strongest_way(known: Known) -> None:
    answer = asked(known, Target(volume_ml=150.0), bed=Bed())
    codes = [caution.code for caution in answer.cautions]
    assert len(codes) == len(set(codes))
    (alcohol,) = (c for c in answer.cautions if c.code == "alcohol")
    grams = [w.measured.reading.after.ethanol_g.mid for w in answer.ways if isinstance(w, Found)]
    assert alcohol.value == pytest.approx(max(grams), rel=0.01)


def test_the_exact_numbers_can_be_asked_forward_again(known: Known) -> None:
    answer = asked(known, Target(abv=0.25), bed=Bed())
    exact = reach_json(answer)["ways"][0]["exact"]
    again = Measure(
        [(p["ingredient"], p["volume_ml"]) for p in exact["pours"]],
        Stirring(seconds=exact["seconds"]),
        Bed(),
    )
    forward = backwards(known, ReachQuestion(again, Target(abv=0.25)))
    assert forward.now.after.abv.mid == pytest.approx(0.25, abs=1e-6)
