"""The third way to belong together: kinds of aroma that are known to set each other off.

Learnt from what is poured together, never from taste: two aromas suit each other as far as the
things that smell like the one are poured with the things that smell like the other more often
than their popularity explains. "Like" is judged by families of notes alone, so that a bottle
nobody ever wrote a specification for is judged by what it smells of.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma.coffee import Aroma
from service.aroma.space import AromaSpace, Vector, family_profile
from service.aroma.tables import Rows, Table, raised, table_of

Matrix = NDArray[np.float64]
# How sharply two aromas must be of one kind for one to speak for the other: the exponent on the
# cosine of their family profiles. Our choice; 6 to 16 give the same within 0.02 AUC.
SHARPNESS = 8


@dataclass(frozen=True, slots=True, eq=False)
class Contrast:
    """What was learnt of kinds of aroma.

    profiles : (anchors, families), each row of length 1: the aromas it was learnt on
    surplus : (anchors, anchors), symmetric: how far each two are poured together beyond chance
    alike : (ingredients, anchors): how far each ingredient is of one kind with each anchor
    """

    profiles: Matrix
    surplus: Matrix
    alike: Table


def build_contrast(space: AromaSpace, profiles: Matrix, surplus: Matrix) -> Contrast:
    """Ready the learnt surplus of the anchors for every ingredient of the space."""
    alike = table_of(len(space.ingredients), lambda rows: likeness(space.families[rows], profiles))
    return Contrast(profiles, surplus, alike)


def likeness(families: Matrix, profiles: Matrix) -> Matrix:
    """How far each of some aromas is of one kind with each anchor, 0 to 1."""
    return raised(np.clip(families @ profiles.T, 0.0, 1.0), SHARPNESS)


def contrast(space: AromaSpace, learnt: Contrast, aroma: Aroma, rows: Rows | None = None) -> Vector:
    """The contrast of an aroma with every ingredient (or some rows); the same whichever is
    named first."""
    return learnt.alike.times(learnt.surplus @ kinds_of(space, learnt, aroma), rows)


def kinds_of(space: AromaSpace, learnt: Contrast, aroma: Aroma) -> Vector:
    """How far an aroma is of one kind with each anchor."""
    alike = [
        share * likeness(family_profile(notes, space.family_of), learnt.profiles)
        for share, notes in aroma.sides
    ]
    return np.asarray(np.sum(alike, axis=0))


def family_contrasts(
    space: AromaSpace, learnt: Contrast, aroma: Aroma, rows: NDArray[np.intp]
) -> Matrix:
    """(rows, families, families): what each family of the aroma with each family of the
    ingredient adds to their contrast; the sum over families is the contrast.

    The likeness of two aromas is a power of a sum over families, and each family carries the
    share it has in that sum.
    """
    of_sides = [
        share * _by_family(family_profile(notes, space.family_of)[np.newaxis], learnt.profiles)[0]
        for share, notes in aroma.sides
    ]
    of_aroma = np.sum(of_sides, axis=0)
    of_rows = _by_family(space.families[rows], learnt.profiles)
    return np.asarray((of_aroma @ learnt.surplus) @ of_rows.transpose(0, 2, 1))


def _by_family(families: Matrix, profiles: Matrix) -> Matrix:
    """(aromas, families, anchors): the likeness to each anchor, divided among the families."""
    cosine = np.clip(families @ profiles.T, 0.0, 1.0)
    shared = families[:, :, np.newaxis] * profiles.T[np.newaxis]
    return np.asarray(shared * (cosine ** (SHARPNESS - 1))[:, np.newaxis, :])
