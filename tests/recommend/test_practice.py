"""The table of common practice: sound, of kinds only, and no reward for going with everything."""

from __future__ import annotations

import numpy as np
import pytest

from service.counter.known import Known
from service.ingredients.records import Role
from service.recommend import Part, pair_affinities
from service.recommend.custom import CustomSettings
from service.recommend.jobs import read_jobs
from service.recommend.practice import FILTER_COFFEE, TOGETHER, practice_of, read_practice


@pytest.fixture(scope="module")
def table(known: Known) -> np.ndarray:
    return practice_of(known.catalogue, known.knowledge.custom.ids)


def test_the_table_speaks_of_jobs_that_somebody_does() -> None:
    jobs = {job for jobs in read_jobs().values() for job in jobs}
    rows = read_practice()
    assert {a for a, _, _ in rows} | {b for _, b, _ in rows} <= jobs | {FILTER_COFFEE}
    assert all(0.0 < weight <= 2.0 for _, _, weight in rows)
    assert len({frozenset((a, b)) for a, b, _ in rows}) == len(rows)
    assert all(a != b for a, b, _ in rows)


def test_what_goes_with_everything_gains_nothing_by_it(known: Known, table: np.ndarray) -> None:
    ids = known.knowledge.custom.ids
    role = np.array([str(known.catalogue.ingredients[i].role) for i in ids[:-1]])
    assert np.allclose(table, table.T, atol=1e-12)
    for a, b in TOGETHER:
        block = table[:-1, :-1][np.ix_(role == str(a), role == str(b))]
        assert np.abs(block).max() > 0.1
        assert np.allclose(block.sum(axis=0), 0.0)
        assert np.allclose(block.sum(axis=1), 0.0)
    for a in (Role.BASE, Role.MODIFIER, Role.BITTERS):
        assert table[-1, :-1][role == str(a)].sum() == pytest.approx(0.0, abs=1e-9)


# Common practice behind the bar and in the kitchen, no source: a, what goes, what goes less.
@pytest.mark.parametrize(
    ("a", "goes", "less"),
    [
        ("rye-whiskey", "aromatic-bitters", "celery-bitters"),
        ("navy-gin", "extra-dry-vermouth", "cacao-liqueur-dark"),
        ("tequila-anejo", "mole-bitters", "lavender-bitters"),
        ("armagnac", "curacao", "cranberry-bitters"),
        ("coffee", "hazelnut-liqueur", "violet-liqueur"),
        ("coffee", "aged-rum", "aquavit"),
        ("cacao-liqueur-dark", "banana-liqueur", "dry-vermouth"),
    ],
)
def test_kinds_go_as_practice_has_it(
    known: Known, table: np.ndarray, a: str, goes: str, less: str
) -> None:
    place = known.knowledge.custom.index
    assert table[place[a], place[goes]] > max(table[place[a], place[less]], 0.0)


def test_record_and_practice_are_counts_and_the_table(known: Known, table: np.ndarray) -> None:
    custom, settings = known.knowledge.custom, CustomSettings()
    a, b = custom.index["bourbon"], custom.index["sweet-vermouth"]
    drinks = custom.specs[a, b]
    assert drinks > 0
    assert custom.record[a, b] == pytest.approx(settings.record * np.log1p(drinks))
    assert custom.practice[a, b] == pytest.approx(settings.practice * table[a, b])


def test_a_written_record_of_two_counts_and_is_named_whole(known: Known) -> None:
    # Everybody pours these two, with everything: their surplus over equals is small, and still
    # they are poured together.
    found = pair_affinities(known.knowledge, known.catalogue, [("bourbon", "sweet-vermouth")])[0]
    named = {r.names: r.amount for r in found.reasons if r.part is Part.CUSTOM and r.names}
    settings, custom = CustomSettings(), known.knowledge.custom
    drinks = custom.specs[custom.index["bourbon"], custom.index["sweet-vermouth"]]
    record = known.knowledge.weights.custom_in_force * settings.record * np.log1p(drinks)
    assert named["bourbon", "sweet-vermouth"] > record
