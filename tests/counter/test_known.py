"""Own ingredients beside the dataset: built the short way, the same to the last digit."""

from __future__ import annotations

import time
from dataclasses import fields

import numpy as np
import orjson
import pytest

from service.bar import OwnIngredient, with_own_ingredients
from service.counter.coffees import Coffee
from service.counter.known import Known, known_beside, load_known
from service.counter.pairings_json import pairings_json
from service.counter.suggest import Question, pairings
from service.ingredients import Catalogue, CoffeeProfile
from service.ingredients.records import Role
from service.kit import Interval

OWN = (
    OwnIngredient(
        id="own-pier-smoke", version=1, name="Pier smoke", role=Role.MODIFIER,
        notes={"smoke": 0.8, "fig": 0.3},
    ),
    OwnIngredient(
        id="own-kelp-syrup", version=1, name="Kelp syrup", role=Role.SWEETENER,
        composition={"sugar_g_per_l": Interval(580, 600, 640)},
    ),
    OwnIngredient(
        id="own-net-loft-vermouth", version=1, name="Net loft vermouth", role=Role.MODIFIER,
        like_id="sweet-vermouth", notes={"orange": 0.6}, without=("vanilla",),
    ),
)  # fmt: skip
COFFEE = Coffee(CoffeeProfile(), "dried fig, smoke, orange")
# What a request may pay for it [s of one processor].
MOST_SECONDS = 0.3


@pytest.fixture(scope="module")
def extended(known: Known) -> Catalogue:
    return with_own_ingredients(known.catalogue, OWN)


@pytest.fixture(scope="module")
def beside(known: Known, extended: Catalogue) -> Known:
    return known_beside(known, extended)


@pytest.fixture(scope="module")
def anew(extended: Catalogue) -> Known:
    return load_known(extended)


def test_the_matrices_are_the_same_bit_for_bit(beside: Known, anew: Known) -> None:
    one, other = beside.knowledge, anew.knowledge
    assert one.space.ingredients == other.space.ingredients
    for name in ("notes", "trust", "odorants", "odorant_notes"):
        left, right = getattr(one.space, name), getattr(other.space, name)
        assert (left != right).nnz == 0
    assert np.array_equal(one.space.families, other.space.families)
    assert np.array_equal(one.space.rarity, other.space.rarity)
    assert np.array_equal(one.custom.attested.surplus, other.custom.attested.surplus)
    assert np.array_equal(one.custom.together, other.custom.together)
    assert one.weights == other.weights


def test_what_is_kept_of_the_dataset_is_what_would_be_built(beside: Known, anew: Known) -> None:
    assert beside.larder == anew.larder
    assert beside.priors == anew.priors
    assert set(beside.names.names) == set(anew.names.names)
    for field in fields(anew.band):
        left, right = getattr(beside.band, field.name), getattr(anew.band, field.name)
        assert repr(left) == repr(right)
    for field in fields(anew.vocabulary):
        left, right = getattr(beside.vocabulary, field.name), getattr(anew.vocabulary, field.name)
        assert repr(left) == repr(right)


def test_every_answer_is_the_same(beside: Known, anew: Known) -> None:
    question = Question(COFFEE, limit=100)
    one = orjson.dumps(pairings_json(beside, pairings(beside, question)))
    assert one == orjson.dumps(pairings_json(anew, pairings(anew, question)))
    told = {line["ingredient"] for line in orjson.loads(one)["pairings"]["modifier"]}
    assert {"own-pier-smoke", "own-net-loft-vermouth"} <= told


def test_the_dataset_itself_stays_as_it_was(known: Known, beside: Known) -> None:
    before = dict(known.catalogue.ingredients)
    known_beside(known, beside.catalogue)
    assert dict(known.catalogue.ingredients) == before
    assert {i: beside.catalogue.ingredients[i] for i in before} == before
    assert not any(name.startswith("own") for name in known.knowledge.space.ingredients)


def test_an_own_ingredient_costs_the_next_request_little(known: Known, extended: Catalogue) -> None:
    taken = []
    for _ in range(3):
        begun = time.process_time()
        known_beside(known, extended)
        taken.append(time.process_time() - begun)
    assert min(taken) < MOST_SECONDS
