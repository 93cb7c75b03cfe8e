"""What the guest gets: strength and volume of one drink, or of many settings of it at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.bed import DEFAULT, BedPriors
from service.drink.parts import Drink
from service.drink.passage import Beds, Melt, dilution_of, filter_through, melt_of, usual_of, varied
from service.drink.sampling import DEFAULT_SEED, as_liquid, drink_masses
from service.liquid import Liquid, abv, volume_ml

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Glass:
    """A drink in the guest's glass: strength [fraction] and volume [mL], both at 20 °C."""

    abv: float
    volume_ml: float


@dataclass(frozen=True, slots=True, eq=False)
class Glasses:
    """The same of many drinks, in their order."""

    abv: FloatArray
    volume_ml: FloatArray


def glass_of(drink: Drink, *, priors: BedPriors = DEFAULT) -> Glass:
    """What the guest gets of a drink: after the coffee, or after the stir where there is none."""
    poured = as_liquid(drink_masses([drink], 0, DEFAULT_SEED))
    found = _filled([drink], poured, melt_of(usual_of(poured), [drink.preparation]), priors)
    return Glass(float(found.abv[0]), float(found.volume_ml[0]))


def glasses_of(drinks: Sequence[Drink], *, priors: BedPriors = DEFAULT) -> Glasses:
    """The same for many drinks in one pass, which costs little more than one."""
    poured = as_liquid(drink_masses(drinks, 0, DEFAULT_SEED))
    preparations = [drink.preparation for drink in drinks]
    settings = np.array([dilution_of(preparation) for preparation in preparations])
    melt = melt_of(usual_of(poured), preparations, settings)
    return _filled(drinks, poured, melt, priors)


def _filled(drinks: Sequence[Drink], poured: Liquid, melt: Melt, priors: BedPriors) -> Glasses:
    chilled = varied(poured, melt, draws=0, seed=DEFAULT_SEED)
    liquid = chilled.liquid
    if any(drink.bed is not None for drink in drinks):
        beds = Beds.of([drink.bed for drink in drinks])
        liquid = filter_through(chilled, beds, seed=DEFAULT_SEED, priors=priors).liquid
    return Glasses(np.asarray(abv(liquid))[:, 0], np.asarray(volume_ml(liquid))[:, 0])
