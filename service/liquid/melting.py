"""How ice cools a drink: heat flows to its surface, water leaves it, and nothing is lost.

Ice in a spirit does not melt as in water, it dissolves. The water that leaves the ice freshens
the film of drink around it; fresh liquid freezes warmer, so the surface is warmer than the
freezing line of the drink and takes less heat. That is why a stirred drink is quickly near 0 °C
and then only creeps towards its freezing line.

With F the heat flow [W], `freshening` y = ln(strength of the drink / strength at the surface):
    F = film x (drink - surface) = film x B x y        (film theory, water blowing off a wall)
    surface = freezing line of the drink thinned by exp(-y)
The ice inside warms towards its surface as a cube does by conduction, first term.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

from service.liquid import heat
from service.liquid.elementwise import (
    Numbers,
    exp,
    larger,
    largest,
    polynomial_and_slope,
    smaller,
    where,
)
from service.liquid.freezing import CRYOSCOPIC, CURVE, line, lowering

# K per unit of freshening: latent heat / (heat capacity x root of the Lewis number),
# 333 / (4.25 x 16). The Lewis number, heat against ethanol diffusing in a drink near 0 °C, is
# 1.2e-7 / 5e-10 m2/s = 250 (200 to 500: estimate); the root is that of surface renewal (Higbie
# 1935). The film that is blown off follows Bird, Stewart and Lightfoot, Transport phenomena, 2nd
# edition, section 22.8.
FRESHENING_K: Final = 4.9
_SURFACE_STEPS: Final = 1  # Newton, from a guess carried along with the temperature
_BALANCE_STEPS: Final = 30  # ends early once balanced
_BALANCED_J: Final = 1e-7
_WARMTH_STEPS: Final = 3


@dataclass(frozen=True, slots=True)
class Glass:
    """All that does not change while a drink is stirred."""

    ethanol_g: Numbers
    water_g: Numbers  # before any ice has melted; water that clung to the ice included
    dissolved_g: Numbers
    particles: Numbers  # mol, and mol2/kg: see freezing.particles_of
    bound: Numbers
    vessel_j_per_k: Numbers
    ice_g: Numbers
    film_w_per_k: Numbers  # over all of the ice, before any has melted
    core_seconds: Numbers
    energy_j: Numbers  # of liquid, vessel and ice together: never changes
    mixing: bool = True  # without it, melt water keeps apart: to check against simpler balances


class Moment(NamedTuple):
    """What does change."""

    celsius: Numbers
    melt_g: Numbers
    core_celsius: Numbers
    freshening: Numbers


class Pace(NamedTuple):
    """How fast it changes by the heat through the film, and how hard it is pulled to rest.

    The ice inside warms on its own clock, often much faster; what that freezes is told apart.
    """

    cooling: Numbers  # K/s, negative while cooling
    melting: Numbers  # g/s
    surface_celsius: Numbers
    freshening: Numbers
    stiffness: Numbers  # K per unit of freshening
    pull: Numbers  # 1/s: the rate at which a small distance from equilibrium dies away
    freezes: Numbers  # g of the drink's water frozen on for each K that the ice inside warms
    mixes: Numbers  # K that the drink warms for each g of ice water that joins it


def pace(glass: Glass, now: Moment) -> Pace:
    """Heat to the ice at this moment, and what it does."""
    water = glass.water_g + now.melt_g
    spirit = water + glass.ethanol_g
    fresh, stiffness = film_of(glass, now, _SURFACE_STEPS)
    surface = now.celsius - FRESHENING_K * fresh
    left = larger(glass.ice_g - now.melt_g, 0.0)
    film = glass.film_w_per_k * (left / glass.ice_g) ** (2.0 / 3.0)
    flow = film * FRESHENING_K * fresh
    released = heat.water_enthalpy(surface)
    to_melt = released - heat.ice_enthalpy(now.core_celsius)
    capacity, joining = _capacity_and_joining(glass, now.melt_g, now.celsius)
    mixes = (released - joining) / capacity
    fall = 1.0 / capacity - mixes / to_melt  # K for each J that the ice takes
    give = film * FRESHENING_K / stiffness  # W more for each K that the drink is warmer
    rise = (stiffness - FRESHENING_K) / (spirit * to_melt)
    return Pace(
        cooling=-flow * fall,
        melting=flow / to_melt,
        surface_celsius=surface,
        freshening=fresh,
        stiffness=stiffness,
        pull=give * (fall + rise),
        freezes=left * heat.ICE / to_melt,
        mixes=mixes,
    )


def rates(glass: Glass, now: Moment) -> tuple[Numbers, Numbers, Numbers]:
    """All at once, for an integrator: drink [K/s], melt [g/s], ice inside [K/s]."""
    rate = pace(glass, now)
    warming = (rate.surface_celsius - now.core_celsius) / glass.core_seconds
    freezing = rate.freezes * warming
    return rate.cooling - freezing * rate.mixes, rate.melting - freezing, warming


def advance(glass: Glass, now: Moment, seconds: Numbers) -> Moment:
    """The moment some seconds later: exponential midpoint rule, stable however long the step."""
    first = pace(glass, now)
    halfway = _moved(glass, now, now, first, first.pull, 0.5 * seconds)
    return _moved(glass, now, halfway, pace(glass, halfway), first.pull, seconds)


def film_of(glass: Glass, now: Moment, steps: int) -> tuple[Numbers, Numbers]:
    """Freshening of the film at the ice, and how stiff it is: kelvin for one more unit of it."""
    water = glass.water_g + now.melt_g
    fraction = glass.ethanol_g / (water + glass.ethanol_g)
    per_kg = 1000.0 / water
    one, two = CRYOSCOPIC * per_kg * glass.particles, CRYOSCOPIC * per_kg**2 * glass.bound
    fresh: Numbers = now.freshening
    stiffness: Numbers = FRESHENING_K
    for _ in range(steps):
        thinned = exp(-fresh)
        coldest, slope = polynomial_and_slope(CURVE, fraction * thinned)
        surface = coldest - thinned * (one + two * thinned)
        stiffness = FRESHENING_K + thinned * (one + 2.0 * two * thinned - fraction * slope)
        fresh = fresh + (now.celsius - surface - FRESHENING_K * fresh) / stiffness
    return fresh, stiffness


def energy(glass: Glass, now: Moment) -> Numbers:
    """Heat in liquid, vessel and ice together [J]; stays `glass.energy_j` while stirring."""
    ice = (glass.ice_g - now.melt_g) * heat.ice_enthalpy(now.core_celsius)
    return liquid_heat(glass, now.melt_g, now.celsius) + ice


def liquid_heat(glass: Glass, melt_g: Numbers, celsius: Numbers) -> Numbers:
    """Heat in liquid and vessel [J]."""
    joined = melt_g if glass.mixing else 0.0 * melt_g
    spirit = glass.water_g + joined + glass.ethanol_g
    apart = (melt_g - joined) * heat.water_enthalpy(celsius)
    beside = heat.DISSOLVED * glass.dissolved_g + glass.vessel_j_per_k
    warm = heat.spirit_enthalpy(glass.ethanol_g / spirit, celsius)
    return spirit * warm + apart + beside * (celsius - heat.BASE)


def freezing_line(glass: Glass, melt_g: Numbers) -> Numbers:
    """Freezing line of the drink once so much ice has melted [°C]."""
    water = glass.water_g + melt_g
    lowered = lowering(glass.particles, glass.bound, water)
    return line(glass.ethanol_g / (water + glass.ethanol_g), lowered)


def settled(glass: Glass, above: Numbers, core_celsius: Numbers | None, melt_g: Numbers) -> Moment:
    """The moment at which the energy balance holds, `above` kelvin over the freezing line.

    With no `core_celsius` the ice inside is as cold as the drink. `melt_g` is a first guess.
    Where the ice runs out first, the drink stays as warm as the balance says.
    """
    melt = melt_g
    for _ in range(_BALANCE_STEPS):
        celsius = freezing_line(glass, melt) + above
        core = celsius if core_celsius is None else core_celsius
        capacity, joining = _capacity_and_joining(glass, melt, celsius)
        if core_celsius is None:
            capacity = capacity + (glass.ice_g - melt) * heat.ICE
        by_melt = joining + capacity * _line_rises(glass, melt) - heat.ice_enthalpy(core)
        miss = energy(glass, Moment(celsius, melt, core, 0.0)) - glass.energy_j
        melt = melt - miss / by_melt
        if largest(miss) < _BALANCED_J:
            break
    if largest(larger(melt - glass.ice_g, 0.0)) > 0.0:
        return _without_ice(glass, above, core_celsius, melt)
    celsius = freezing_line(glass, melt) + above
    return Moment(celsius, melt, celsius if core_celsius is None else core_celsius, 0.0)


def warmth(glass: Glass, now: Moment) -> Numbers:
    """Temperature of liquid and vessel that the energy balance asks for at a given melt [°C]."""
    celsius = now.celsius
    for _ in range(_WARMTH_STEPS):
        miss = energy(glass, now._replace(celsius=celsius)) - glass.energy_j
        celsius = celsius - miss / _capacity_and_joining(glass, now.melt_g, celsius)[0]
    return celsius


def _moved(
    glass: Glass, now: Moment, seen: Moment, rate: Pace, pull: Numbers, seconds: Numbers
) -> Moment:
    """From `now`, by the pace at `seen`; the two clocks, film and core, integrated exactly."""
    spent = larger(pull * seconds, 1e-9)
    lasting = (1.0 - exp(-spent)) / spent
    held = seconds * lasting
    behind = rate.surface_celsius - now.core_celsius
    warmed = behind * (1.0 - exp(-seconds / glass.core_seconds))
    frozen = lasting * rate.freezes * warmed
    celsius = now.celsius + held * (rate.cooling + pull * (seen.celsius - now.celsius))
    celsius = celsius - frozen * rate.mixes
    melt = now.melt_g + held * (rate.melting + pull * (seen.melt_g - now.melt_g)) - frozen
    fresh = rate.freshening + (celsius - seen.celsius) / rate.stiffness
    return Moment(celsius, melt, now.core_celsius + warmed, fresh)


def _capacity_and_joining(
    glass: Glass, melt_g: Numbers, celsius: Numbers
) -> tuple[Numbers, Numbers]:
    """Heat to warm liquid and vessel by 1 K [J/K], and heat that a gram of water holds in it."""
    beside = heat.DISSOLVED * glass.dissolved_g + glass.vessel_j_per_k
    if not glass.mixing:
        spirit = glass.water_g + glass.ethanol_g
        apart = heat.spirit_capacity(0.0, celsius) * melt_g
        own = spirit * heat.spirit_capacity(glass.ethanol_g / spirit, celsius)
        return own + apart + beside, heat.water_enthalpy(celsius)
    spirit = glass.water_g + melt_g + glass.ethanol_g
    fraction = glass.ethanol_g / spirit
    capacity = spirit * heat.spirit_capacity(fraction, celsius) + beside
    return capacity, heat.water_in_spirit(fraction, celsius)


def _line_rises(glass: Glass, melt_g: Numbers) -> Numbers:
    """How much the freezing line rises with each gram of ice melted [K/g]."""
    water = glass.water_g + melt_g
    spirit = water + glass.ethanol_g
    fraction = glass.ethanol_g / spirit
    _, slope = polynomial_and_slope(CURVE, fraction)
    per_kg = 1000.0 / water
    thinning = CRYOSCOPIC * per_kg * (glass.particles + 2.0 * glass.bound * per_kg) / water
    return thinning - slope * fraction / spirit


def _without_ice(
    glass: Glass, above: Numbers, core_celsius: Numbers | None, melt_g: Numbers
) -> Moment:
    """The same where the ice does not last: all of it melts, and the balance tells the warmth."""
    gone = melt_g >= glass.ice_g
    melt = smaller(melt_g, glass.ice_g)
    cold = freezing_line(glass, melt) + above
    warm = warmth(glass, Moment(cold, melt, 0.0, 0.0))
    celsius = where(gone, warm, cold)
    core = celsius if core_celsius is None else where(gone, celsius, core_celsius)
    return Moment(celsius, melt, core, 0.0)
