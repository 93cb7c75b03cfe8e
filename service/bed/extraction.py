"""How fast coffee dissolves: two sites, slowed by cold and by the thickness of the drink.

Cells broken by the grinder wash out fast; from whole cells the coffee has to diffuse. Rates are
known hot (batch measurements near 91.5 °C). They are carried into the cold by two laws that
disagree, and how far to follow each stays uncertain (`chill_law` in the priors). No paper measures
20-30 % ethanol run cold through coffee: of all numbers here these are the weakest.
"""

from __future__ import annotations

from math import pi
from typing import Final

import numpy as np

from service.bed.limits import Numbers

HOT_CELSIUS: Final = 91.5  # [°C] temperature of the batch measurements; Maille 2024, chapter 3
HOT_VISCOSITY_MPA_S: Final = 0.312  # [mPa·s] water at 91.5 °C (IAPWS 2008)
GAS_J_PER_MOL_K: Final = 8.314462618  # [J/(mol·K)] exact (SI 2019)
ACTIVATION_J_PER_MOL: Final = 40_300.0  # [J/mol] caffeine from tea leaf; Jaganyi & Price 1999
KELVIN: Final = 273.15  # [K] 0 °C, exact
CAFFEINE_ML_PER_MOL: Final = 193.0  # [mL/mol] at its boiling point, by Le Bas increments
# Water's association factor 2.6 and molar mass 18.015; Wilke & Chang 1955.
WATER_ASSOCIATION: Final = 2.6
WATER_G_PER_MOL: Final = 18.015


def diffusivity_m2_per_s(
    celsius: Numbers, viscosity_mpa_s: Numbers, molar_volume_ml: Numbers = CAFFEINE_ML_PER_MOL
) -> Numbers:
    """Diffusion coefficient of a dissolved substance, caffeine by default [m²/s].

    Parameters
    ----------
    celsius : float
        Temperature [°C]
    viscosity_mpa_s : float
        Viscosity of the liquid [mPa·s]
    molar_volume_ml : float
        Molar volume of the substance at its boiling point [mL/mol]

    Valid for: dilute in water, ±15 %; in ethanol-water only the ratio D ~ T/µ is used here.
    Source: Wilke & Chang 1955, AIChE J. 1, 264, eq. 5.

    >>> print("%.1e" % diffusivity_m2_per_s(25.0, 0.890))
    7.2e-10
    """
    root: float = (WATER_ASSOCIATION * WATER_G_PER_MOL) ** 0.5
    kelvin = celsius + KELVIN
    return 7.4e-12 * root * kelvin / (viscosity_mpa_s * molar_volume_ml**0.6)


def slow_down_by_viscosity(celsius: Numbers, viscosity_mpa_s: Numbers) -> Numbers:
    """Rate of diffusion relative to water at 91.5 °C, by D ~ T/µ [1].

    Parameters
    ----------
    celsius : float
        Temperature of the drink in the bed [°C]
    viscosity_mpa_s : float
        Viscosity of the drink at that temperature [mPa·s]

    Valid for: -30 to 100 °C, as long as diffusion in the liquid sets the pace.
    Source: Stokes-Einstein / Wilke & Chang 1955, ratio only.

    >>> round(slow_down_by_viscosity(0.0, 7.1), 3)
    0.033
    """
    hot = (HOT_CELSIUS + KELVIN) / HOT_VISCOSITY_MPA_S
    return (celsius + KELVIN) / viscosity_mpa_s / hot


def slow_down_by_activation(celsius: Numbers) -> Numbers:
    """Rate of extraction relative to 91.5 °C, by the activation energy from tea leaf [1].

    Parameters
    ----------
    celsius : float
        Temperature of the drink in the bed [°C]

    Valid for: measured in hot water only; below about 60 °C an extrapolation.
    Source: Jaganyi & Price 1999, Food Chem. 64, 27: 40.3 kJ/mol for caffeine.

    >>> round(float(slow_down_by_activation(0.0)), 3)
    0.012
    """
    difference = 1.0 / (celsius + KELVIN) - 1.0 / (HOT_CELSIUS + KELVIN)
    return np.exp(-ACTIVATION_J_PER_MOL / GAS_J_PER_MOL_K * difference)


def slow_down(celsius: Numbers, viscosity_mpa_s: Numbers, chill_law: Numbers) -> Numbers:
    """Rate of extraction relative to hot water, between the two laws [1].

    Parameters
    ----------
    celsius : float
        Temperature of the drink in the bed [°C]
    viscosity_mpa_s : float
        Viscosity of the drink at that temperature [mPa·s]
    chill_law : float
        0 = D ~ T/µ, 1 = the activation energy; geometric between [0..1]

    Valid for: -30 to 100 °C.
    Source: our estimate, because the two published laws differ three-fold at 0 °C and no
    measurement decides between them.

    >>> round(float(slow_down(0.0, 7.1, 0.5)), 3)
    0.02
    """
    viscous = slow_down_by_viscosity(celsius, viscosity_mpa_s)
    activated = slow_down_by_activation(celsius)
    return viscous * (activated / viscous) ** chill_law


def two_site_share(
    seconds: Numbers,
    *,
    fast_share: Numbers,
    fast_seconds: Numbers,
    slow_seconds: Numbers,
) -> Numbers:
    """Share of the extractable coffee that has dissolved after a time [0..1].

    Parameters
    ----------
    seconds : float
        Contact time [s]
    fast_share : float
        Share that lies in broken cells [0..1]
    fast_seconds : float
        Time constant of the broken cells [s]
    slow_seconds : float
        Time constant of the whole cells [s]

    Valid for: contact 0 s and longer, time constants above 0.
    Source: Maille 2024 (thesis, Sheffield), eq. 6.1; two sites as in Moroney et al. 2015, Chem.
    Eng. Sci. 137, 216.

    >>> round(float(two_site_share(150.0, fast_share=0.4, fast_seconds=200, slow_seconds=1600)), 2)
    0.26
    """
    slow = -np.expm1(-seconds / slow_seconds)
    fast = -np.expm1(-seconds / fast_seconds)
    return fast_share * fast + (1.0 - fast_share) * slow


def grain_diffusion_seconds(
    *,
    sauter_um: Numbers,
    grain_radius_um: Numbers,
    grain_porosity: Numbers,
    diffusivity: Numbers,
    fitted_factor: Numbers,
) -> Numbers:
    """Time scale of diffusion out of whole grains in the double-porosity model [s].

    Parameters
    ----------
    sauter_um : float
        Sauter diameter of the grains without fines [µm]
    grain_radius_um : float
        Mean grain radius by volume [µm]
    grain_porosity : float
        Porosity inside the extracted grain [0..1]
    diffusivity : float
        Diffusion coefficient of the coffee in water [m²/s]
    fitted_factor : float
        The factor α* that its authors fitted for each grind [1]

    Valid for: hot water, saturated bed.
    Source: Moroney et al. 2016, SIAM J. Appl. Math. 76, 2196, eq. 2.22: k·l/(6 α* φ^⅓ D).

    >>> round(grain_diffusion_seconds(sauter_um=322.49, grain_radius_um=282, grain_porosity=0.7034,
    ...     diffusivity=2.2e-9, fitted_factor=0.1833), 1)
    42.3
    """
    path_m2 = sauter_um * grain_radius_um * 1e-12
    return path_m2 / (6.0 * fitted_factor * grain_porosity ** (1.0 / 3.0) * diffusivity)


def sphere_diffusion_seconds(diameter_um: Numbers, effective_diffusivity: Numbers) -> Numbers:
    """Slowest time constant of diffusion out of a sphere [s].

    Parameters
    ----------
    diameter_um : float
        Diameter of the grain [µm]
    effective_diffusivity : float
        Diffusion coefficient inside the grain [m²/s]

    Valid for: a sphere in a well-stirred liquid.
    Source: Crank 1975, The Mathematics of Diffusion, eq. 6.20, first term: d²/(4π²D).

    >>> round(sphere_diffusion_seconds(500.0, 2.5e-10))
    25
    """
    return (diameter_um * 1e-6) ** 2 / (4.0 * pi**2 * effective_diffusivity)
