"""The freezing line: the coldest that a liquid in touch with ice can be."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.liquid.elementwise import Numbers, larger, polynomial, within
from service.liquid.mixing import Liquid

# K kg/mol: cryoscopic constant of water (1.86 in any handbook).
CRYOSCOPIC: Final = 1.86
# °C by rising powers of ethanol mass fraction. First slope: the cryoscopic law for ethanol
# (46.069 g/mol). The rest: our fit, to 0.03 K over 2 to 60 % by mass, to the freezing line of
# Melinder (2010), Properties of secondary working fluids for indirect systems; the CRC Handbook's
# table (recalled) lies within 0.34 K of it up to 33 % by mass.
CURVE: Final = (0.0, -1000.0 * CRYOSCOPIC / 46.069, 46.42575, -1035.787, 2454.001, -1693.804)
STRONGEST: Final = 0.60  # g/g: end of the published line, 68 % vol
# g/mol
_SUCROSE: Final = 342.30
_INVERT: Final = 180.16
_TARTARIC: Final = 150.09
_SALT: Final = 58.44
# g/mol: our estimate (150 to 500), because dissolved coffee is a mixture from acids to pectins.
_COFFEE: Final = 250.0
# Particles per molecule in dilute water: tartaric acid slightly, salt almost wholly split;
# from the freezing points of 5 % acid and 5 % salt (CRC Handbook, recalled).
_TARTARIC_SPLIT: Final = 1.1
_SALT_SPLIT: Final = 1.83
# kg/mol: sucrose binds water and lowers the freezing point more than its number says; fitted to
# -0.63, -1.5 and -2.6 °C at 10, 20 and 30 % by mass (CRC Handbook, recalled).
_SUCROSE_BINDS: Final = 0.09


def freezing_celsius(liquid: Liquid) -> Numbers:
    """Temperature at which the first ice forms in a liquid [°C].

    Ethanol counts on the sugar-free spirit; dissolved matter lowers the line further by its
    number of molecules per kilogram of water.

    Parameters
    ----------
    liquid : Liquid
        Masses, with some water in it

    Valid for: up to 60 % ethanol by mass of the spirit (68 % vol), dissolved matter up to twice
    the water; OutOfRange outside.
    Source: Melinder (2010), freezing line of ethanol-water, our fit; cryoscopic law for the rest.

    >>> from service.liquid.pouring import poured
    >>> round(freezing_celsius(poured(50, abv=0.40)), 1)
    -23.3
    """
    within("liquid", liquid.mass_g, 1e-12, np.inf, "g", "pour something first")
    fraction = liquid.ethanol_g / larger(liquid.water_g + liquid.ethanol_g, 1e-12)
    within("liquid", fraction, 0.0, STRONGEST, "g/g of ethanol", "add water: so strong a spirit "
           "does not freeze in a bar")  # fmt: skip
    within("liquid", liquid.dissolved_g / larger(liquid.water_g, 1e-12), 0.0, 2.0,
           "g/g of sugar on water", "thin the syrup first")  # fmt: skip
    particles, bound = particles_of(liquid)
    return line(fraction, lowering(particles, bound, liquid.water_g))


def particles_of(liquid: Liquid) -> tuple[Numbers, Numbers]:
    """Dissolved particles [mol] and what sucrose adds by binding water [mol2 per kg]."""
    sucrose = liquid.sucrose_g / _SUCROSE
    particles = (
        sucrose
        + liquid.invert_g / _INVERT
        + liquid.acid_g * (_TARTARIC_SPLIT / _TARTARIC)
        + liquid.salt_g * (_SALT_SPLIT / _SALT)
        + liquid.coffee_solids_g / _COFFEE
    )
    return particles, _SUCROSE_BINDS * sucrose * sucrose


def lowering(particles: Numbers, bound: Numbers, water_g: Numbers) -> Numbers:
    """How far dissolved matter lowers the freezing line [K]."""
    per_kg = 1000.0 / water_g
    return CRYOSCOPIC * per_kg * (particles + bound * per_kg)


def line(mass_fraction: Numbers, lowered: Numbers) -> Numbers:
    """The freezing line of the spirit, less the lowering [°C], unchecked."""
    return polynomial(CURVE, mass_fraction) - lowered
