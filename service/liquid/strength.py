"""Strength by volume, by mass and by density, at 20 °C and at any temperature; contraction."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.kit import OutOfRange
from service.liquid.elementwise import (
    Numbers,
    larger,
    largest,
    polynomial,
    smaller,
    where,
    within,
)
from service.liquid.ethanol_water import (
    ETHANOL_DENSITY,
    A,
    coefficients_at,
    density_and_slope,
    within_formula,
)

# g/mL: a label's strength counts ethanol by its volume at 20 °C (OIML R 22, 1975, definitions).
ETHANOL_G_PER_ML: Final = ETHANOL_DENSITY / 1000.0
# First guess of mass fraction / volume fraction; fitted to the formula to 0.5 %, then refined.
_GUESS: Final = (0.79154, 0.09587, -0.03615, 0.14397)
_NEWTON_STEPS: Final = 4  # from 0.5 % off to the last digit
_SEARCH_STEPS: Final = 60
# kg/m3: density falls with strength everywhere, least steeply (-6) at -20 °C near 24 % vol.
_LEAST_SLOPE: Final = -1.0


def mass_fraction_of_abv(abv: Numbers) -> Numbers:
    """Ethanol by mass of a sugar-free spirit whose label strength is known [g/g].

    Parameters
    ----------
    abv : float or array
        Strength by volume at 20 °C, 0 to 1 [mL/mL]

    Valid for: strength 0 to 1; OutOfRange outside.
    Source: OIML R 22 (1975); volume strength = mass fraction x density / density of ethanol.

    >>> round(mass_fraction_of_abv(0.40), 5)
    0.333
    """
    within("abv", abv, 0.0, 1.0, "of volume", "give strength as a fraction: 40 % vol is 0.40")
    return mass_fraction_unchecked(abv)


def mass_fraction_unchecked(abv: Numbers) -> Numbers:
    """The same without a look at the limits, for callers that have looked."""
    mass_fraction = abv * polynomial(_GUESS, abv)
    for _ in range(_NEWTON_STEPS):
        density, slope = density_and_slope(A, mass_fraction)
        miss = mass_fraction * density - abv * ETHANOL_DENSITY
        mass_fraction = mass_fraction - miss / (density + mass_fraction * slope)
    return mass_fraction


def abv_of_mass_fraction(mass_fraction: Numbers) -> Numbers:
    """Label strength of a sugar-free spirit whose ethanol by mass is known [mL/mL at 20 °C].

    Parameters
    ----------
    mass_fraction : float or array
        Ethanol by mass, 0 to 1 [g/g]

    Valid for: mass fraction 0 to 1; OutOfRange outside.
    Source: OIML R 22 (1975), definitions and general formula.

    >>> round(abv_of_mass_fraction(0.333), 4)
    0.4
    """
    within("mass_fraction", mass_fraction, 0.0, 1.0, "g/g")
    return mass_fraction * polynomial(A, mass_fraction) / ETHANOL_DENSITY


def abv_at_celsius(abv: Numbers, celsius: Numbers) -> Numbers:
    """Strength by volume that a spirit has at another temperature [mL/mL at `celsius`].

    Ethanol shrinks more than the mixture does, so a cold spirit is a little weaker by volume.

    Parameters
    ----------
    abv : float or array
        Label strength, by volume at 20 °C, 0 to 1 [mL/mL]
    celsius : float or array
        Temperature at which both volumes are taken [°C]

    Valid for: strength 0 to 1, -20 to 40 °C, sugar-free; OutOfRange outside.
    Source: OIML R 22 (1975), general formula.

    >>> round(abv_at_celsius(0.40, 0.0), 4)
    0.3968
    """
    mass_fraction = mass_fraction_of_abv(abv)
    within_formula(celsius)
    cold = coefficients_at(celsius)
    return mass_fraction * polynomial(cold, mass_fraction) / sum(cold)


def abv_of_density(density_kg_per_m3: Numbers, celsius: Numbers = 20.0) -> Numbers:
    """Label strength that a density reading means in a sugar-free spirit [mL/mL at 20 °C].

    Parameters
    ----------
    density_kg_per_m3 : float or array
        Density as read at `celsius` [kg/m3]
    celsius : float or array
        Temperature of the spirit when read [°C]

    Valid for: densities between ethanol and water at that temperature, -20 to 40 °C;
    OutOfRange outside (a sugared liquid may be denser than water: no strength can be read).
    Source: OIML R 22 (1975), general formula, solved for strength.

    >>> round(abv_of_density(948.05), 4), round(abv_of_density(960.63, 0.0), 4)
    (0.4, 0.4)
    """
    within_formula(celsius)
    row = coefficients_at(celsius)
    lightest, densest = sum(row), row[0]
    _within_reading(density_kg_per_m3, lightest, densest)
    share = (densest - density_kg_per_m3) / (densest - lightest)
    mass_fraction = smaller(larger(share, 0.0), 1.0)
    low, high = 0.0 * mass_fraction, 0.0 * mass_fraction + 1.0
    for _ in range(_SEARCH_STEPS):
        density, slope = density_and_slope(row, mass_fraction)
        too_dense = density > density_kg_per_m3
        low, high = where(too_dense, mass_fraction, low), where(too_dense, high, mass_fraction)
        # In the cold the curve is nearly flat at 25 % vol: there Newton would leap out of the
        # bracket, and half of the bracket is the better step.
        newton = mass_fraction + (density_kg_per_m3 - density) / smaller(slope, _LEAST_SLOPE)
        inside = (newton > low) & (newton < high)
        before, mass_fraction = mass_fraction, where(inside, newton, (low + high) / 2.0)
        if largest(mass_fraction - before) < 1e-13:
            break
    return abv_of_mass_fraction(mass_fraction)


def mixed_volume_ml(ethanol_ml: Numbers, water_ml: Numbers, celsius: Numbers = 20.0) -> Numbers:
    """Volume of pure ethanol and water poured together [mL]; never more than the two apart.

    Parameters
    ----------
    ethanol_ml : float or array
        Pure ethanol before mixing [mL at `celsius`]
    water_ml : float or array
        Water before mixing [mL at `celsius`]
    celsius : float or array
        Temperature before and after [°C]

    Valid for: volumes of 0 or more, not both 0, -20 to 40 °C; OutOfRange outside.
    Source: OIML R 22 (1975), general formula; mass is kept, then density.

    >>> round(mixed_volume_ml(50, 50), 2)
    96.46
    """
    within("ethanol_ml", ethanol_ml, 0.0, np.inf, "mL")
    within("water_ml", water_ml, 0.0, np.inf, "mL")
    within_formula(celsius)
    row = coefficients_at(celsius)
    ethanol_g, water_g = ethanol_ml * sum(row) / 1000.0, water_ml * row[0] / 1000.0
    together_g = ethanol_g + water_g
    within("ethanol_ml + water_ml", together_g, 1e-12, np.inf, "g", "pour something")
    return 1000.0 * together_g / polynomial(row, ethanol_g / together_g)


def _within_reading(density: Numbers, lightest: Numbers, densest: Numbers) -> None:
    slack = 1e-9 * largest(densest)
    if largest(larger(density - densest, 0.0)) > slack:
        raise OutOfRange(
            "denser than water, so it holds sugar or salt and its density tells no strength; "
            "distil it, or give the sugar as well",
            field="density_kg_per_m3",
        )
    if largest(larger(lightest - density, 0.0)) > slack:
        raise OutOfRange(
            "lighter than pure ethanol; read the density again", field="density_kg_per_m3"
        )
