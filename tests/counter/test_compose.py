"""Composing at the counter: names understood, drinks read, reasons that add up, plain JSON."""

from __future__ import annotations

import json

import pytest

from service.counter.coffees import Coffee
from service.counter.compose import ComposeAnswer, ComposeQuestion, OnShelf, compose
from service.counter.compose_json import compose_json, spoken_amount
from service.counter.known import Known
from service.ingredients.records import Role
from service.kit import BadData, CannotCompose, NotFound
from service.kit.jigger import JiggerStep
from service.recommend.compose import Limits, Measures

SHELF = (
    "bourbon", "cognac", "aged-rum", "sweet-vermouth", "oloroso-sherry", "curacao", "medium-amaro",
    "orange-bitters", "mole-bitters", "demerara-syrup", "saline",
)  # fmt: skip
COFFEE = Coffee(notes="dark chocolate, dried cherry")


def on_shelf(*names: str) -> list[OnShelf]:
    return [OnShelf(name, price_per_ml=0.03) for name in names or SHELF]


@pytest.fixture(scope="module")
def answer(known: Known) -> ComposeAnswer:
    return compose(known, ComposeQuestion(COFFEE, on_shelf(), limit=5))


def test_every_drink_is_read_before_and_after_the_bed(answer: ComposeAnswer) -> None:
    assert len(answer.drinks) == 5
    for drink in answer.drinks:
        reading = drink.measured.reading
        assert reading.after.qhe_mg_per_l.mid > reading.before.qhe_mg_per_l.mid
        assert reading.balance_after.distance.mid < 1.0
        assert drink.composed.abv == pytest.approx(reading.after.abv.mid, abs=0.001)
        assert any(caution.code == "caffeine" for caution in reading.cautions)


def test_reasons_are_of_the_bottles_in_the_drink(answer: ComposeAnswer) -> None:
    for drink in answer.drinks:
        heard = {p.ingredient.id for p in drink.composed.drink.pours
                 if p.ingredient.role is not Role.SEASONING}  # fmt: skip
        assert {a.b for a in drink.with_coffee} == heard
        for affinity in (*drink.with_coffee, *drink.together):
            amounts = sum(reason.amount for reason in affinity.reasons)
            assert amounts == pytest.approx(affinity.score, abs=1e-9)
        for pair in drink.together:
            assert {pair.a, pair.b} <= heard


def test_the_coffee_share_of_a_score_is_the_mean_of_the_affinities_shown(
    known: Known, answer: ComposeAnswer
) -> None:
    """Base and modifiers count 1 together each, bitters and sweetener 0.35."""
    for drink in answer.drinks:
        pours = drink.composed.drink.pours
        modifiers = sum(p.ingredient.role is Role.MODIFIER for p in pours)
        voice = {Role.BASE: 1.0, Role.MODIFIER: 1.0 / modifiers, Role.BITTERS: 0.35,
                 Role.SWEETENER: 0.35}  # fmt: skip
        loud = {a.b: voice[known.catalogue.ingredients[a.b].role] for a in drink.with_coffee}
        mean = sum(loud[a.b] * a.score for a in drink.with_coffee) / sum(loud.values())
        coffee = drink.composed.parts
        assert {str(k): v for k, v in coffee.items()}["coffee"] == pytest.approx(mean)


def test_names_and_trade_words_are_understood(known: Known) -> None:
    name = known.catalogue.ingredients["sweet-vermouth"].name
    limits = Limits(must=frozenset({name}))
    found = compose(known, ComposeQuestion(COFFEE, on_shelf(), limit=2, limits=limits))
    for drink in found.drinks:
        assert "sweet-vermouth" in {p.ingredient.id for p in drink.composed.drink.pours}
    with pytest.raises(NotFound) as unknown:
        compose(known, ComposeQuestion(COFFEE, on_shelf("bourbon", "moon juice")))
    assert unknown.value.field == "shelf.1.ingredient"


def test_two_bottles_of_a_kind_are_one_with_the_stock_of_both(known: Known) -> None:
    """20 mL and 20 mL of bourbon, whose least amount is 30 mL."""
    half = [OnShelf("bourbon", 0.05, 20.0), OnShelf("sweet-vermouth", 0.02)]
    with pytest.raises(CannotCompose):
        compose(known, ComposeQuestion(COFFEE, half))
    both = [*half, OnShelf("bourbon", 0.04, 20.0)]
    drink = compose(known, ComposeQuestion(COFFEE, both)).drinks[0].composed
    pour = drink.drink.pours[0]
    assert pour.volume_ml <= 40.0
    rest = 0.02 * drink.drink.pours[1].volume_ml
    assert drink.cost == pytest.approx(0.04 * pour.volume_ml + rest)


def test_garnish_and_coffee_on_the_shelf_are_passed_over(known: Known) -> None:
    shelf = on_shelf("bourbon", "sweet-vermouth", "cherry-garnish")
    assert compose(known, ComposeQuestion(COFFEE, shelf)).drinks


def test_the_slider_from_tried_to_new_moves_the_drinks(known: Known) -> None:
    tried, new = (
        compose(known, ComposeQuestion(COFFEE, on_shelf(), limit=3, novelty=novelty))
        for novelty in (0.0, 1.0)
    )
    first = [[d.composed.drink.pours for d in answer.drinks] for answer in (tried, new)]
    assert first[0] != first[1]
    assert tried.affinity_weights.custom_in_force > new.affinity_weights.custom_in_force


def test_what_could_be_bought_is_named_when_nothing_fits(known: Known) -> None:
    with pytest.raises(CannotCompose) as refused:
        compose(known, ComposeQuestion(COFFEE, on_shelf("bourbon", "orange-bitters")))
    assert "modifier" in refused.value.message
    assert "to the shelf" in refused.value.message


def test_an_unknown_country_is_named(known: Known) -> None:
    with pytest.raises(BadData) as unknown:
        compose(known, ComposeQuestion(COFFEE, on_shelf(), country="XX"))
    assert unknown.value.field == "country"


def test_the_whole_dataset_can_be_asked(known: Known) -> None:
    answer = compose(known, ComposeQuestion(COFFEE, limit=3))
    assert answer.composition.certificate.candidates > 1e12
    assert len(answer.drinks) == 3


def test_the_json_is_json_and_its_shares_sum(known: Known, answer: ComposeAnswer) -> None:
    body = json.loads(json.dumps(compose_json(known, answer), allow_nan=False))
    assert body["certificate"]["proved"] is True
    assert body["weights"]["balance"] == 1.0
    for drink in body["drinks"]:
        assert sum(s["amount"] for s in drink["shares"]) == pytest.approx(drink["score"], abs=1e-4)
        assert sum(drink["parts"].values()) == pytest.approx(drink["score"], abs=1e-4)
        assert drink["reading"]["verdict"] in ("inside", "edge", "outside")


@pytest.mark.parametrize(
    ("step", "ingredient", "volume_ml", "words"),
    [
        (JiggerStep.SEVEN_AND_A_HALF_ML, "bourbon", 52.5, "52.5 mL"),
        (JiggerStep.QUARTER_OUNCE, "bourbon", 8 * JiggerStep.QUARTER_OUNCE.ml, "2 oz"),
        (JiggerStep.QUARTER_OUNCE, "bourbon", 6 * JiggerStep.QUARTER_OUNCE.ml, "1 1/2 oz"),
        (JiggerStep.QUARTER_OUNCE, "curacao", 1 * JiggerStep.QUARTER_OUNCE.ml, "1/4 oz"),
        (JiggerStep.QUARTER_OUNCE, "demerara-syrup", 0.5 * JiggerStep.QUARTER_OUNCE.ml, "1/8 oz"),
        (JiggerStep.FIVE_ML, "orange-bitters", 0.8, "1 dash"),
        (JiggerStep.FIVE_ML, "orange-bitters", 2.4, "3 dashes"),
        (JiggerStep.FIVE_ML, "saline", 0.15, "3 drops"),
        (JiggerStep.FIVE_ML, "weak-saline", 1.6, "2 dashes"),
    ],
)
def test_amounts_are_told_as_they_are_measured(
    known: Known, step: JiggerStep, ingredient: str, volume_ml: float, words: str
) -> None:
    bottle = known.catalogue.ingredients[ingredient]
    assert spoken_amount(bottle, volume_ml, Measures(step=step)) == words
