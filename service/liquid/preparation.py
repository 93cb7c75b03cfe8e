"""The ways a drink is made cold, or not, before it meets the coffee."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from service.liquid.elementwise import Numbers, within
from service.liquid.ethanol_water import coefficients_at
from service.liquid.freezing import freezing_celsius
from service.liquid.mixing import Liquid, volume_ml
from service.liquid.stirring import Stirring, stir

_ICE_G_PER_MM3: Final = 0.917e-3  # density of ice at 0 °C, any handbook


@dataclass(frozen=True, slots=True)
class BuiltOnCube:
    """Poured over one large cube in the glass it is built in, and turned a few times.

    Defaults are estimates from common practice, no source: a glass at room temperature, a cube
    just out of the freezer for some minutes. Numbers may be arrays.
    """

    seconds: Numbers = 20.0
    cube_mm: Numbers = 50.0
    ice_celsius: Numbers = -5.0
    surface_water_g: Numbers = 0.5
    vessel_j_per_k: Numbers = 168.0
    vessel_celsius: Numbers = 22.0
    start_celsius: Numbers = 22.0
    turns_per_second: Numbers = 1.0


@dataclass(frozen=True, slots=True)
class PreDiluted:
    """Mixed with its water ahead of service and kept cold; no ice touches it.

    `dilution` is water per volume of drink before, both at 20 °C; `celsius` how cold it is kept.
    """

    dilution: Numbers = 0.30
    celsius: Numbers = -5.0


@dataclass(frozen=True, slots=True)
class Unchilled:
    """Mixed and poured as it is."""

    celsius: Numbers = 20.0


Preparation: TypeAlias = Stirring | BuiltOnCube | PreDiluted | Unchilled


@dataclass(frozen=True, slots=True)
class Prepared:
    """A drink ready to be poured: `melt_g` is all the water that the preparation added."""

    liquid: Liquid
    celsius: Numbers
    melt_g: Numbers


def prepare(liquid: Liquid, preparation: Preparation) -> Prepared:
    """A drink as it leaves its preparation: liquid [g], temperature [°C], water added [g].

    Parameters
    ----------
    liquid : Liquid
        The drink as poured
    preparation : Stirring or BuiltOnCube or PreDiluted or Unchilled
        How it is made cold

    Valid for: what `stir` allows; dilution 0 to 3; a temperature from the drink's freezing line
    to 40 °C; OutOfRange outside.
    Source: energy balance of `stir` where ice is used; plain addition of water where not.

    >>> from service.liquid.pouring import poured
    >>> kept = prepare(poured(90, abv=0.35), PreDiluted(dilution=0.25))
    >>> kept.celsius, round(kept.melt_g, 1)
    (-5.0, 22.5)
    """
    match preparation:
        case Stirring():
            return _stirred(liquid, preparation)
        case BuiltOnCube():
            return _stirred(liquid, _on_one_cube(preparation))
        case PreDiluted():
            within("dilution", preparation.dilution, 0.0, 3.0, "mL/mL")
            water_ml = preparation.dilution * volume_ml(liquid)
            water_g = water_ml * coefficients_at(20.0)[0] / 1000.0
            return _kept(liquid, water_g, preparation.celsius)
        case Unchilled():
            return _kept(liquid, 0.0, preparation.celsius)


def cube_g(cube_mm: Numbers) -> Numbers:
    """Mass of one cube of ice [g].

    Parameters
    ----------
    cube_mm : float or array
        Edge of the cube, more than 0 to 100 [mm]

    Valid for: edges of more than 0 to 100 mm; OutOfRange outside.
    Source: density of ice at 0 °C, 917 kg/m3, any handbook.

    >>> round(cube_g(50))
    115
    """
    within("cube_mm", cube_mm, 1e-9, 100.0, "mm")
    return _ICE_G_PER_MM3 * cube_mm**3


def _on_one_cube(built: BuiltOnCube) -> Stirring:
    return Stirring(
        seconds=built.seconds,
        ice_g=cube_g(built.cube_mm),
        cube_mm=built.cube_mm,
        ice_celsius=built.ice_celsius,
        surface_water_g=built.surface_water_g,
        vessel_j_per_k=built.vessel_j_per_k,
        vessel_celsius=built.vessel_celsius,
        start_celsius=built.start_celsius,
        turns_per_second=built.turns_per_second,
    )


def _stirred(liquid: Liquid, stirring: Stirring) -> Prepared:
    cold = stir(liquid, stirring)
    return Prepared(cold.liquid, cold.celsius, cold.melt_g)


def _kept(liquid: Liquid, water_g: Numbers, celsius: Numbers) -> Prepared:
    drink = liquid.watered(water_g)
    within("celsius", celsius, -20.0, 40.0, "°C")
    if not isinstance(celsius, np.ndarray) and celsius >= 0.0:
        return Prepared(drink, celsius, water_g)
    above = celsius - freezing_celsius(drink)
    within("celsius", above, 0.0, np.inf, "K above its freezing line",
           "it would turn to slush: keep it warmer, or add less water")  # fmt: skip
    return Prepared(drink, celsius, water_g)
