"""The arrays that a search starts from say what the records and the ranking say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from service.aroma import ingredient_aroma
from service.counter.known import Known
from service.ingredients.records import Role
from service.kit import NotFound
from service.recommend import parts_with_all
from service.recommend.compose import Bottle, Limits
from service.recommend.compose.rack import affinities_of_all, build_rack, fits_a_role
from tests.recommend.compose.conftest import BAR, MakeProblem


@pytest.mark.parametrize("novelty", [0.0, 0.5, 0.8, 1.0])
def test_pairs_are_scored_as_the_ranking_scores_them(known: Known, novelty: float) -> None:
    knowledge = known.knowledge
    weights = replace(knowledge.weights, novelty=novelty)
    table = affinities_of_all(knowledge, weights)
    assert (table == table.T).all()
    for name in ("bourbon", "sweet-vermouth", "mole-bitters"):
        aroma = ingredient_aroma(knowledge.space, name)
        row = table[knowledge.space.index[name]]
        assert row == pytest.approx(parts_with_all(knowledge, aroma, weights).score, abs=1e-12)


def test_the_rack_holds_what_is_allowed_in_order_of_role_and_id(problem: MakeProblem) -> None:
    limits = Limits(must_not=frozenset({"cognac"}), without_allergens=frozenset({"sulphites"}))
    rack = build_rack(problem((*BAR, "cherry-garnish", "verjus"), limits=limits))
    ids = [bottle.ingredient.id for bottle in rack.bottles]
    assert "cognac" not in ids
    assert "cherry-garnish" not in ids
    assert "verjus" not in ids
    assert not any("sulphites" in b.ingredient.allergens for b in rack.bottles)
    bases = [ids[row] for row in rack.places[Role.BASE]]
    assert bases == sorted(bases) == ["aged-rum", "bourbon", "london-gin", "rye-whiskey"]


def test_a_millilitre_holds_what_the_label_says(problem: MakeProblem) -> None:
    """Strength by volume at 20 °C: 0.78924 g of ethanol in a mL of it (OIML R 22, 1975)."""
    question = problem(BAR)
    rack = build_rack(question)
    for row, bottle in enumerate(rack.bottles):
        holds = bottle.ingredient.composition
        _, ethanol, dissolved, sugar, acid, salt, qhe, caffeine, _ = rack.contents[:, row]
        assert ethanol == pytest.approx(0.78924 * holds.abv.mid, rel=1e-4, abs=1e-9)
        assert 1000 * sugar == pytest.approx(holds.sugar_g_per_l.mid)
        assert 1000 * acid == pytest.approx(holds.acid_g_per_l.mid)
        assert 1000 * salt == pytest.approx(holds.salt_g_per_l.mid)
        assert 1000 * qhe == pytest.approx(holds.qhe_mg_per_l.mid)
        assert 1000 * caffeine == pytest.approx(holds.caffeine_mg_per_l.high)
        assert dissolved == pytest.approx(sugar + acid + salt)


def test_amounts_end_where_the_stock_does(problem: MakeProblem) -> None:
    question = problem(("bourbon", "curacao"))
    shelf = (replace(question.shelf[0], stock_ml=50.0), replace(question.shelf[1], stock_ml=7.0))
    rack = build_rack(replace(question, shelf=shelf))
    assert rack.amounts_ml == ((30.0, 37.5, 45.0),)
    assert rack.most_ml.tolist() == [45.0]


def test_only_syrups_and_saline_stand_beside_the_bottles(known: Known) -> None:
    fit = {i.id for i in known.catalogue.of_role(Role.SEASONING) if fits_a_role(i)}
    assert fit == {"saline", "weak-saline"}
    dry = [i for i in known.catalogue.of_role(Role.SWEETENER) if not fits_a_role(i)]
    assert all(i.composition.sugar_g_per_l.mid > 1100 for i in dry)
    assert dry


def test_a_bottle_that_nothing_is_known_of_is_named(problem: MakeProblem) -> None:
    question = problem(BAR)
    stranger = replace(question.shelf[0].ingredient, id="harbour-moonshine")
    with pytest.raises(NotFound) as unknown:
        build_rack(replace(question, shelf=(*question.shelf, Bottle(stranger))))
    assert "harbour-moonshine" in unknown.value.message


def test_prices_unknown_are_those_of_the_middle_of_the_role(problem: MakeProblem) -> None:
    question = problem(("aged-rum", "bourbon", "cognac", "curacao"))
    prices = (None, 0.04, 0.08, None)
    shelf = tuple(
        replace(bottle, price_per_ml=price)
        for bottle, price in zip(question.shelf, prices, strict=True)
    )
    rack = build_rack(replace(question, shelf=shelf))
    assert rack.contents[-1].tolist() == pytest.approx([0.06, 0.04, 0.08, 0.0])
    assert np.array(rack.ids(rack.unpriced)).tolist() == ["aged-rum", "curacao"]
