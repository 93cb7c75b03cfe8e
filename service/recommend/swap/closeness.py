"""How near two bottles are in role and in what they hold, on scales a palate would use."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.ingredients.records import Composition, Role

Vector = NDArray[np.float64]

# Logarithms above what is hardly noticed, so that 0 and 2 g/L are near and 35 and 150 are not.
# Where each taste starts to count, and how much its scale counts: our estimates, because taste
# grows with a power of concentration and a drink holds a third of a bottle's.
SUGAR_FROM_G_PER_L: Final = 20.0
QHE_FROM_MG_PER_L: Final = 5.0
ACID_FROM_G_PER_L: Final = 1.0
SALT_FROM_G_PER_L: Final = 1.0
ABV_PER_STEP: Final = 0.15
SCALE: Final = (1.0, 0.7, 0.7, 0.7, 1.0)
# At this distance two compositions are 1/e alike.
FAR: Final = 1.5
# Dashes and garnishes are used in such amounts that what they hold per litre says little.
BY_THE_DASH: Final = frozenset({Role.BITTERS, Role.GARNISH})
NOT_COMPARED: Final = 0.4

# How far one role can stand in for another, both ways; not listed: not at all. Our estimates.
ACROSS: Final[Mapping[frozenset[Role], float]] = {
    frozenset(pair): share
    for pair, share in (
        ((Role.BASE, Role.MODIFIER), 0.5),
        ((Role.MODIFIER, Role.SWEETENER), 0.5),
        ((Role.BITTERS, Role.GARNISH), 0.7),
        ((Role.SEASONING, Role.MODIFIER), 0.3),
        ((Role.BITTERS, Role.MODIFIER), 0.3),
        ((Role.BITTERS, Role.BASE), 0.3),
        ((Role.GARNISH, Role.MODIFIER), 0.3),
        ((Role.GARNISH, Role.SWEETENER), 0.3),
        ((Role.GARNISH, Role.SEASONING), 0.3),
        ((Role.BITTERS, Role.SWEETENER), 0.25),
    )
}


def role_likeness(a: Role, b: Role) -> float:
    """1 for the same role, less where one can stand in for the other, 0 where it cannot.

    >>> role_likeness(Role.BASE, Role.MODIFIER)
    0.5
    """
    return 1.0 if a is b else ACROSS.get(frozenset((a, b)), 0.0)


def place_of(composition: Composition) -> Vector:
    """Sugar, bitterness, acid, strength and salt of a bottle on the scales above."""
    scaled = np.array(
        [
            np.log1p(composition.sugar_g_per_l.mid / SUGAR_FROM_G_PER_L),
            np.log1p(composition.qhe_mg_per_l.mid / QHE_FROM_MG_PER_L),
            np.log1p(composition.acid_g_per_l.mid / ACID_FROM_G_PER_L),
            composition.abv.mid / ABV_PER_STEP,
            np.log1p(composition.salt_g_per_l.mid / SALT_FROM_G_PER_L),
        ]
    ) * np.array(SCALE)
    return np.asarray(scaled)


def composition_likeness(places: Vector, place: Vector) -> Vector:
    """1 where two compositions are the same, falling with their distance."""
    return np.asarray(np.exp(-np.linalg.norm(places - place, axis=-1) / FAR))
