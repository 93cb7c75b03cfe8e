"""How strong each taste is alone in water: dose to points on a 0-15 scale."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.taste.bitterness import THRESHOLD_QHE_MG_PER_L
from service.taste.parameters import USUAL, Parameters, Quantity, check_range

# Meilgaard, Civille & Carr, Sensory Evaluation Techniques, reference intensities in water on a
# 0-15 scale (from memory); straight lines between them, the last continued.
CITRIC_ANCHORS: Final = ((0.0, 0.0), (0.5, 2.0), (0.8, 5.0), (1.5, 10.0), (2.0, 15.0))
SALT_ANCHORS: Final = ((0.0, 0.0), (2.0, 2.5), (3.5, 5.0), (5.5, 10.0), (7.0, 15.0))
# Acid equivalents: 64.04 g citric and 75.04 g tartaric acid neutralise the same.
CITRIC_PER_TARTARIC: Final = 64.04 / 75.04
# Quinine detection thresholds start near 1 mg/L: nothing is tasted below, all from 2 mg/L on.
_BITTER_FROM_QHE: Final = 1.0
_BITTER_FULLY_QHE: Final = 2.0
_LAST_ETHANOL_BITTER_PERCENT: Final = 16.0


def sweet_alone(sugar_g_per_l: Quantity, parameters: Parameters = USUAL) -> Quantity:
    """Sweetness of sugar alone in water [points, 0-15 scale, not cut off at 15].

    Parameters
    ----------
    sugar_g_per_l : float
        Sucrose or its sweetness equivalent [g/L]
    parameters : Parameters
        The palate [-]

    Valid for: 0 to 1500 g/L; OutOfRange outside.
    Source: Meilgaard, Civille & Carr, Sensory Evaluation Techniques: 20, 50, 100 g/L = 2, 5, 10.

    >>> sweet_alone(50.0)
    5.0
    """
    check_range("sugar_g_per_l", sugar_g_per_l, 0.0, 1500.0, "g/L")
    return parameters.sweet_per_g_per_l * sugar_g_per_l


def bitter_alone(qhe_mg_per_l: Quantity, parameters: Parameters = USUAL) -> Quantity:
    """Bitterness alone in water [points, 0-15 scale, not cut off at 15].

    Parameters
    ----------
    qhe_mg_per_l : float
        Bitterness [mg/L QHE]
    parameters : Parameters
        The palate [-]

    Valid for: 0 to 100 000 mg/L; OutOfRange outside.
    Source: power law of dose over threshold (Stevens), exponent and level as in `CONSTANTS`;
    the ramp from 1 to 2 mg/L is our estimate, because published detection thresholds are 1-4.

    >>> round(float(bitter_alone(5.0)), 3), float(bitter_alone(0.5))
    (1.5, 0.0)
    """
    check_range("qhe_mg_per_l", qhe_mg_per_l, 0.0, 1e5, "mg/L")
    dose = np.maximum(qhe_mg_per_l, _BITTER_FULLY_QHE) / THRESHOLD_QHE_MG_PER_L
    span = _BITTER_FULLY_QHE - _BITTER_FROM_QHE
    noticed = np.minimum(np.maximum(qhe_mg_per_l - _BITTER_FROM_QHE, 0.0) / span, 1.0)
    points: Quantity = noticed * parameters.bitter_at_threshold * dose**parameters.bitter_exponent
    return points


def sour_alone(acid_g_per_l: Quantity) -> Quantity:
    """Sourness of acid alone in water [points, 0-15 scale, not cut off at 15].

    Parameters
    ----------
    acid_g_per_l : float
        Titratable acid, as tartaric acid [g/L]

    Valid for: 0 to 200 g/L; OutOfRange outside.
    Source: Meilgaard, Civille & Carr, Sensory Evaluation Techniques: citric acid 0.5, 0.8, 1.5,
    2.0 g/L = 2, 5, 10, 15; tartaric to citric by equivalents.

    >>> round(float(sour_alone(0.8 / CITRIC_PER_TARTARIC)), 6)
    5.0
    """
    check_range("acid_g_per_l", acid_g_per_l, 0.0, 200.0, "g/L")
    return _between_anchors(CITRIC_PER_TARTARIC * acid_g_per_l, CITRIC_ANCHORS)


def salt_alone(salt_g_per_l: Quantity) -> Quantity:
    """Saltiness of common salt alone in water [points, 0-15 scale, not cut off at 15].

    Parameters
    ----------
    salt_g_per_l : float
        Sodium chloride [g/L]

    Valid for: 0 to 360 g/L; OutOfRange outside.
    Source: Meilgaard, Civille & Carr, Sensory Evaluation Techniques: 2.0, 3.5, 5.5, 7.0 g/L =
    2.5, 5, 10, 15.

    >>> round(float(salt_alone(3.5)), 6)
    5.0
    """
    check_range("salt_g_per_l", salt_g_per_l, 0.0, 360.0, "g/L")
    return _between_anchors(salt_g_per_l, SALT_ANCHORS)


def heat_of_ethanol(abv: Quantity, parameters: Parameters = USUAL) -> Quantity:
    """Burn of ethanol [points of the general labelled magnitude scale, 0-100].

    Parameters
    ----------
    abv : float
        Strength by volume at 20 °C [fraction, 0-1]
    parameters : Parameters
        The palate [-]

    Valid for: 0 to 1; OutOfRange outside. Measured from 32 to 48 % vol, continued to zero.
    Source: Nolden & Hayes 2015: burn 29.7 at 32 %, 44.7 at 48 % vol.

    >>> round(heat_of_ethanol(0.32), 1)
    29.8
    """
    check_range("abv", abv, 0.0, 1.0, "fraction")
    return parameters.heat_per_percent * 100.0 * abv


def bitterness_of_ethanol(abv: Quantity, parameters: Parameters = USUAL) -> Quantity:
    """Bitterness of ethanol itself, a line of its own [labelled-magnitude points, 0-100].

    Never added to the bitterness of the drink: the two scales were not matched against each
    other, and whether ethanol raises or lowers other bitterness is not settled (Thibodeau &
    Pickering 2021 and Pangborn 1983 against Mattes & DiMeglio 2001).

    Parameters
    ----------
    abv : float
        Strength by volume at 20 °C [fraction, 0-1]
    parameters : Parameters
        The palate [-]

    Valid for: 0 to 1; OutOfRange outside. Held at its value of 16 % vol above that, because it
    was measured no further.
    Source: Nolden & Hayes 2015: bitterness 7.4 at 8 %, 13.5 at 16 % vol.

    >>> round(float(bitterness_of_ethanol(0.08)), 1), round(float(bitterness_of_ethanol(0.4)), 1)
    (7.2, 14.4)
    """
    check_range("abv", abv, 0.0, 1.0, "fraction")
    percent = np.minimum(100.0 * abv, _LAST_ETHANOL_BITTER_PERCENT)
    return parameters.ethanol_bitter_per_percent * percent


def _between_anchors(dose: Quantity, anchors: tuple[tuple[float, float], ...]) -> Quantity:
    doses, points = zip(*anchors, strict=True)
    slope = (points[-1] - points[-2]) / (doses[-1] - doses[-2])
    beyond = np.maximum(dose - doses[-1], 0.0) * slope
    return np.asarray(np.interp(dose, doses, points) + beyond)[()]
