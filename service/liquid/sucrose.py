"""Sugar, acid, salt and coffee solids in a liquid: the room that each gram takes."""

from __future__ import annotations

from typing import Final

from service.liquid.elementwise import Numbers, polynomial, within
from service.liquid.ethanol_water import coefficients_at

# kg/m3: density of sucrose in water above that of water, as rising powers of mass fraction (rows:
# rising powers of (t - 20)/100), ICUMSA Specification and Standard SPS-4 (density of sucrose).
_ABOVE_WATER: Final = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
# mL/g: tartaric acid in water at 5 to 10 % by mass, from its density there (CRC Handbook of
# Chemistry and Physics, Concentrative properties of aqueous solutions; recalled). Citric acid,
# by the same table, takes 0.61: with 5 g/L of acid the difference is 0.03 % of volume.
ACID_ML_PER_G: Final = 0.555
# mL/g: sodium chloride, 0.294 at 1 % and 0.349 at 20 % by mass in water (same table; recalled);
# a straight line by mass fraction between.
SALT_ML_PER_G: Final = (0.291, 0.290)
# mL/g: our estimate (0.55 to 0.70), because dissolved coffee is mostly carbohydrate and acids.
COFFEE_ML_PER_G: Final = 0.62


def sucrose_density_kg_per_m3(mass_fraction: Numbers, celsius: Numbers = 20.0) -> Numbers:
    """Density of a plain sugar syrup, sucrose in water [kg/m3].

    Parameters
    ----------
    mass_fraction : float or array
        Sucrose by mass, Brix / 100, 0 to 0.85 [g/g]
    celsius : float or array
        Temperature [°C]

    Valid for: mass fraction 0 to 0.85, 0 to 40 °C as published and down to -20 °C by
    extrapolation; OutOfRange outside.
    Source: ICUMSA SPS-4, on the water of OIML R 22 (1975).

    >>> round(sucrose_density_kg_per_m3(0.20), 2)
    1080.98
    """
    within("mass_fraction", mass_fraction, 0.0, 0.85, "g/g")
    within("celsius", celsius, -20.0, 40.0, "°C")
    return coefficients_at(celsius)[0] + mass_fraction * _rise(mass_fraction, celsius)


def sugar_ml_per_g(mass_fraction: Numbers, celsius: Numbers = 20.0) -> Numbers:
    """Room that one gram of dissolved sugar takes: its apparent specific volume [mL/g].

    Measured in water. In a spirit the same value is used at the same share of sugar in the whole
    liquid, and for invert sugar too; model error of density about 0.3 %.

    Parameters
    ----------
    mass_fraction : float or array
        Sugar by mass of the whole liquid, 0 to 0.85 [g/g]
    celsius : float or array
        Temperature [°C]

    Valid for: mass fraction 0 to 0.85, -20 to 40 °C; OutOfRange outside.
    Source: ICUMSA SPS-4, rearranged: (1/density - (1 - w)/density of water) / w.

    >>> round(sugar_ml_per_g(0.20), 4)
    0.6182
    """
    within("mass_fraction", mass_fraction, 0.0, 0.85, "g/g")
    within("celsius", celsius, -20.0, 40.0, "°C")
    return sugar_room(mass_fraction, celsius)


def sugar_room(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """The same without a look at the limits, for callers that have looked."""
    water = coefficients_at(celsius)[0]
    rise = _rise(mass_fraction, celsius)
    above = water - (1.0 - mass_fraction) * rise
    return 1000.0 * above / (water * (water + mass_fraction * rise))


def salt_ml_per_g(mass_fraction: Numbers) -> Numbers:
    """Room that one gram of dissolved table salt takes [mL/g].

    Parameters
    ----------
    mass_fraction : float or array
        Salt by mass of the whole liquid, 0 to 0.26 [g/g]

    Valid for: mass fraction 0 to 0.26 (saturated brine), near 20 °C; OutOfRange outside.
    Source: CRC Handbook, Concentrative properties of aqueous solutions (recalled); our line.

    >>> round(salt_ml_per_g(0.20), 3)
    0.349
    """
    within("mass_fraction", mass_fraction, 0.0, 0.26, "g/g", "more salt does not dissolve")
    return polynomial(SALT_ML_PER_G, mass_fraction)


def _rise(mass_fraction: Numbers, celsius: Numbers) -> Numbers:
    """Density above water divided by mass fraction [kg/m3]."""
    hundreds = (celsius - 20.0) / 100.0
    rows = [polynomial(row, mass_fraction) for row in _ABOVE_WATER]
    return polynomial(rows, hundreds)
