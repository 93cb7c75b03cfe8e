"""Bitterness of dissolved coffee, in one convention only.

Two lines of evidence put the bitterness of a gram of dissolved coffee about ten-fold apart:

* **matched**: people match a brew with a caffeine solution as bitter as it: 1 to 3 mg of
  quinine-hydrochloride equivalents (QHE) per gram;
* **summed**: thresholds of the bitter substances are added up: 10 to 16 mg per gram.

The service speaks the first, because bottles and band are put on the same matched scale. A number
of the second kind is refused, by its name and by its size.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

import numpy as np

from service.bed.limits import FloatArray, Numbers
from service.ingredients.records import Roast
from service.kit import BadData


class Convention(StrEnum):
    """How the bitterness of coffee was put into quinine equivalents."""

    MATCHED = "matched"
    SUMMED = "summed"


# Bitterness of dissolved coffee [mg QHE per g]; estimates, to be calibrated by a panel. Light,
# medium and dark are given; the two between are geometric means.
QHE_MG_PER_G: Final[dict[Roast, float]] = {
    Roast.LIGHT: 1.2,
    Roast.MEDIUM_LIGHT: 1.43,
    Roast.MEDIUM: 1.7,
    Roast.MEDIUM_DARK: 2.02,
    Roast.DARK: 2.4,
}
# What the matched convention may reach [mg QHE per g]; the summed one starts at 10.
MATCHED_RANGE: Final = (0.3, 9.0)
COLD_CELSIUS: Final = 22.0  # [°C] at and below: the cold factor holds in full
HOT_CELSIUS: Final = 92.0  # [°C] at and above: no cold factor
# Caffeine gives 10-15 % of coffee's bitterness (Hofmann 2007); a decaf lacks it.
CAFFEINE_SHARE_OF_BITTERNESS: Final = 0.12


def qhe_mg_per_g(
    roast: Roast,
    *,
    canephora_share: Numbers,
    celsius: Numbers,
    decaf: bool,
    gamma_factor: Numbers = 1.0,
    canephora_bitterness: Numbers = 0.6,
    cold_bitterness: Numbers = 0.7,
) -> FloatArray:
    """Bitterness of the coffee dissolved, matched convention [mg QHE per g of solids].

    Parameters
    ----------
    roast : Roast
        Roast level; darker is more bitter per gram
    canephora_share : float
        Share of canephora in the blend [0..1]
    celsius : float
        Temperature of the extraction [°C]
    decaf : bool
        Whether the caffeine was taken out
    gamma_factor : float
        How far this coffee lies from the usual one [1]
    canephora_bitterness : float
        What a pure canephora adds, relative [1]
    cold_bitterness : float
        Bitterness per gram of a cold extraction relative to a hot one [1]

    Valid for: the matched convention; held within 0.3 to 9 mg/g.
    Source: our estimate, because no panel matched cold coffee with quinine: levels from caffeine
    matching of brews; roast and canephora by Hofmann 2007 and Farah et al. 2005 in direction;
    cold by Batali et al. 2022, Foods 11, 2440 (hot brew more bitter at equal strength), straight
    between 22 and 92 °C.

    >>> round(float(qhe_mg_per_g(Roast.MEDIUM, canephora_share=0.0, celsius=0.0, decaf=False)), 2)
    1.19
    """
    warm = np.clip((celsius - COLD_CELSIUS) / (HOT_CELSIUS - COLD_CELSIUS), 0.0, 1.0)
    cold_factor = cold_bitterness + (1.0 - cold_bitterness) * warm
    without_caffeine = 1.0 - CAFFEINE_SHARE_OF_BITTERNESS if decaf else 1.0
    level = QHE_MG_PER_G[roast] * without_caffeine
    species = 1.0 + canephora_bitterness * canephora_share
    return np.clip(level * species * cold_factor * gamma_factor, *MATCHED_RANGE)


def bitterness_qhe_mg(
    solids_g: Numbers, per_g: Numbers, convention: Convention = Convention.MATCHED
) -> Numbers:
    """Bitterness that dissolved coffee brings [mg QHE], matched convention.

    Parameters
    ----------
    solids_g : float
        Dissolved coffee [g]
    per_g : float
        Bitterness per gram [mg QHE per g]
    convention : Convention
        How `per_g` was found; only `Convention.MATCHED` is accepted

    Valid for: 0.3 to 9 mg/g; BadData for the summed convention, or a number of its size.
    Source: our estimate, because the two conventions differ ten-fold and must not be mixed.

    >>> bitterness_qhe_mg(1.0, 1.7)
    1.7
    """
    too_big = bool(np.any(np.asarray(per_g) > MATCHED_RANGE[1]))
    if convention is not Convention.MATCHED or too_big:
        raise BadData(
            "coffee bitterness must come from matching with a reference (0.3 to 9 mg QHE per g of "
            "dissolved coffee); summed thresholds give about ten times as much and do not mix",
            field="per_g",
        )
    return solids_g * per_g
