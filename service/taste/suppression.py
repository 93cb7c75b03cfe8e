"""What is tasted of a mixture: tastes mute each other, cold mutes sweet and bitter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.taste.intensity import (
    bitter_alone,
    heat_of_ethanol,
    salt_alone,
    sour_alone,
    sweet_alone,
)
from service.taste.parameters import USUAL, Parameters, Quantity, check_range

SODIUM_CHLORIDE_G_PER_MOL: Final = 58.44
# Sweetness no longer depends on temperature near 0.5 mol/L sucrose (Bartoshuk et al. 1982).
_COLD_FADES_AT_G_PER_L: Final = 0.5 * 342.30
# Initial sweetness holds at 21 °C and falls at 5-12 °C (Green & Nachtigal 2015).
_WARM_CELSIUS: Final = 21.0
_COLD_CELSIUS: Final = 5.0


@dataclass(frozen=True, slots=True)
class Percept:
    """What a mouth reports: four tastes on a 0-15 scale, heat on 0-100. Numbers or arrays."""

    sweet: Quantity
    bitter: Quantity
    sour: Quantity
    salt: Quantity
    heat: Quantity


def cold_share(celsius: Quantity, share_when_cold: Quantity) -> Quantity:
    """Share of a taste that is left at a temperature [-].

    Parameters
    ----------
    celsius : float
        Temperature of the drink in the mouth [°C]
    share_when_cold : float
        Share left at 5 °C and below [fraction]

    Valid for: -30 to 60 °C; OutOfRange outside.
    Source: Green & Nachtigal 2015 (no loss at 21 °C, loss at 5-12 °C); straight line between is
    our estimate, because only those points are published.

    >>> [round(float(cold_share(celsius, 0.8)), 6) for celsius in (21.0, 13.0, -4.0)]
    [1.0, 0.9, 0.8]
    """
    check_range("celsius", celsius, -30.0, 60.0, "°C")
    coldness = (_WARM_CELSIUS - celsius) / (_WARM_CELSIUS - _COLD_CELSIUS)
    share: Quantity = 1.0 - np.minimum(np.maximum(coldness, 0.0), 1.0) * (1.0 - share_when_cold)
    return share


def sodium_mmol_per_l(salt_g_per_l: Quantity) -> Quantity:
    """Sodium in a solution of common salt [mmol/L].

    Parameters
    ----------
    salt_g_per_l : float
        Sodium chloride [g/L]

    Valid for: 0 to 360 g/L; OutOfRange outside.
    Source: molar mass of sodium chloride.

    >>> round(sodium_mmol_per_l(0.2), 1)
    3.4
    """
    check_range("salt_g_per_l", salt_g_per_l, 0.0, 360.0, "g/L")
    return 1000.0 / SODIUM_CHLORIDE_G_PER_MOL * salt_g_per_l


def salted_share(salt_g_per_l: Quantity, parameters: Parameters = USUAL) -> Quantity:
    """Share of bitterness that salt leaves [-]; nothing more is taken beyond 100 mmol/L.

    Parameters
    ----------
    salt_g_per_l : float
        Sodium chloride [g/L]
    parameters : Parameters
        The palate [-]

    Valid for: 0 to 360 g/L; OutOfRange outside.
    Source: Keast, Breslin & Beauchamp 2001 (range of effects); straight line is our estimate.

    >>> bool(0.99 < salted_share(0.2) < 1.0)
    True
    """
    hundreds = np.minimum(sodium_mmol_per_l(salt_g_per_l), 100.0) / 100.0
    share: Quantity = np.maximum(1.0 - parameters.salt_on_bitter * hundreds, 0.0)
    return share


def perceive(
    *,
    sugar_g_per_l: Quantity,
    qhe_mg_per_l: Quantity = 0.0,
    acid_g_per_l: Quantity = 0.0,
    salt_g_per_l: Quantity = 0.0,
    abv: Quantity = 0.0,
    celsius: Quantity = 21.0,
    parameters: Parameters = USUAL,
) -> Percept:
    """What is tasted of a drink [points; heat in labelled-magnitude points].

    Sweet and bitter divide each other down, acid divides sweet and sweet divides acid; salt
    takes from the bitterness first, so what it frees of sweetness appears only where there was
    bitterness (as Breslin & Beauchamp 1997 found). Heat stands beside, never added.

    Parameters
    ----------
    sugar_g_per_l : float
        Sucrose or its sweetness equivalent [g/L]
    qhe_mg_per_l : float
        Bitterness [mg/L QHE]
    acid_g_per_l : float
        Titratable acid as tartaric acid [g/L]
    salt_g_per_l : float
        Sodium chloride [g/L]
    abv : float
        Strength by volume at 20 °C [fraction, 0-1]
    celsius : float
        Temperature in the mouth [°C]
    parameters : Parameters
        The palate [-]

    Valid for: sugar to 1500, acid to 200, salt to 360 g/L, bitterness to 100 000 mg/L, -30 to
    60 °C; OutOfRange outside.
    Source: form and constants as in `CONSTANTS`, fitted to the published points named there.

    >>> tasted = perceive(sugar_g_per_l=50.0, qhe_mg_per_l=30.0)
    >>> round(float(tasted.sweet), 3), round(float(tasted.bitter), 3)
    (3.801, 3.505)
    """
    sweet = sweet_alone(sugar_g_per_l, parameters)
    bitter = bitter_alone(qhe_mg_per_l, parameters) * salted_share(salt_g_per_l, parameters)
    sour = sour_alone(acid_g_per_l)
    fading = np.minimum(sugar_g_per_l / _COLD_FADES_AT_G_PER_L, 1.0)
    cold_sweet = parameters.cold_sweet + (1.0 - parameters.cold_sweet) * fading
    sweet_left = 1.0 + parameters.bitter_on_sweet * bitter + parameters.sour_on_sweet * sour
    return Percept(
        sweet=sweet * cold_share(celsius, cold_sweet) / sweet_left,
        bitter=bitter
        * cold_share(celsius, parameters.cold_bitter)
        / (1.0 + parameters.sweet_on_bitter * sweet),
        sour=sour / (1.0 + parameters.sweet_on_sour * sweet),
        salt=salt_alone(salt_g_per_l),
        heat=heat_of_ethanol(abv, parameters),
    )
