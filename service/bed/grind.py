"""Grind: what the trade words mean in micrometres, and what the grains are made of."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.bed.limits import Numbers, check
from service.ingredients.records import Grind
from service.kit import Interval

# Diameter by mass [µm]: usual, and how far the word may lie. Estimates: the trade has no standard.
# Held to what is published: Córdoba et al. 2019 call 501-700 medium and 701-900 coarse;
# Liang et al. 2021 brewed filter coffee with medians of 579-1311 (settings of one grinder).
GRIND_UM: Final[dict[Grind, Interval]] = {
    Grind.FINE: Interval(250, 350, 425),
    Grind.MEDIUM_FINE: Interval(400, 500, 600),
    Grind.MEDIUM: Interval(500, 650, 750),
    Grind.MEDIUM_COARSE: Interval(700, 850, 950),
    Grind.COARSE: Interval(900, 1100, 1300),
}
REFERENCE_UM: Final = 500.0  # [µm] medium-fine: "between filter and espresso", common practice
CELL_UM: Final = 45.0  # [µm] coffee cell; Maille 2024, section 5.2.2 (seen 20-60)
# Diameter the fines act with in the flow [µm]; our estimate (range 40-120), chosen so that
# Kozeny-Carman at porosity 0.48 meets the tomography rows near 500 µm (Wadsworth et al. 2026).
FINES_FLOW_UM: Final = 65.0


def particle_um(grind: Grind) -> float:
    """Usual particle diameter of a trade word [µm].

    Parameters
    ----------
    grind : Grind
        The trade word.

    Valid for: the five words.
    Source: our estimate, because the trade has no standard; held to the sizes that Córdoba et al.
    2019 (Sci. Rep. 9, 8440) and Liang et al. 2021 (Sci. Rep. 11, 6904) measured.

    >>> particle_um(Grind.MEDIUM_FINE)
    500.0
    """
    return float(GRIND_UM[grind].mid)


def nearest_grind(diameter_um: float) -> Grind:
    """The trade word nearest to a particle diameter, by ratio.

    Parameters
    ----------
    diameter_um : float
        Particle diameter by mass [µm]

    Valid for: 100 to 2000 µm; OutOfRange outside.
    Source: our estimate, because the trade words have no standard (see `particle_um`).

    >>> nearest_grind(480.0).value
    'medium-fine'
    """
    check("particle_um", diameter_um)
    return min(GRIND_UM, key=lambda word: abs(np.log(diameter_um / GRIND_UM[word].mid)))


def usual_fines_share(diameter_um: Numbers) -> Numbers:
    """Share by volume of grains finer than 186 µm that a grinder usually leaves [0..1].

    Parameters
    ----------
    diameter_um : float
        Particle diameter by mass [µm]

    Valid for: 100 to 2000 µm; never below 0.02 or above 0.45.
    Source: our estimate, because it is drawn by eye through the five unsieved grinds of Maille
    2024, Table 5.4 (0.34 at 537 µm ... 0.11 at 951 µm), each met within a factor of 1.5.

    >>> round(float(usual_fines_share(685.0)), 2)
    0.15
    """
    return np.clip(0.17 * (650.0 / diameter_um) ** 2, 0.02, 0.45)


def sauter_um(
    diameter_um: Numbers, fines_share: Numbers, fines_um: Numbers = FINES_FLOW_UM
) -> Numbers:
    """Diameter with the same surface per volume as the whole mix of fines and grains [µm].

    Parameters
    ----------
    diameter_um : float
        Diameter of the grains without the fines [µm]
    fines_share : float
        Share of fines by volume [0..1]
    fines_um : float
        Diameter of the fines [µm]

    Valid for: positive diameters, shares 0 to 1.
    Source: definition of the Sauter mean, 1/d = Σ shareᵢ/dᵢ (ISO 9276-2).

    >>> round(float(sauter_um(500.0, 0.0))), round(float(sauter_um(500.0, 0.3)))
    (500, 166)
    """
    return 1.0 / (fines_share / fines_um + (1.0 - fines_share) / diameter_um)


def broken_share(diameter_um: Numbers, fines_share: Numbers, layers: int = 2) -> Numbers:
    """Share of a grind that lies in fines or in the outer cell layers of its grains [0..1].

    These cells are broken or at the surface, so they wash out fast.

    Parameters
    ----------
    diameter_um : float
        Diameter of the grains [µm]
    fines_share : float
        Share of fines by volume [0..1]
    layers : int
        How many layers of cells count as surface [1]

    Valid for: positive diameters; all of a grain counts where it is smaller than its layers.
    Source: Maille 2024 (thesis, Sheffield), eqs 6.7-6.9 in the depth its text means: two layers
    of 45 µm cells. Our single diameter for its 25 size bins costs 0.02 on average.

    >>> round(float(broken_share(1080.0, 0.035)), 2)
    0.44
    """
    core = np.maximum(1.0 - 2.0 * layers * CELL_UM / diameter_um, 0.0) ** 3
    return fines_share + (1.0 - fines_share) * (1.0 - core)
