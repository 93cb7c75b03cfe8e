"""What stays behind: drink held by the grounds and by the paper, water given by a rinsed paper."""

from __future__ import annotations

import numpy as np

from service.bed.limits import Numbers


def held_by_grounds_ml(dose_g: Numbers, retention_ml_per_g: Numbers, volume_ml: Numbers) -> Numbers:
    """Drink that the grounds keep [mL]; never more than was poured.

    Parameters
    ----------
    dose_g : float
        Ground coffee, dry [g]
    retention_ml_per_g : float
        Drink kept per gram of coffee [mL/g]
    volume_ml : float
        Drink poured [mL]

    Valid for: any amounts. The grounds are taken to keep all parts of the drink alike; whether
    coffee holds back ethanol or sugar by preference nobody has published.
    Source: definition of the retained ratio, Liang et al. 2021, Sci. Rep. 11, 6904, eq. 24.

    >>> float(held_by_grounds_ml(15.0, 1.3, 115.0))
    19.5
    """
    return np.minimum(dose_g * retention_ml_per_g, volume_ml)


def held_by_paper_ml(paper_ml: Numbers, left_ml: Numbers, *, rinsed: bool) -> Numbers:
    """Drink that a dry paper soaks up [mL]; a rinsed one is full of water already and takes none.

    Parameters
    ----------
    paper_ml : float
        What a dry paper holds [mL]
    left_ml : float
        Drink that the grounds have not kept [mL]
    rinsed : bool
        Whether the paper was wetted with water first

    Valid for: any amounts; never more than is left.
    Source: our estimate, because no measurement was found (common practice, no source).

    >>> float(held_by_paper_ml(1.5, 100.0, rinsed=False))
    1.5
    """
    return np.minimum(0.0 if rinsed else paper_ml, left_ml)


def passing_share(held_fraction: Numbers, held_strength: Numbers) -> Numbers:
    """Share of what dissolved that reaches the glass [0..1]; the rest stays in the held liquid.

    Parameters
    ----------
    held_fraction : float
        Share of the drink that grounds and paper keep [0..1]
    held_strength : float
        Coffee strength of the held liquid relative to that in the glass: 1 where all liquid has
        one strength (immersion), 0 where the last liquid is clean (percolation) [1]

    Valid for: held_fraction 0 to 1, held_strength above 0.
    Source: mass balance; the two ends by Gagné 2019 ("Measuring and reporting extraction yield"),
    who notes that the end for percolation is disputed.

    >>> float(passing_share(0.2, 1.0)), float(passing_share(1.0, 0.5))
    (0.8, 0.0)
    """
    passed = 1.0 - held_fraction
    return passed / (passed + held_strength * held_fraction)
