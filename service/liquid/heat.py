"""Heat in a liquid: heat capacity, heat of mixing, and what ice brings."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from service.liquid.elementwise import Numbers, larger, polynomial, within
from service.liquid.mixing import Liquid

# J/g/K of water by rising powers of °C; our fit, to 0.0004, to the IAPWS-95 formulation (Wagner
# and Pruss 2002) from 0 to 40 °C; used supercooled to -20 °C, where it runs 2 % low.
_WATER: Final = (4.219209, -3.168002e-3, 8.549074e-5, -7.820443e-7)
# J/g/K that ethanol adds to water's: rows are rising powers of mass fraction from the first,
# columns of °C. Our fit, to 0.03, to Melinder (2010), heat capacity of ethanol-water, over 5 to
# 60 % by mass and -20 to 40 °C.
_ETHANOL: Final = (
    (3.662305, -0.1165034, 1.300001e-3),
    (-19.59008, 0.9211137, -1.138651e-2),
    (26.10471, -1.904318, 2.576638e-2),
    (-12.68999, 1.284938, -1.865772e-2),
)
# J/mol: excess enthalpy of ethanol-water at 25 °C, x(1-x)(a0 + a1 x^0.5 + a2 x^1.5 + a3 x^2.5 +
# a4 x^4.5); Larkin (1975), J. Chem. Thermodynamics 7, 137, coefficients at 298.15 K.
_KELVIN: Final = 298.15
_LARKIN: Final = tuple(
    a + b * _KELVIN + c * _KELVIN**2
    for a, b, c in (
        (-3.63868e5, 1.83829e3, -2.32763),
        (9.25982e5, -4.83586e3, 6.37228),
        (-14.04894e5, 7.51661e3, -10.11280),
        (10.91318e5, -5.89498e3, 7.98868),
        (-2.79986e5, 1.50557e3, -2.03127),
    )
)
_ETHANOL_G_PER_MOL: Final = 46.069
_WATER_G_PER_MOL: Final = 18.015
BASE: Final = 25.0  # °C: pure water and pure ethanol here hold no heat, by convention
# J/g: latent heat of ice at 0 °C, IAPWS 2006 for ice (Feistel and Wagner) against IAPWS-95.
LATENT: Final = 333.43
# J/g/K: ice near -5 °C, same source (2.10 at 0 °C, 1.96 at -18 °C).
ICE: Final = 2.06
# J/g/K: apparent heat capacity of sugar in water near 20 °C, from the sugar trade's formula
# (Bubnik and others 1995, Sugar Technologists Manual; recalled); 1.4 to 1.8.
DISSOLVED: Final = 1.7
STRONGEST: Final = 0.60  # g/g: end of the published heat capacities


def heat_capacity_j_per_g_k(liquid: Liquid, celsius: Numbers = 20.0) -> Numbers:
    """Heat to warm one gram of a liquid by one kelvin [J/g/K].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing
    celsius : float or array
        Temperature [°C]

    Valid for: up to 60 % ethanol by mass of the spirit (68 % vol), -20 to 40 °C; OutOfRange
    outside. Fit within 1 %.
    Source: Melinder (2010) for the spirit, IAPWS-95 for water; sugar 1.7 J/g/K (1.4 to 1.8).

    >>> from service.liquid.pouring import poured
    >>> round(heat_capacity_j_per_g_k(poured(50, abv=0.40), 0.0), 2)
    4.07
    """
    mass = liquid.mass_g
    within("liquid", mass, 1e-12, np.inf, "g", "pour something first")
    spirit = liquid.water_g + liquid.ethanol_g
    fraction = liquid.ethanol_g / larger(spirit, 1e-12)
    check(fraction, celsius)
    return (spirit * spirit_capacity(fraction, celsius) + DISSOLVED * liquid.dissolved_g) / mass


def heat_of_mixing_j(one: Liquid, other: Liquid, celsius: Numbers = 20.0) -> Numbers:
    """Heat that two liquids give off when poured together at one temperature [J].

    More than 0 for water and spirit: they warm each other. Sugar and salt are left out.

    Parameters
    ----------
    one : Liquid
        The first
    other : Liquid
        The second, at the same temperature
    celsius : float or array
        That temperature [°C]

    Valid for: up to 60 % ethanol by mass of either spirit, -20 to 40 °C; OutOfRange outside.
    Source: Larkin (1975) at 25 °C, brought to `celsius` by the heat capacities of Melinder (2010).

    >>> from service.liquid.pouring import poured
    >>> round(heat_of_mixing_j(poured(60, abv=0.40), poured(60, abv=0.0)))
    2018
    """
    apart = _heat(one, celsius) + _heat(other, celsius)
    return apart - _heat(one + other, celsius)


def check(mass_fraction: Numbers, celsius: Numbers) -> None:
    """Raise OutOfRange where the heats are not published."""
    within("liquid", mass_fraction, 0.0, STRONGEST, "g/g of ethanol", "add water: the heats of "
           "spirits above 68 % vol are not in the tables")  # fmt: skip
    within("celsius", celsius, -20.0, 40.0, "°C")


def spirit_capacity(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """Heat capacity of ethanol-water [J/g/K], unchecked."""
    rows = [polynomial(_WATER, celsius), *(polynomial(row, celsius) for row in _ETHANOL)]
    return polynomial(rows, mass_fraction)


def spirit_enthalpy(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """Heat in one gram of ethanol-water against pure water and ethanol at 25 °C [J/g]."""
    return polynomial(_warmed(celsius), mass_fraction) + _excess(mass_fraction)[0]


def water_in_spirit(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """Heat that one more gram of water holds in ethanol-water: partial enthalpy [J/g]."""
    rows = [(1 - power) * row for power, row in enumerate(_warmed(celsius))]
    return polynomial(rows, mass_fraction) + _excess(mass_fraction)[1]


def water_enthalpy(celsius: Numbers) -> Numbers:
    """Heat in one gram of pure water, supercooled below 0 °C [J/g]."""
    return polynomial(_WATER_INTEGRAL, celsius)


def ice_enthalpy(celsius: Numbers) -> Numbers:
    """Heat in one gram of ice [J/g], on the same scale as water."""
    return ICE * celsius + (water_enthalpy(0.0) - LATENT)


def _heat(liquid: Liquid, celsius: Numbers) -> Numbers:
    spirit = liquid.water_g + liquid.ethanol_g
    fraction = liquid.ethanol_g / larger(spirit, 1e-12)
    check(fraction, celsius)
    return spirit * spirit_enthalpy(fraction, celsius) + liquid.dissolved_g * DISSOLVED * (
        celsius - BASE
    )


def _integrated(row: tuple[float, ...]) -> tuple[float, ...]:
    """Coefficients of the integral of a polynomial, zero at the base temperature."""
    risen = (0.0, *(c / (power + 1) for power, c in enumerate(row)))
    return (-math.fsum(c * BASE**power for power, c in enumerate(risen)), *risen[1:])


_WATER_INTEGRAL: Final = _integrated(_WATER)
_ETHANOL_INTEGRAL: Final = tuple(_integrated(row) for row in _ETHANOL)


def _warmed(celsius: Numbers) -> list[Numbers]:
    """Heat taken up from 25 °C, as coefficients of rising powers of mass fraction [J/g]."""
    return [
        polynomial(_WATER_INTEGRAL, celsius),
        *(polynomial(row, celsius) for row in _ETHANOL_INTEGRAL),
    ]


def _excess(mass_fraction: Numbers) -> tuple[Numbers, Numbers]:
    """Excess enthalpy at 25 °C of the mixture and of the water in it [J/g]."""
    a0, a1, a2, a3, a4 = _LARKIN
    ethanol = mass_fraction / _ETHANOL_G_PER_MOL
    moles = ethanol + (1.0 - mass_fraction) / _WATER_G_PER_MOL
    x = ethanol / moles
    root = x**0.5
    bracket = a0 + root * (a1 + x * (a2 + x * (a3 + x * x * a4)))
    slope = 0.5 * root * (a1 + x * (3 * a2 + x * (5 * a3 + x * x * 9 * a4)))  # x times derivative
    excess = x * (1.0 - x) * bracket
    by_x = (1.0 - 2.0 * x) * bracket + (1.0 - x) * slope
    return excess * moles, (excess - x * by_x) / _WATER_G_PER_MOL
