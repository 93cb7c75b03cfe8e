"""Backwards: from the glass that is wanted to the water, the seconds or the pours it needs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np

from service.kit import BadData, OutOfRange, find_root
from service.liquid.analysis import abv
from service.liquid.elementwise import Numbers, larger, largest, where, within
from service.liquid.mixing import Liquid, volume_ml
from service.liquid.preparation import Preparation, prepare
from service.liquid.stirring import Stirring, stir
from service.liquid.strength import ETHANOL_G_PER_ML

_LONGEST_SECONDS: Final = 900.0
_WATER_STEPS: Final = 40  # each leaves a few hundredths of the miss; ends early
_SCALE_STEPS: Final = 40
_NEAR: Final = 1e-10  # relative


def water_for_abv_g(liquid: Liquid, target_abv: Numbers) -> Numbers:
    """Water that brings a liquid down to a wanted strength [g].

    Parameters
    ----------
    liquid : Liquid
        The drink before
    target_abv : float or array
        Wanted strength by volume at 20 °C, above 0 and not above the drink's [mL/mL]

    Valid for: targets from 0.001 to the strength of the drink; OutOfRange outside.
    Source: OIML R 22 (1975), definition of strength; volume as in `volume_ml`, solved.

    >>> from service.liquid.pouring import poured
    >>> round(water_for_abv_g(poured(70, abv=0.40), 0.28), 2)
    30.1
    """
    within("target_abv", target_abv, 0.001, 1.0, "of volume", "28 % vol is 0.28")
    wanted = liquid.ethanol_g / (ETHANOL_G_PER_ML * target_abv)
    return _water_to_fill(liquid, wanted, "target_abv", "the drink is no stronger than that now")


def water_for_volume_g(liquid: Liquid, target_ml: Numbers) -> Numbers:
    """Water that brings a liquid up to a wanted volume at 20 °C [g].

    Parameters
    ----------
    liquid : Liquid
        The drink before
    target_ml : float or array
        Wanted volume at 20 °C, not below the drink's [mL]

    Valid for: targets from the volume of the drink up; OutOfRange outside.
    Source: volume as in `volume_ml`, solved.

    >>> from service.liquid.pouring import poured
    >>> round(water_for_volume_g(poured(70, abv=0.40), 99.845), 2)
    29.95
    """
    within("target_ml", target_ml, 0.0, np.inf, "mL")
    return _water_to_fill(liquid, target_ml, "target_ml", "the drink fills more than that now")


def stirring_for_abv(liquid: Liquid, stirring: Stirring, target_abv: float) -> Stirring:
    """The same stir, for as many seconds as bring the drink to a wanted strength [s].

    Parameters
    ----------
    liquid : Liquid
        One drink, no arrays
    stirring : Stirring
        Ice, vessel and pace; its own time is replaced
    target_abv : float
        Wanted strength by volume at 20 °C [mL/mL]

    Valid for: strengths that 0 to 900 s of stirring reach; OutOfRange outside, with what is
    reachable.
    Source: `stir`, solved by Brent's method.

    >>> from service.liquid.pouring import poured
    >>> round(stirring_for_abv(poured(90, abv=0.33), Stirring(), 0.24).seconds)
    25
    """
    return _stirring_until(liquid, stirring, target_abv, abv, "target_abv", "of volume")


def stirring_for_volume(liquid: Liquid, stirring: Stirring, target_ml: float) -> Stirring:
    """The same stir, for as many seconds as bring the drink to a wanted volume [s].

    Parameters
    ----------
    liquid : Liquid
        One drink, no arrays
    stirring : Stirring
        Ice, vessel and pace; its own time is replaced
    target_ml : float
        Wanted volume at 20 °C [mL]

    Valid for: volumes that 0 to 900 s of stirring reach; OutOfRange outside, with what is
    reachable.
    Source: `stir`, solved by Brent's method.

    >>> from service.liquid.pouring import poured
    >>> round(stirring_for_volume(poured(90, abv=0.33), Stirring(), 125.0).seconds)
    27
    """
    return _stirring_until(liquid, stirring, target_ml, volume_ml, "target_ml", "mL")


def scale_for_volume(liquid: Liquid, preparation: Preparation, target_ml: Numbers) -> Numbers:
    """Factor on every pour so that the prepared drink fills a wanted volume [dimensionless].

    Bigger drinks gain a little less water from the same ice, so this is solved, not divided.

    Parameters
    ----------
    liquid : Liquid
        The drink as poured now
    preparation : Stirring or BuiltOnCube or PreDiluted or Unchilled
        How it is made cold
    target_ml : float or array
        Wanted volume after the preparation, at 20 °C, more than 0 [mL]

    Valid for: targets of 1 to 100 000 mL and what `prepare` allows; OutOfRange outside.
    Source: `prepare`, solved by repeated proportion.

    >>> from service.liquid.preparation import PreDiluted
    >>> from service.liquid.pouring import poured
    >>> round(scale_for_volume(poured(90, abv=0.33), PreDiluted(dilution=0.30), 120.0), 3)
    1.026
    """
    within("target_ml", target_ml, 1.0, 100_000.0, "mL")
    factor = target_ml / volume_ml(liquid)
    for _ in range(_SCALE_STEPS):
        ratio = target_ml / volume_ml(prepare(liquid.scaled(factor), preparation).liquid)
        factor = factor * ratio
        if largest(ratio - 1.0) < _NEAR:
            return factor
    raise OutOfRange(
        "no size of drink ends at that volume with this ice; give more ice or a smaller glass",
        field="target_ml",
    )


def _water_to_fill(liquid: Liquid, wanted_ml: Numbers, field: str, advice: str) -> Numbers:
    short = wanted_ml - volume_ml(liquid)
    if largest(larger(-short, 0.0)) > _NEAR * largest(wanted_ml):
        raise OutOfRange(f"water cannot do that: {advice}", field=field)
    water = larger(short, 0.0)
    for _ in range(_WATER_STEPS):
        miss = wanted_ml - volume_ml(liquid.watered(water))
        water = larger(water + miss, 0.0)  # a gram of water adds 0.94 to 1.02 mL
        if largest(miss) < _NEAR * largest(wanted_ml):
            break
    return where(short > 0.0, water, 0.0 * water)


def _stirring_until(
    liquid: Liquid,
    stirring: Stirring,
    target: float,
    reading: Callable[[Liquid], Numbers],
    field: str,
    unit: str,
) -> Stirring:
    def miss(seconds: float) -> float:
        stirred = stir(liquid, replace(stirring, seconds=seconds))
        value = reading(stirred.liquid)
        if isinstance(value, np.ndarray):
            raise BadData("solve for one drink at a time", field=field)
        return value - target

    seconds = find_root(miss, 0.0, _LONGEST_SECONDS)
    if seconds is None:
        first, last = miss(0.0) + target, miss(_LONGEST_SECONDS) + target
        raise OutOfRange(
            f"stirring brings this drink from {first:.4g} to {last:.4g} {unit}, not to "
            f"{target:.4g}; change the pours, the ice or the water",
            field=field,
        )
    return replace(stirring, seconds=seconds)
