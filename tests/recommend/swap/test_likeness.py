"""The five parts of a likeness, by hand and by property."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from service.ingredients.records import Role
from service.recommend.swap import SWAP_WEIGHTS, LikenessPart, SwapKnowledge
from service.recommend.swap.closeness import composition_likeness, role_likeness
from service.recommend.swap.likeness import aroma_likeness, kept_and_added, likeness_parts


def test_what_is_kept_and_what_is_added_by_hand() -> None:
    """Old 0.6 oak, 0.8 smoke: shares 0.36 and 0.64. New 0.8 oak, 0.6 mint: shares 0.64, 0.36.

    Oak is kept whole (0.36); smoke is gone. Of the new oak 0.8 x 0.6 = 0.48 was there before, so
    0.52 of the new aroma is new.
    """
    old = np.array([0.6, 0.8, 0.0])
    new = np.array([[0.8, 0.0, 0.6]])
    kept, added = kept_and_added(old, new)
    assert kept[0] == pytest.approx(0.36)
    assert added[0] == pytest.approx(0.52)
    assert aroma_likeness(kept, added)[0] == pytest.approx((0.36 * 0.48) ** 0.5)


def test_the_same_aroma_keeps_all_and_adds_nothing() -> None:
    notes = np.array([0.6, 0.8])
    kept, added = kept_and_added(notes, notes[np.newaxis])
    assert (kept[0], added[0]) == pytest.approx((1.0, 0.0))


def test_where_nothing_smells_nothing_is_lost() -> None:
    kept, added = kept_and_added(np.zeros(2), np.array([[0.0, 0.0], [0.6, 0.8]]))
    assert kept.tolist() == [1.0, 0.0]
    assert added.tolist() == [0.0, 1.0]


notes = arrays.arrays(np.float64, 6, elements=st.floats(0.0, 1.0)).filter(lambda n: n.sum() > 0.1)


@given(notes, notes)
def test_shares_stay_between_nothing_and_all(old: np.ndarray, new: np.ndarray) -> None:
    old, new = old / np.linalg.norm(old), new / np.linalg.norm(new)
    kept, added = kept_and_added(old, new[np.newaxis])
    assert -1e-12 <= kept[0] <= 1 + 1e-12
    assert -1e-12 <= added[0] <= 1 + 1e-12


def test_each_part_lies_between_zero_and_one(replacing: SwapKnowledge) -> None:
    for missing in ("bourbon", "saline", "orange-bitters", "orange-peel", "orgeat"):
        for value in likeness_parts(replacing, missing).values.values():
            assert value.min() >= -1e-12
            assert value.max() <= 1 + 1e-12


def test_nothing_is_more_like_a_bottle_than_itself(replacing: SwapKnowledge) -> None:
    for missing in replacing.ids:
        if replacing.ingredients[missing].role is Role.GARNISH:
            continue
        score = likeness_parts(replacing, missing).score(SWAP_WEIGHTS)
        assert int(np.argmax(score)) == replacing.index[missing], missing


def test_the_weighted_parts_sum_to_the_score(replacing: SwapKnowledge) -> None:
    parts = likeness_parts(replacing, "maraschino")
    total = sum(SWAP_WEIGHTS.of(part) * parts.values[part] for part in LikenessPart)
    assert parts.score(SWAP_WEIGHTS) == pytest.approx(total, abs=1e-12)


def test_roles_stand_in_for_each_other_both_ways_or_not_at_all() -> None:
    for one in Role:
        for other in Role:
            assert role_likeness(one, other) == role_likeness(other, one)
    assert role_likeness(Role.BASE, Role.BASE) == 1.0
    assert role_likeness(Role.BASE, Role.GARNISH) == 0.0


def test_alike_compositions_are_nearer_than_unlike_ones(replacing: SwapKnowledge) -> None:
    row = {name: replacing.places[replacing.index[name]] for name in
           ("dry-vermouth", "fino-sherry", "sweet-vermouth", "px-sherry")}  # fmt: skip
    to_dry = composition_likeness(np.array(list(row.values())), row["dry-vermouth"])
    assert list(to_dry) == sorted(to_dry, reverse=True)
    assert to_dry[0] == 1.0
