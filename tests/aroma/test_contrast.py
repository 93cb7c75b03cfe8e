"""Contrast: learnt on kinds of aroma, divided among families, the same both ways."""

import numpy as np
import pytest

from service.aroma import contrast, family_contrasts, ingredient_aroma
from service.aroma.contrast import SHARPNESS, build_contrast, likeness
from service.aroma.space import build_space, family_profile
from service.counter.known import Known
from service.ingredients import Catalogue


def test_contrast_matches_the_sum_done_by_hand(small: Catalogue) -> None:
    # Two anchors: one all warm, one all sweet, poured together (+1). cherry is all sweet and
    # smoky all warm (see the small catalogue), so their contrast is 1; cherry with itself 0.
    space = build_space(small)
    warm, sweet = space.family_ids.index("warm"), space.family_ids.index("sweet")
    profiles = np.zeros((2, 2))
    profiles[0, warm] = profiles[1, sweet] = 1.0
    learnt = build_contrast(space, profiles, np.array([[0.0, 1.0], [1.0, 0.0]]))
    found = contrast(space, learnt, ingredient_aroma(space, "cherry"))
    assert found[space.index["smoky"]] == pytest.approx(1.0)
    assert found[space.index["cherry"]] == pytest.approx(0.0)
    # nutty is marzipan and smoke: its likeness to all warm is the power of its warm part.
    nutty = ingredient_aroma(space, "nutty")
    assert found[space.index["nutty"]] == pytest.approx(nutty.families[warm] ** SHARPNESS)


def test_families_carry_the_whole_contrast(known: Known) -> None:
    knowledge = known.knowledge
    space, learnt = knowledge.space, knowledge.contrast
    aroma = ingredient_aroma(space, "bourbon")
    rows = np.arange(0, len(space.ingredients), 9)
    parts = family_contrasts(space, learnt, aroma, rows)
    assert parts.sum(axis=(1, 2)) == pytest.approx(contrast(space, learnt, aroma)[rows], abs=1e-9)


def test_likeness_is_one_with_itself_and_never_negative(known: Known) -> None:
    families = known.knowledge.space.families
    told = families[np.linalg.norm(families, axis=1) > 0]
    table = likeness(told, told)
    assert np.diag(table) == pytest.approx(np.ones(len(told)))
    assert ((table >= 0) & (table <= 1 + 1e-12)).all()


def test_a_family_profile_keeps_the_length_of_the_notes(known: Known) -> None:
    space = known.knowledge.space
    notes = ingredient_aroma(space, "mezcal").notes
    assert np.linalg.norm(family_profile(notes, space.family_of)) == pytest.approx(1.0)
