"""The surplus of attested pairs, on tables small enough to work out on paper."""

import numpy as np
import pytest

from service.ingredients import Catalogue
from service.recommend import attested, pair_counts, popularity
from service.recommend.attested import surplus
from service.recommend.custom import mutual_information
from tests.conftest import small_catalogue

ROLES = ["base", "base", "modifier", "modifier", "coffee"]


def counts_of(*pairs: tuple[int, int]) -> np.ndarray:
    table = np.zeros((5, 5))
    for a, b in pairs:
        table[a, b] = table[b, a] = 1.0
    return table


def test_versions_of_one_drink_share_one_count() -> None:
    twice = small_catalogue([], specs=(("one", ("smoky", "clove")), ("one", ("clove", "smoky"))))
    assert pair_counts(twice) == {("clove", "smoky"): 1.0}
    assert popularity(twice) == {"clove": 1.0, "smoky": 1.0}


def test_an_attested_pair_is_set_against_its_equals() -> None:
    # Base 0 and modifier 2 are poured together; three pairs, equally popular, are not. Each of
    # the three likenesses is 1, so the pair is believed 3 / (3 + 1) and each equal bears a third.
    found = surplus(counts_of((0, 2)), ROLES, np.zeros(5), np.ones((5, 5), dtype=bool))
    assert found[0, 2] == pytest.approx(0.75)
    assert found[0, 3] == pytest.approx(-0.25)
    assert found[1, 2] == pytest.approx(-0.25)
    assert found[1, 3] == pytest.approx(-0.25)
    assert np.allclose(found, found.T)
    assert found[:4, :4].sum() == pytest.approx(0.0)


def test_the_popular_are_not_set_against_the_rare() -> None:
    logs = np.array([3.0, 0.0, 3.0, 0.0, 0.0])
    found = surplus(counts_of((0, 2)), ROLES, logs, np.ones((5, 5), dtype=bool))
    assert found[1, 3] == pytest.approx(0.0, abs=1e-9)


def test_held_out_pairs_are_neither(known_counts: np.ndarray) -> None:
    usable = np.ones((5, 5), dtype=bool)
    usable[0, 2] = usable[2, 0] = False
    found = surplus(known_counts, ROLES, np.zeros(5), usable)
    assert found[0, 2] == 0.0


@pytest.fixture
def known_counts() -> np.ndarray:
    return counts_of((0, 2), (1, 3))


def test_popularity_alone_leaves_no_surplus(catalogue: Catalogue) -> None:
    # Within two roles what is added for attested pairs is taken from their equals, so that being
    # poured with everything is no virtue in itself.
    found = attested(catalogue)
    roles = np.array([str(catalogue.ingredients[i].role) for i in found.ids[:-1]])
    for a, b in (("base", "modifier"), ("base", "bitters"), ("modifier", "bitters")):
        block = found.surplus[:-1, :-1][np.ix_(roles == a, roles == b)]
        assert block.sum() == pytest.approx(0.0, abs=1e-9)


def test_mutual_information_is_that_of_the_paper() -> None:
    # Levy, Goldberg and Dagan 2015: log(p(a,b) / (p(a) p(b)^0.75)), by hand for two pairs of two.
    table = np.array([[0, 2, 0, 0], [2, 0, 0, 0], [0, 0, 0, 2], [0, 0, 2, 0]], dtype=float)
    # Each has total 2; context 2^0.75, summed 4 * 2^0.75; expected 2 * 1/4 = 0.5; log(4), shrunk
    # by 2 / (2 + smoothing).
    assert mutual_information(table, 6.0)[0, 1] == pytest.approx(np.log(4.0) / 4.0)
    assert mutual_information(table, 2.0)[0, 1] == pytest.approx(np.log(4.0) / 2.0)
    assert mutual_information(np.zeros((2, 2)), 1.0).sum() == 0.0


def test_what_smells_of_nothing_known_still_takes_part(small: Catalogue) -> None:
    assert attested(small).ids[-1] == "coffee"
    assert attested(small).counts.sum() == 2.0
