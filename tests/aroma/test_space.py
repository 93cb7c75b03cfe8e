"""The aroma space against a catalogue worked out on paper, and against the graph."""

import networkx as nx
import numpy as np
import pytest

from service.aroma import (
    bridge,
    build_bridges,
    build_graph,
    build_space,
    echo,
    ingredient_aroma,
    shared_notes,
    strongest_paths,
)
from service.counter.known import Known
from service.ingredients import Catalogue


def test_rows_have_length_one(small: Catalogue) -> None:
    space = build_space(small)
    assert np.linalg.norm(space.notes.toarray(), axis=1) == pytest.approx(np.ones(4))


def test_echo_matches_the_sum_done_by_hand(small: Catalogue) -> None:
    # Compressed intensities (square roots): smoky (smoke sqrt 2), cherry (marzipan sqrt 2),
    # nutty (marzipan 1, smoke 1) scaled to length 1, clove (spice sqrt 2, smoke 1) scaled to 1.
    # Presence: smoke 1 + 1/sqrt2 + 1, spice 1, marzipan 1 + 1; rarity 1 + ln(5 / (1 + df)).
    smoke, marzipan = 1 + np.log(5 / (1 + 2 + 2**-0.5)), 1 + np.log(5 / 3)
    nutty = np.array([marzipan, smoke]) / np.hypot(marzipan, smoke)
    space = build_space(small)
    found = echo(space, ingredient_aroma(space, "nutty"))
    assert found[space.index["cherry"]] == pytest.approx(nutty[0])
    assert found[space.index["smoky"]] == pytest.approx(nutty[1])
    assert found[space.index["nutty"]] == pytest.approx(1.0)


def test_shared_notes_sum_to_the_echo(known: Known) -> None:
    space = known.knowledge.space
    bourbon = ingredient_aroma(space, "bourbon")
    all_echoes = echo(space, bourbon)
    for name in space.ingredients[::7]:
        other = ingredient_aroma(space, name)
        assert shared_notes(bourbon, other).sum() == pytest.approx(
            all_echoes[space.index[name]], abs=1e-12
        )


def test_a_bridge_joins_what_shares_nothing_and_names_the_third(small: Catalogue) -> None:
    # smoky and cherry share no note; nutty shares one with each. Clove has no marzipan.
    space = build_space(small)
    strength, third = bridge(space, build_bridges(space), ingredient_aroma(space, "smoky"))
    row = space.index["cherry"]
    assert space.ingredients[third[row]] == "nutty"
    smoke, marzipan = 1 + np.log(5 / (1 + 2 + 2**-0.5)), 1 + np.log(5 / 3)
    expected = np.sqrt(smoke * marzipan / (smoke**2 + marzipan**2))
    assert strength[row] == pytest.approx(expected)


def test_graph_and_matrices_agree(known: Known) -> None:
    space = known.knowledge.space
    graph = build_graph(known.catalogue, space)
    matrix = (space.odorants @ space.odorant_notes).toarray()
    for ingredient in space.ingredients[::11]:
        node = f"ingredient:{ingredient}"
        sums: dict[str, float] = {}
        for odorant, link in graph.adj[node].items():
            for note, share in graph.adj[odorant].items():
                if note.startswith("descriptor:"):
                    sums[note] = sums.get(note, 0.0) + link["weight"] * share["weight"]
        for column, descriptor in enumerate(space.descriptors):
            assert sums.get(f"descriptor:{descriptor}", 0.0) == pytest.approx(
                matrix[space.index[ingredient], column]
            )


def test_every_node_of_the_graph_is_linked(known: Known) -> None:
    graph = build_graph(known.catalogue, known.knowledge.space)
    alone = [n for n in nx.isolates(graph) if not n.startswith("ingredient:")]
    assert not alone


def test_the_strongest_path_runs_over_the_shared_odorant(small: Catalogue) -> None:
    space = build_space(small)
    paths = strongest_paths(build_graph(small, space), "smoky", "clove")
    assert paths[0][0] == ["ingredient:smoky", "odorant:guaiacol", "ingredient:clove"]
    # log10(100) * log10(10), from the amounts of the small catalogue.
    assert paths[0][1] == pytest.approx(2.0)
