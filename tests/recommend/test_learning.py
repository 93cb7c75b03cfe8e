"""The fit: what is committed is what it gives, and it finds what was put there."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.affinity import (
    fitted_families,
    fitted_weights,
    labels,
    parts_of,
    shipped_bench,
    weighed,
)
from benchmarks.held_out import Bench, learnt
from benchmarks.matched_pairs import CALIPER, area_under_curve, matched_pairs
from service.counter.known import Known
from service.recommend import Part
from service.recommend.learning import fit_weights


@pytest.fixture(scope="module")
def bench() -> Bench:
    return shipped_bench()


def test_the_committed_weights_are_what_the_fit_gives(bench: Bench, known: Known) -> None:
    # One matching of the five that ship, to be quick; between matchings the weights differ by
    # about a tenth. `python -m benchmarks.affinity --write` makes the files anew.
    for part, weight in fitted_weights(bench, matchings=1).items():
        assert known.catalogue.affinity_weights[part] == pytest.approx(weight, rel=0.35, abs=0.01)


def test_the_committed_table_of_families_is_what_the_fit_gives(bench: Bench, known: Known) -> None:
    table, ids = fitted_families(bench), bench.space.family_ids
    assert len(known.catalogue.family_contrasts) == len(ids) * (len(ids) + 1) // 2
    given = [
        (known.catalogue.family_contrasts[a, b], table[ids.index(a), ids.index(b)])
        for a, b in known.catalogue.family_contrasts
    ]
    assert np.corrcoef(np.array(given).T)[0, 1] > 0.98


def test_equally_popular_means_equally_popular(bench: Bench) -> None:
    matched = matched_pairs(bench.world, seed=0)
    logs = bench.world.popularity_log
    apart = np.linalg.norm(logs[matched.attested] - logs[matched.unattested], axis=1)
    assert apart.max() <= CALIPER
    sums = logs[matched.attested].sum(axis=1), logs[matched.unattested].sum(axis=1)
    assert area_under_curve(*sums) == pytest.approx(0.5, abs=0.02)
    assert len({tuple(p) for p in matched.pairs}) == len(matched.pairs)


def test_nothing_of_a_held_out_pair_is_left(bench: Bench) -> None:
    usable = np.ones_like(bench.world.counts, dtype=bool)
    a, b = (bench.world.ids.index(i) for i in ("bourbon", "sweet-vermouth"))
    assert bench.world.counts[a, b] > 0
    usable[a, b] = usable[b, a] = False
    known = learnt(bench, bench.world.counts, usable)
    assert known.counts[a, b] == known.surplus[a, b] == 0.0


def test_affinity_tells_attested_pairs_from_equally_popular_ones(bench: Bench) -> None:
    # The project's own targets were 0.65 and 0.78 (see AFFINITY.md for the full figures with
    # intervals: the first is met, the second is not). One matching of the five, held to less
    # than what was measured by about its sampling error.
    matched = matched_pairs(bench.world, seed=0)
    parts = parts_of(bench, matched, seed=0, strict=False)
    compounds = bench.shared_compounds[matched.pairs[:, 0], matched.pairs[:, 1]]
    aroma = weighed(parts, (Part.ECHO, Part.BRIDGE, Part.CONTRAST), seed=0)
    everything = weighed(parts, tuple(Part), seed=0)
    by_count, by_aroma, by_all = (
        area_under_curve(*np.split(s, 2)) for s in (compounds, aroma, everything)
    )
    assert by_count == pytest.approx(0.5, abs=0.05)
    assert by_aroma > 0.63
    assert by_all > 0.72


def test_shuffled_labels_teach_nothing(bench: Bench) -> None:
    # The same pipeline on pairs whose labels were drawn by lot must be at chance.
    random = np.random.default_rng(3)
    found = []
    for seed in range(8):
        parts = {part: random.standard_normal(600) for part in Part}
        found.append(area_under_curve(*np.split(weighed(parts, tuple(Part), seed), 2)))
    assert np.mean(found) == pytest.approx(0.5, abs=0.04)


def test_the_fit_finds_the_part_that_tells() -> None:
    random = np.random.default_rng(0)
    attested = np.arange(400) < 200
    parts = {part: random.standard_normal(400) for part in Part}
    plain = fit_weights(parts, attested)
    parts[Part.BRIDGE] = parts[Part.BRIDGE] + 2.0 * attested
    told = fit_weights(parts, attested)
    assert told[Part.BRIDGE] > told[Part.ECHO]
    assert told[Part.BRIDGE] / told[Part.CUSTOM] > plain[Part.BRIDGE] / plain[Part.CUSTOM]
    assert min(told.values()) >= 0


def test_labels_come_attested_first(bench: Bench) -> None:
    matched = matched_pairs(bench.world, seed=1)
    said = labels(matched)
    a, b = matched.pairs.T
    assert ((bench.world.counts[a, b] > 0) == said).all()
