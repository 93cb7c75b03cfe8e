"""The best of a long list are those that the plain definition ranks first, found by scoring few."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from benchmarks.synthetic import Synthetic, breed
from service.aroma import Aroma, Rows, coffee_aroma
from service.counter.known import Known
from service.ingredients import Catalogue, CoffeeProfile
from service.ingredients.records import Roast, Role
from service.recommend import (
    Asked,
    Knowledge,
    Parts,
    Weights,
    affinity,
    asked,
    best_of,
    most_possible,
    of_role,
    parts_with,
    parts_with_all,
    pool_of,
    pool_of_rows,
    rank,
    rank_each,
)
from service.recommend import best as best_module
from service.recommend.best import falling
from tests.recommend.conftest import aroma_of_bag

# Fewer than are kept in tables, with all bridges and with hubs; and more than are kept.
SIZES = (239, 700, 5000)
BAGS = ("", "dark chocolate, caramel", "bergamot, jasmine, peach", "smoke")
amounts = st.floats(-2.0, 3.0, allow_subnormal=False)
any_weights = st.builds(
    Weights,
    echo=amounts,
    bridge=amounts,
    contrast=amounts,
    custom=amounts,
    novelty=st.floats(0.0, 1.0),
    named=st.floats(0.0, 3.0),
)


@pytest.fixture(scope="module")
def bred(catalogue: Catalogue) -> dict[int, Synthetic]:
    return {size: breed(catalogue, size, seed=size) for size in SIZES}


@st.composite
def coffees(draw: st.DrawFn, synthetic: Synthetic) -> Aroma:
    """Any roast with up to four notes on its bag."""
    space = synthetic.knowledge.space
    notes = st.dictionaries(st.sampled_from(space.descriptors), st.floats(0.1, 1.0), max_size=4)
    profile = CoffeeProfile(draw(st.sampled_from(list(Roast))))
    return coffee_aroma(space, synthetic.catalogue, profile, draw(notes))


def plain_scores(knowledge: Knowledge, aroma: Aroma, weights: Weights) -> NDArray[np.float64]:
    """The definition of a score, one ingredient and one number after another, nothing reused."""
    space, custom, learnt = knowledge.space, knowledge.custom, knowledge.contrast
    notes = space.notes.toarray()
    hub_notes = notes[knowledge.bridges.hubs]
    counted = weights.echo * aroma.notes + weights.named * (
        aroma.named + weights.kin * aroma.kin + aroma.apart
    )
    ours, anchors = custom.voice_of(space, aroma), len(custom.ids)
    kinds = np.zeros(len(learnt.profiles))
    for share, side in aroma.sides:
        families = np.sqrt(side**2 @ space.family_of.toarray())
        kinds += share * np.clip(learnt.profiles @ families, 0.0, 1.0) ** 8
    to_hub = hub_notes @ aroma.notes
    scores = []
    for row, of_row in enumerate(notes):
        from_hub = hub_notes @ of_row
        firm = (to_hub >= 0.25) & (from_hub >= 0.25) & (knowledge.bridges.hubs != row)
        path = np.sqrt(to_hub[firm] * from_hub[firm]).max(initial=0.0)
        bridge = (1.0 - min(max(float(of_row @ aroma.notes), 0.0), 1.0)) * path
        like = np.clip(learnt.profiles @ space.families[row], 0.0, 1.0) ** 8
        contrast = like @ learnt.surplus @ kinds
        theirs = custom.voices[[row]][0]
        poured = theirs[:anchors] @ custom.attested.surplus @ ours[:anchors]
        poured += theirs[anchors:] @ custom.record @ ours[anchors : 2 * anchors]
        poured += theirs[anchors:] @ custom.practice @ ours[2 * anchors :]
        scores.append(
            of_row @ counted
            + weights.bridge * bridge
            + weights.contrast * contrast
            + weights.custom * 2.0 * (1.0 - weights.novelty) * poured
        )
    return np.array(scores)


@pytest.mark.parametrize("words", BAGS)
@pytest.mark.parametrize("roast", [Roast.LIGHT, Roast.DARK])
def test_the_fast_path_gives_the_plain_definition_on_the_shipped_catalogue(
    known: Known, words: str, roast: Roast
) -> None:
    knowledge, weights = known.knowledge, known.knowledge.weights
    aroma = aroma_of_bag(known, CoffeeProfile(roast), words)
    plain = plain_scores(knowledge, aroma, weights)
    assert parts_with_all(knowledge, aroma, weights).score == pytest.approx(plain, abs=1e-12)
    for role in (Role.BASE, Role.MODIFIER, Role.BITTERS):
        pool = pool_of(knowledge, of_role(known.catalogue, role))
        rows, parts = best_of(knowledge, pool, aroma, weights, 10)
        expected = pool.rows[falling(plain[pool.rows], pool.rows)[:10]]
        assert rows.tolist() == expected.tolist()
        assert parts.score == pytest.approx(plain[expected], abs=1e-12)


@pytest.mark.parametrize("words", BAGS)
def test_a_pool_gives_the_same_suggestions_and_reasons_as_a_list_of_ids(
    known: Known, words: str
) -> None:
    knowledge, weights = known.knowledge, known.knowledge.weights
    aroma = aroma_of_bag(known, CoffeeProfile(), words)
    lists = [of_role(known.catalogue, role) for role in (Role.BASE, Role.MODIFIER)]
    by_ids = rank_each(knowledge, aroma, lists, weights, 8)
    by_pools = rank_each(knowledge, aroma, [pool_of(knowledge, ids) for ids in lists], weights, 8)
    for ids, pools in zip(by_ids, by_pools, strict=True):
        for one, other in zip(ids, pools, strict=True):
            assert one.b == other.b
            assert one.score == pytest.approx(other.score, abs=1e-12)
            assert one.confidence == pytest.approx(other.confidence, abs=1e-12)
            named, also = ([r for r in a.reasons if r.names] for a in (one, other))
            assert [(r.part, r.names) for r in named] == [(r.part, r.names) for r in also]
            assert [r.amount for r in named] == pytest.approx([r.amount for r in also], abs=1e-12)


@pytest.mark.parametrize("size", SIZES)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_the_best_of_any_pool_are_those_of_scoring_everything(
    bred: dict[int, Synthetic], size: int, data: st.DataObject
) -> None:
    knowledge = bred[size].knowledge
    aroma = data.draw(coffees(bred[size]))
    weights = data.draw(st.one_of(st.just(knowledge.weights), any_weights))
    limit = data.draw(st.integers(1, 60))
    random = np.random.default_rng(data.draw(st.integers(0, 1000)))
    rows = np.flatnonzero(random.random(size) < data.draw(st.floats(0.02, 0.4)))
    if not len(rows):
        return
    pool = pool_of_rows(knowledge, rows)
    question = asked(knowledge, aroma, weights)
    scores = parts_with(knowledge, question, rows).score
    assert (most_possible(pool, question) >= scores).all()
    found, parts = best_of(knowledge, pool, aroma, weights, limit)
    expected = falling(scores, rows)[:limit]
    assert found.tolist() == rows[expected].tolist()
    assert parts.score == pytest.approx(scores[expected], abs=1e-12)


@pytest.mark.parametrize("words", BAGS)
def test_rows_made_when_asked_for_give_what_the_plain_definition_gives(
    known: Known, bred: dict[int, Synthetic], words: str
) -> None:
    knowledge = bred[5000].knowledge
    assert knowledge.custom.voices.kept is None
    aroma = aroma_of_bag(replace(known, knowledge=knowledge), CoffeeProfile(), words)
    plain = plain_scores(knowledge, aroma, knowledge.weights)
    whole = parts_with_all(knowledge, aroma, knowledge.weights).score
    assert whole == pytest.approx(plain, abs=1e-12)


@pytest.mark.parametrize("words", BAGS)
def test_few_of_many_candidates_are_scored(
    known: Known, bred: dict[int, Synthetic], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    knowledge = bred[5000].knowledge
    pool = pool_of_rows(knowledge, bred[5000].of_role(Role.MODIFIER))
    aroma = aroma_of_bag(replace(known, knowledge=knowledge), CoffeeProfile(), words)
    scored: list[int] = []

    def counted(knowledge: Knowledge, question: Asked, rows: Rows) -> Parts:
        scored.extend(rows.tolist())
        return parts_with(knowledge, question, rows)

    monkeypatch.setattr(best_module, "parts_with", counted)
    best_of(knowledge, pool, aroma, knowledge.weights, 10)
    assert len(scored) == len(set(scored)) < 0.15 * len(pool)


def test_ties_go_by_id() -> None:
    scores = np.array([0.5, 0.7, 0.5 + 1e-15, 0.7])
    assert falling(scores, np.array([9, 4, 3, 2])).tolist() == [3, 1, 2, 0]


def test_a_bred_ingredient_is_ranked_with_reasons_that_sum_to_its_score(
    known: Known, bred: dict[int, Synthetic]
) -> None:
    knowledge = bred[5000].knowledge
    aroma = aroma_of_bag(replace(known, knowledge=knowledge), CoffeeProfile(), "smoke, plum")
    pool = pool_of_rows(knowledge, np.arange(239, 5000))
    answers = rank(knowledge, aroma, pool, knowledge.weights, 10)
    assert [a.b.startswith("bred-") for a in answers] == [True] * 10
    parts = parts_with_all(knowledge, aroma, knowledge.weights)
    for answer in answers:
        assert sum(r.amount for r in answer.reasons) == pytest.approx(answer.score, abs=1e-9)
        alone = affinity(
            knowledge, aroma, parts, knowledge.space.index[answer.b], knowledge.weights
        )
        assert answer.score == pytest.approx(alone.score, abs=1e-12)


def test_bred_catalogues_have_the_statistics_of_the_shipped_one(
    known: Known, bred: dict[int, Synthetic]
) -> None:
    real, synthetic = known.knowledge.space, bred[5000].knowledge.space
    counts = [np.diff(space.notes.indptr) for space in (real, synthetic)]
    for share in (0.25, 0.5, 0.75):
        of_real, of_bred = (float(np.quantile(count, share)) for count in counts)
        assert of_bred == pytest.approx(of_real, rel=0.2)
    weight = [float(np.median(space.notes.data)) for space in (real, synthetic)]
    assert weight[1] == pytest.approx(weight[0], rel=0.25)
    families = [space.families.mean(axis=0) for space in (real, synthetic)]
    assert np.corrcoef(families)[0, 1] > 0.95
    again = breed(known.catalogue, 700, seed=700).knowledge.space.notes
    assert (again != bred[700].knowledge.space.notes).nnz == 0
