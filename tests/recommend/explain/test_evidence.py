"""The evidence: sums, odorants, paths through the graph, grades and sources."""

from __future__ import annotations

import pytest

from service.aroma import Aroma, build_graph, strongest_paths
from service.counter.known import Known
from service.recommend import rank
from service.recommend.explain import Explaining, Explanation, explain_pairing
from service.recommend.explain.support import supports


def test_contributions_sum_to_the_score(everything: list[Explanation]) -> None:
    for explanation in everything:
        for pair in explanation.evidence.pairs:
            total = sum(fact.value for fact in pair.contributions)
            assert total == pytest.approx(pair.score, abs=1e-9)


def test_contributions_of_each_part_sum_to_the_part(everything: list[Explanation]) -> None:
    for explanation in everything[::9]:
        for pair in explanation.evidence.pairs:
            for part, value in pair.parts.items():
                of_part = [
                    fact.value
                    for fact in pair.contributions
                    if str(fact.kind) == part or fact.about[2:3] == (part,)
                ]
                assert sum(of_part) == pytest.approx(value, abs=1e-9)


def test_every_source_is_one_of_the_dataset(everything: list[Explanation], known: Known) -> None:
    for explanation in everything:
        assert set(explanation.evidence.sources) <= known.catalogue.sources.keys()


def test_every_shared_note_has_a_grade(everything: list[Explanation]) -> None:
    for explanation in everything:
        for pair in explanation.evidence.pairs:
            for fact in pair.contributions:
                if str(fact.kind) == "echo":
                    assert fact.grades, fact.id


def test_odorants_of_a_note_are_in_the_bottle_and_smell_of_it(
    known: Known, explaining: Explaining, aromas: list[Aroma]
) -> None:
    space = known.knowledge.space
    rows = {(n.subject, n.descriptor) for n in known.catalogue.odorant_notes}
    for descriptor in ("smoke", "dark-chocolate", "cherry"):
        for one in supports(explaining.index, space, aromas[0], descriptor):
            if one.odorant:
                assert (one.odorant, descriptor) in rows
                assert one.intensity > 0


@pytest.mark.parametrize(
    ("a", "b"), [("bourbon", "cognac"), ("mezcal", "peated-malt-whisky"), ("orgeat", "maraschino")]
)
def test_a_path_is_one_of_the_graphs_and_as_strong(
    known: Known, explaining: Explaining, a: str, b: str
) -> None:
    """networkx is asked for every path between the two; ours must be among them."""
    from service.recommend import aroma_of, pair_affinities

    graph = build_graph(known.catalogue, known.knowledge.space)
    (affinity,) = pair_affinities(known.knowledge, known.catalogue, [(a, b)])
    aroma = aroma_of(known.knowledge, known.catalogue, affinity.a)
    evidence = explain_pairing(explaining, aroma, affinity).evidence.pairs[0]
    paths = {
        tuple(node.split(":", 1)[1] for node in nodes): strength
        for nodes, strength in strongest_paths(graph, affinity.a, affinity.b, limit=100_000)
    }
    assert evidence.paths
    for path in evidence.paths:
        assert path.value == pytest.approx(paths[path.about], rel=1e-9)


def test_a_whole_drink_has_evidence_for_each_pour(whole_drinks: list[Explanation]) -> None:
    for explanation in whole_drinks[:-1]:
        pours = [f for f in explanation.facts if str(f.kind) == "pour"]
        assert len(explanation.evidence.pairs) == len(pours)
        assert {fact.about[1] for fact in explanation.evidence.readings if len(fact.about) > 1} >= {
            "before",
            "after",
        }


def test_custom_names_who_attests_it(known: Known, explaining: Explaining) -> None:
    from service.counter.coffees import Coffee, read_coffee

    aroma = read_coffee(known, Coffee()).aroma
    (affinity,) = rank(known.knowledge, aroma, ["cognac"], known.knowledge.weights, 1)
    explanation = explain_pairing(explaining, aroma, affinity)
    custom = [f for f in explanation.facts if str(f.kind) == "custom" and f.about[3] == "cognac"]
    assert custom
    assert custom[0].sources
