"""Stirring with ice: how cold, how diluted, after how many seconds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from service.kit import OutOfRange
from service.liquid import heat
from service.liquid.elementwise import Numbers, larger, largest, smaller, within
from service.liquid.freezing import STRONGEST, freezing_celsius, particles_of
from service.liquid.melting import (
    FRESHENING_K,
    Glass,
    Moment,
    advance,
    film_of,
    freezing_line,
    settled,
    warmth,
)
from service.liquid.mixing import Liquid, volume_ml
from service.liquid.viscosity import viscosity_mpa_s

# W/m2/K: heat from stirred drink to ice at two turns a second and 6.5 mPa·s. Fitted so that the
# dilution after 30 s agrees with the published rule for stirred drinks (Arnold 2014, Liquid
# Intelligence: D = -1.21 q^2 + 1.246 q + 0.145; recalled) for 90 mL: 7 % above it at 20 % vol,
# on it near 25 %, 7 % below it at 40 %. A calibration, not a validation. Laminar flow past a
# plate of 30 mm would give about 1500 at 0.3 m/s and 2000 at 0.5 m/s (Pohlhausen 1921).
FILM_W_PER_M2_K: Final = 2300.0
_USUAL_TURNS: Final = 2.0  # per second; common practice, no source
_FILM_MPA_S: Final = 6.5
# Laminar boundary layer (Pohlhausen 1921): heat flow as the root of speed and, by way of
# Reynolds^1/2 and Prandtl^1/3, as viscosity^-1/6.
_BY_VISCOSITY: Final = -1.0 / 6.0
_STILL_TURNS: Final = 0.05  # our estimate: a drink at rest still moves a little by its own weight
_ICE_KG_PER_M3: Final = 917.0  # density of ice at 0 °C, any handbook
_ICE_M2_PER_S: Final = 1.15e-6  # thermal diffusivity of ice near -5 °C: 2.2 / (917 x 2060)
# g of ice that a mL of drink wets: ice cubes fill 0.60 of a heap (0.55 to 0.68), drink the rest:
# 0.917 x 0.60 / 0.40. More ice than that stays dry and changes nothing, as bar trials found
# (Arnold 2009, The science of shaking, part 2: the gain from more ice levels off).
_WETTED_G_PER_ML: Final = 1.375
_STEPS: Final = 6
_FIRST_FILM_STEPS: Final = 6


@dataclass(frozen=True, slots=True)
class Stirring:
    """A stir with ice, strained. Numbers may be arrays, one for each drink.

    Defaults are a bar's usual stir: estimates from common practice, no source. `turns_per_second`
    is the spoon's pace; `surface_water_g` the water that clings to the ice (0 for dry ice straight
    from the freezer, about 2 g for 200 g of tempered cubes); `vessel_j_per_k` the heat capacity of
    the part of the vessel that follows the drink (168 J/K: 200 g of glass).
    """

    seconds: Numbers = 30.0
    ice_g: Numbers = 200.0
    cube_mm: Numbers = 30.0
    ice_celsius: Numbers = 0.0
    surface_water_g: Numbers = 2.0
    vessel_j_per_k: Numbers = 168.0
    vessel_celsius: Numbers = 0.0
    start_celsius: Numbers = 22.0
    turns_per_second: Numbers = 2.0


@dataclass(frozen=True, slots=True)
class Stirred:
    """A drink that has been chilled: `melt_g` counts all water that came with or from the ice."""

    liquid: Liquid
    celsius: Numbers
    melt_g: Numbers


def stir(liquid: Liquid, stirring: Stirring) -> Stirred:
    """A drink after stirring with ice: liquid [g], temperature [°C], water gained [g].

    Heat flows from the drink to the ice through a film that the ice itself freshens; energy is
    kept to a millionth of a joule, and the drink is never colder than its freezing line.

    Parameters
    ----------
    liquid : Liquid
        The drink before, at `stirring.start_celsius`
    stirring : Stirring
        Time, ice, vessel and pace

    Valid for: up to 60 % ethanol by mass of the spirit (68 % vol), 0 to 900 s, 10 g to 5 kg of
    ice in cubes of 3 to 100 mm at -30 to 0 °C, the drink between its freezing line and 40 °C
    before, 0 to 6 turns a second; OutOfRange outside.
    Source: film theory of melting with dissolution, see `melting`; one constant calibrated on
    Arnold (2014), within 8 % of it for 20 to 40 % vol; that is no validation.

    >>> from service.liquid.pouring import poured
    >>> cold = stir(poured(90, abv=0.33), Stirring())
    >>> round(cold.melt_g), round(cold.celsius, 1)
    (36, -2.1)
    """
    glass, now = filled(liquid, stirring)
    for share in range(_STEPS):
        part = (2 * share + 1) / _STEPS**2  # short steps first, while the drink changes fast
        now = advance(glass, now, stirring.seconds * part)
    now = balanced(glass, now)
    gained = now.melt_g + stirring.surface_water_g
    return Stirred(liquid.watered(gained), now.celsius, gained)


def equilibrium(
    liquid: Liquid,
    stirring: Stirring,
    *,
    core_celsius: Numbers | None = None,
    mixing: bool = True,
) -> Stirred:
    """The same drink stirred for ever: on its freezing line [g, °C, g].

    Parameters
    ----------
    liquid : Liquid
        The drink before
    stirring : Stirring
        Ice, vessel and temperatures; time and pace play no part
    core_celsius : float or array or None
        Temperature at which the ice that does not melt stays; with none it is as cold as the
        drink in the end [°C]
    mixing : bool
        Whether the heat of mixing counts; leaving it out shows what simpler balances give

    Valid for: as `stir`.
    Source: energy balance on the freezing line of Melinder (2010); heats as in `heat`.

    >>> from service.liquid.pouring import poured
    >>> rest = equilibrium(poured(90, abv=0.33), Stirring())
    >>> round(rest.celsius, 1)
    -8.4
    """
    glass, now = filled(liquid, stirring, mixing)
    rest = settled(glass, 0.0, core_celsius, now.melt_g)
    gained = rest.melt_g + stirring.surface_water_g
    return Stirred(liquid.watered(gained), rest.celsius, gained)


def filled(liquid: Liquid, stirring: Stirring, mixing: bool = True) -> tuple[Glass, Moment]:
    """The glass with drink and ice in it at the first moment, before any ice has melted."""
    _check(liquid, stirring)
    clinging = stirring.surface_water_g
    wetted = liquid.watered(clinging)
    particles, bound = particles_of(wetted)
    ice = smaller(stirring.ice_g, _WETTED_G_PER_ML * volume_ml(wetted))
    spirit = liquid.water_g + liquid.ethanol_g
    brought = (
        spirit * heat.spirit_enthalpy(liquid.ethanol_g / spirit, stirring.start_celsius)
        + heat.DISSOLVED * liquid.dissolved_g * (stirring.start_celsius - heat.BASE)
        + stirring.vessel_j_per_k * (stirring.vessel_celsius - heat.BASE)
        + clinging * heat.water_enthalpy(0.0)
        + ice * heat.ice_enthalpy(stirring.ice_celsius)
    )
    glass = Glass(
        ethanol_g=liquid.ethanol_g,
        water_g=wetted.water_g,
        dissolved_g=liquid.dissolved_g,
        particles=particles,
        bound=bound,
        vessel_j_per_k=stirring.vessel_j_per_k,
        ice_g=ice,
        film_w_per_k=_film_w_per_k(wetted, ice, stirring),
        core_seconds=(stirring.cube_mm / 1000.0) ** 2 / (3.0 * math.pi**2 * _ICE_M2_PER_S),
        energy_j=brought,
        mixing=mixing,
    )
    start = Moment(stirring.start_celsius, 0.0, stirring.ice_celsius, 0.0)
    start = start._replace(celsius=warmth(glass, start))
    start = start._replace(freshening=larger(start.celsius / FRESHENING_K, 0.0))
    return glass, start._replace(freshening=film_of(glass, start, _FIRST_FILM_STEPS)[0])


def balanced(glass: Glass, now: Moment) -> Moment:
    """The same moment with the last rounding of the steps taken out of its energy."""
    above = larger(now.celsius - freezing_line(glass, now.melt_g), 0.0)
    return settled(glass, above, now.core_celsius, now.melt_g)


def _film_w_per_k(wetted: Liquid, ice_g: Numbers, stirring: Stirring) -> Numbers:
    """Heat flow from drink to all of the wetted ice for each kelvin between them [W/K]."""
    surface_m2 = 6.0 * ice_g / (_ICE_KG_PER_M3 * stirring.cube_mm)
    speed = larger(stirring.turns_per_second, _STILL_TURNS) / _USUAL_TURNS
    thick = viscosity_mpa_s(wetted, 0.0) / _FILM_MPA_S
    return FILM_W_PER_M2_K * surface_m2 * speed**0.5 * thick**_BY_VISCOSITY


def _check(liquid: Liquid, stirring: Stirring) -> None:
    spirit = larger(liquid.water_g + liquid.ethanol_g, 1e-12)
    if largest(liquid.ethanol_g / spirit) > STRONGEST:
        raise OutOfRange(
            "before any ice this drink is stronger than 68 % vol, and how ice melts in it is not "
            "known; pour less of the strong bottle, or measure water into it and keep it cold "
            "instead of stirring",
            field="liquid",
        )
    within("seconds", stirring.seconds, 0.0, 900.0, "s")
    within("ice_g", stirring.ice_g, 10.0, 5000.0, "g", "weigh the ice")
    within("cube_mm", stirring.cube_mm, 3.0, 100.0, "mm")
    within("ice_celsius", stirring.ice_celsius, -30.0, 0.0, "°C", "ice is not warmer than 0 °C")
    within("surface_water_g", stirring.surface_water_g, 0.0, 200.0, "g", "drain the ice first")
    within("vessel_j_per_k", stirring.vessel_j_per_k, 0.0, 5000.0, "J/K")
    within("vessel_celsius", stirring.vessel_celsius, -25.0, 40.0, "°C")
    within("turns_per_second", stirring.turns_per_second, 0.0, 6.0, "turns/s")
    within("start_celsius", stirring.start_celsius, -20.0, 40.0, "°C")
    line = freezing_celsius(liquid)
    within("start_celsius", stirring.start_celsius - line, 0.0, np.inf, "K above freezing",
           "the drink would be frozen before the stir")  # fmt: skip
