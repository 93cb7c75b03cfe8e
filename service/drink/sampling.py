"""Bottles are known only by category: many possible bottles of each, the same ones everywhere.

Common random numbers: a bottle's draws depend on its id and the seed alone. Two drinks that share
a vermouth share each of its possible bottles, so their difference is that of the drinks.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from service.drink.parts import Drink
from service.ingredients.records import Composition, Ingredient
from service.kit import Interval, OutOfRange
from service.liquid import Liquid, poured

FloatArray = NDArray[np.float64]

# The parts of a liquid that bottles bring, in the order of the arrays below.
SPECIES: Final = (
    "water_g",
    "ethanol_g",
    "sucrose_g",
    "acid_g",
    "salt_g",
    "qhe_mg",
    "caffeine_mg",
)
QUANTITIES: Final = (
    "abv",
    "sugar_g_per_l",
    "acid_g_per_l",
    "qhe_mg_per_l",
    "caffeine_mg_per_l",
    "salt_g_per_l",
)
MOST_DRAWS: Final = 100_000
DEFAULT_SEED: Final = 20
MOST_DISSOLVED_SUGAR_G_PER_L: Final = 1100.0
_ROOM_FOR_WATER: Final = 0.98
_SUGAR_ROOM_ML_PER_G: Final = 0.62
# Standard deviates that a category's span reaches to either side of the usual bottle.
_SPAN_DEVIATES: Final = 1.96


def masses_per_ml(ingredient: Ingredient, draws: int, seed: int) -> FloatArray:
    """What one mL of a bottle holds: species by draws; column 0 is the usual bottle [g or mg]."""
    if not 0 <= draws <= MOST_DRAWS:
        raise OutOfRange.of("draws", draws, 0, MOST_DRAWS, "draws")
    return _masses_per_ml(ingredient.id, ingredient.composition, draws, seed)


def drink_masses(drinks: Sequence[Drink], draws: int, seed: int) -> FloatArray:
    """What is poured into each drink: species by drinks by draws, column 0 the usual [g or mg]."""
    masses = np.zeros((len(SPECIES), len(drinks), draws + 1))
    for row, drink in enumerate(drinks):
        for pour in drink.pours:
            masses[:, row] += pour.volume_ml * masses_per_ml(pour.ingredient, draws, seed)
    return masses


def mixed(drink: Drink) -> Liquid:
    """What the pours are together before any ice, the usual bottles [g]."""
    masses = drink_masses([drink], 0, DEFAULT_SEED)[:, 0, 0]
    return as_liquid(masses.tolist())


def technique_shares(draws: int, seed: int) -> FloatArray:
    """Percentiles of how one bartender's stir turns out; first the middle."""
    shares = np.full(draws + 1, 0.5)
    shares[1:] = np.random.default_rng((seed, crc32(b"stirring"))).random(draws)
    return shares


def as_liquid(masses: FloatArray | Sequence[float]) -> Liquid:
    """Masses by species as a liquid."""
    return Liquid(**dict(zip(SPECIES, masses, strict=True)))


@lru_cache(maxsize=512)
def _masses_per_ml(
    ingredient_id: str, composition: Composition, draws: int, seed: int
) -> FloatArray:
    if composition.sugar_g_per_l.mid > MOST_DISSOLVED_SUGAR_G_PER_L:
        return _dry_sugar(composition, draws)
    abv, sugar, acid, qhe, caffeine, salt = (
        _bottles(getattr(composition, quantity), ingredient_id, quantity, draws, seed)
        for quantity in QUANTITIES
    )
    # The strongest and the sweetest bottle of a category are not the same one.
    abv = np.minimum(abv, _ROOM_FOR_WATER - _SUGAR_ROOM_ML_PER_G / 1000.0 * sugar)
    liquid = poured(
        1.0,
        abv=abv,
        sugar_g_per_l=sugar,
        acid_g_per_l=acid,
        qhe_mg_per_l=qhe,
        caffeine_mg_per_l=caffeine,
        salt_g_per_l=salt,
    )
    masses = np.stack([np.broadcast_to(getattr(liquid, s), draws + 1) for s in SPECIES])
    masses.flags.writeable = False
    return masses


def _bottles(
    interval: Interval, ingredient_id: str, quantity: str, draws: int, seed: int
) -> FloatArray:
    """Possible bottles of a category: its span holds 19 of 20, the usual one lies in the middle.

    Two half-normals that meet at the usual value, never beyond the span; by ratio where the
    lowest is not nothing, because bottles of a kind differ by so many times, not so many grams.
    """
    if draws == 0 or interval.width == 0.0:
        return np.full(draws + 1, interval.mid)
    deviates = np.zeros(draws + 1)
    name = crc32(f"{ingredient_id} {quantity}".encode())
    deviates[1:] = np.random.default_rng((seed, name)).standard_normal(draws) / _SPAN_DEVIATES
    by_ratio = interval.low > 0.0
    ends = np.array([interval.low, interval.mid, interval.high])
    low, mid, high = np.log(ends) if by_ratio else ends
    side = np.where(deviates < 0.0, mid - low, high - mid)
    values = mid + np.clip(deviates, -1.0, 1.0) * side
    return np.exp(values) if by_ratio else np.asarray(values)


def _dry_sugar(composition: Composition, draws: int) -> FloatArray:
    """Sugar by the spoon or the cube: its own volume, no water."""
    masses = np.zeros((len(SPECIES), draws + 1))
    masses[SPECIES.index("sucrose_g")] = composition.sugar_g_per_l.mid / 1000.0
    masses.flags.writeable = False
    return masses
