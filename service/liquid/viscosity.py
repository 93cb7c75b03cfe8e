"""Viscosity of a cold drink: water, ethanol and sugar together."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.liquid.elementwise import Numbers, exp, larger, polynomial, within
from service.liquid.mixing import Liquid

# mPa·s: water at 0.1 MPa, sum of a (T/300 K)^b, -20 to 110 °C; IAPWS SR6-08 (2011), equation for
# viscosity, Table 8.
_WATER: Final = ((0.28068, -1.9), (0.51145, -7.7), (0.061131, -19.6), (0.00045903, -40.0))
# Logarithm of viscosity relative to water: rows are rising powers of ethanol mass fraction from
# the first, columns of t / 10 °C. Our fit, to 2.6 %, to Bingham and Jackson (1918), Bulletin of
# the Bureau of Standards 14, 59, at 0 to 30 °C; below 0 °C to 2.7 % to Melinder (2010).
_ETHANOL: Final = (
    (6.451703, -1.765981, 0.3076688),
    (0.5964642, 5.462466, -1.883276),
    (-40.69281, -8.100762, 4.96618),
    (63.05718, 9.765178, -6.74544),
    (-29.83007, -6.317222, 3.70074),
)
# Logarithm of viscosity of sucrose in water relative to water, w (1 + (c + d w)(20 - t)) /
# (a - b w); our fit, to 2.5 %, to Bingham and Jackson (1918) at 20 and 40 % by mass, 0 to 30 °C,
# and to the CRC Handbook at 20 °C, 5 to 50 % by mass.
_SUGAR: Final = (0.3731915, 0.3830544, 3.769115e-3, 9.613784e-3)
STRONGEST: Final = 0.60  # g/g of ethanol in the spirit
SWEETEST: Final = 0.50  # g/g of dissolved matter in the whole


def viscosity_mpa_s(liquid: Liquid, celsius: Numbers = 20.0) -> Numbers:
    """Viscosity of a liquid [mPa·s].

    Ethanol thickens water up to fourfold when cold, most near 40 % by mass; sugar multiplies
    that. Acid, salt and coffee solids count as sugar.

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing
    celsius : float or array
        Temperature [°C]

    Valid for: up to 60 % ethanol by mass of the spirit (68 % vol), up to 50 % dissolved matter by
    mass of the whole, -20 to 30 °C; OutOfRange outside.
    Source: Bingham and Jackson (1918); Melinder (2010) below 0 °C; IAPWS SR6-08 for water. That
    sugar multiplies a spirit's viscosity as it does water's is our assumption, within 10 %.

    >>> from service.liquid.pouring import poured
    >>> round(viscosity_mpa_s(poured(90, abv=0.28, sugar_g_per_l=60), 0.0), 1)
    7.2
    """
    spirit = liquid.water_g + liquid.ethanol_g
    whole = liquid.mass_g
    within("liquid", whole, 1e-12, np.inf, "g", "pour something first")
    fraction = liquid.ethanol_g / larger(spirit, 1e-12)
    dissolved = liquid.dissolved_g / whole
    within("liquid", fraction, 0.0, STRONGEST, "g/g of ethanol", "add water first")
    within("liquid", dissolved, 0.0, SWEETEST, "g/g of sugar", "thin the syrup first")
    within("celsius", celsius, -20.0, 30.0, "°C")
    return spirit_viscosity(fraction, celsius) * exp(_sugar_effect(dissolved, celsius))


def spirit_viscosity(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """Viscosity of ethanol-water [mPa·s], unchecked."""
    tens = celsius / 10.0
    rows = (0.0, *(polynomial(row, tens) for row in _ETHANOL))
    return water_viscosity(celsius) * exp(polynomial(rows, mass_fraction))


def water_viscosity(celsius: Numbers) -> Numbers:
    """Viscosity of water [mPa·s], unchecked."""
    ratio = (celsius + 273.15) / 300.0
    total: Numbers = 0.0
    for factor, power in _WATER:
        total = total + factor * ratio**power
    return total


def _sugar_effect(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    a, b, c, d = _SUGAR
    colder = 20.0 - celsius
    return mass_fraction * (1.0 + (c + d * mass_fraction) * colder) / (a - b * mass_fraction)
