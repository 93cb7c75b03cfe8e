"""Scores are sums of what is listed, the same whichever way and whenever they are asked."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from service.counter.known import Known
from service.ingredients import CoffeeProfile
from service.ingredients.records import Roast, Role
from service.kit import NotFound, OutOfRange
from service.recommend import (
    Part,
    Weights,
    affinities,
    affinity,
    of_role,
    pair_affinities,
    parts_with_all,
    rank,
    rank_each,
)
from tests.recommend.conftest import aroma_of_bag

BAGS = ("", "dark chocolate, caramel", "bergamot, jasmine, peach", "smoke")


@pytest.mark.parametrize("words", BAGS)
def test_reasons_sum_to_the_score_and_to_each_part(known: Known, words: str) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(Roast.LIGHT), words)
    for role in (Role.BASE, Role.MODIFIER, Role.BITTERS):
        found = rank(knowledge, aroma, of_role(known.catalogue, role), knowledge.weights, 60)
        for answer in found:
            assert sum(r.amount for r in answer.reasons) == pytest.approx(answer.score, abs=1e-9)
            assert sum(answer.parts.values()) == pytest.approx(answer.score, abs=1e-9)
            for part in Part:
                listed = sum(r.amount for r in answer.reasons if r.part is part)
                assert listed == pytest.approx(answer.parts[part], abs=1e-9)


def test_leaving_a_note_out_lowers_the_score_by_what_was_listed(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(Roast.DARK), "dark chocolate, caramel, walnut")
    row = knowledge.space.index["cacao-liqueur-dark"]
    parts = parts_with_all(knowledge, aroma, knowledge.weights)
    whole = affinity(knowledge, aroma, parts, row, knowledge.weights)
    listed = [r for r in whole.reasons if r.part is Part.ECHO and r.names]
    assert len(listed) >= 3
    for reason in listed:
        column = knowledge.space.descriptor_index[reason.names[0]]
        left = {name: getattr(aroma, name).copy() for name in ("notes", "named", "kin", "apart")}
        for vector in left.values():
            vector[column] = 0.0
        without = parts_with_all(knowledge, replace(aroma, **left), knowledge.weights)
        # The other parts stand on the whole aroma; the echo falls by exactly what was listed.
        assert whole.parts[Part.ECHO] - without.echo[row] == pytest.approx(reason.amount, abs=1e-9)


def test_a_pair_scores_the_same_whichever_is_named_first(known: Known) -> None:
    names = ["bourbon", "sweet-vermouth", "walnut-bitters", "coffee-dark-washed-arabica"]
    pairs = [(a, b) for a, b in product(names, names) if a != b]
    there = pair_affinities(known.knowledge, known.catalogue, pairs)
    back = pair_affinities(known.knowledge, known.catalogue, [(b, a) for a, b in pairs])
    assert [x.score for x in there] == [x.score for x in back]


def test_parts_are_symmetric_in_the_matrices_too(known: Known) -> None:
    knowledge = known.knowledge
    weights = Weights(1.0, 0.0, 1.0, 1.0)
    from service.aroma import ingredient_aroma

    names = knowledge.space.ingredients[::17]
    table = np.array(
        [
            [
                parts_with_all(knowledge, ingredient_aroma(knowledge.space, a), weights).score[
                    knowledge.space.index[b]
                ]
                for b in names
            ]
            for a in names
        ]
    )
    assert np.allclose(table, table.T, atol=1e-12)


def test_one_pass_for_three_roles_is_the_same_as_three(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "hazelnut")
    shelves = [of_role(known.catalogue, r) for r in (Role.BASE, Role.MODIFIER, Role.BITTERS)]
    together = rank_each(knowledge, aroma, shelves, knowledge.weights, 7)
    assert together == [rank(knowledge, aroma, s, knowledge.weights, 7) for s in shelves]


def test_same_question_same_answer(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "honey")
    bases = of_role(known.catalogue, Role.BASE)
    once = rank(knowledge, aroma, bases, knowledge.weights, 47)
    assert once == rank(knowledge, aroma, list(reversed(bases)), knowledge.weights, 47)
    assert [a.score for a in once] == sorted((a.score for a in once), reverse=True)


def test_what_is_not_there_is_told_and_not_scored(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "")
    assert rank(knowledge, aroma, [], knowledge.weights) == []
    parts = parts_with_all(knowledge, aroma, knowledge.weights)
    assert affinities(knowledge, aroma, parts, [], knowledge.weights) == []
    with pytest.raises(OutOfRange):
        rank(knowledge, aroma, ["bourbon"], knowledge.weights, 0)
    coffees = ("coffee-dark-washed-arabica", "coffee-light-washed-arabica")
    with pytest.raises(NotFound):
        pair_affinities(knowledge, known.catalogue, [coffees])


def test_custom_names_only_pairs_that_a_source_attests(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "dark chocolate")
    custom = knowledge.custom
    named = [
        reason.names
        for answer in rank(
            knowledge, aroma, of_role(known.catalogue, Role.MODIFIER), knowledge.weights, 30
        )
        for reason in answer.reasons
        if reason.part is Part.CUSTOM and reason.names
    ]
    assert named
    for like_a, like_b in named:
        assert custom.specs[custom.index[like_a], custom.index[like_b]] > 0


def test_contrast_names_two_different_families(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "")
    answers = rank(knowledge, aroma, of_role(known.catalogue, Role.BITTERS), knowledge.weights, 20)
    named = [r.names for a in answers for r in a.reasons if r.part is Part.CONTRAST and r.names]
    assert named
    assert all(a != b and {a, b} <= set(known.catalogue.families) for a, b in named)


def test_confidence_lies_between_nothing_and_certainty(known: Known) -> None:
    knowledge = known.knowledge
    aroma = aroma_of_bag(known, CoffeeProfile(), "vanilla")
    answers = rank(knowledge, aroma, of_role(known.catalogue, Role.BASE), knowledge.weights, 47)
    assert all(0.0 < answer.confidence < 1.0 for answer in answers)


def test_novelty_out_of_range_is_refused() -> None:
    with pytest.raises(OutOfRange):
        Weights(1.0, 1.0, 1.0, 1.0, novelty=1.2)
