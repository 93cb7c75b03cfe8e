"""Temperature, dilution and strength against stirring time, for pictures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.kit import BadData
from service.liquid.analysis import abv
from service.liquid.elementwise import within
from service.liquid.freezing import freezing_celsius
from service.liquid.melting import (
    FRESHENING_K,
    Glass,
    Moment,
    film_of,
    freezing_line,
    rates,
    settled,
)
from service.liquid.mixing import Liquid, volume_ml
from service.liquid.stirring import Stirring, filled

_FILM_STEPS: Final = 12  # from no knowledge of the film to its last digit
_TOLERANCE: Final = 1e-7


@dataclass(frozen=True, slots=True)
class StirCurve:
    """One drink while it is stirred; every field an array over time.

    `dilution` is water gained per volume before, both at 20 °C, as published rules count it.
    """

    seconds: NDArray[np.float64]
    celsius: NDArray[np.float64]
    melt_g: NDArray[np.float64]
    dilution: NDArray[np.float64]
    abv: NDArray[np.float64]
    volume_ml: NDArray[np.float64]
    freezing_celsius: NDArray[np.float64]


def stir_curve(
    liquid: Liquid, stirring: Stirring, *, until_seconds: float = 120.0, points: int = 61
) -> StirCurve:
    """One drink followed through its stir [s, °C, g, mL/mL, mL at 20 °C].

    The rates are those of `stir`, integrated with step control instead of six fixed steps.

    Parameters
    ----------
    liquid : Liquid
        One drink, no arrays
    stirring : Stirring
        Ice, vessel and pace, no arrays; its own time is not used
    until_seconds : float
        End of the curve, more than 0 to 900 [s]
    points : int
        How many moments to return, 2 to 2000 [dimensionless]

    Valid for: as `stir`; OutOfRange outside, BadData for arrays.
    Source: as `stir`; integration by LSODA (Petzold 1983).

    >>> from service.liquid.pouring import poured
    >>> curve = stir_curve(poured(90, abv=0.33), Stirring(), until_seconds=60, points=3)
    >>> [round(t, 1) for t in curve.celsius.tolist()]
    [15.0, -2.1, -5.5]
    """
    within("until_seconds", until_seconds, 1e-3, 900.0, "s")
    within("points", points, 2, 2000, "points")
    glass, start = filled(liquid, stirring)
    if isinstance(start.celsius, np.ndarray) or isinstance(glass.particles, np.ndarray):
        raise BadData("a curve follows one drink at a time; give single numbers", field="liquid")
    seconds = np.linspace(0.0, until_seconds, points)
    melt, above, core = _integrated(glass, start, seconds)
    now = settled(glass, above, core, melt)
    gained = np.asarray(now.melt_g) + stirring.surface_water_g
    return _curve(liquid, seconds, np.asarray(now.celsius), gained)


def _integrated(
    glass: Glass, start: Moment, seconds: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Melt [g], kelvin above the freezing line and core [°C] at each moment."""
    from scipy.integrate import solve_ivp

    def slopes(_: float, state: NDArray[np.float64]) -> list[float]:
        celsius, melt, core = (float(value) for value in state)
        now = Moment(celsius, melt, core, max(celsius / FRESHENING_K, 0.0))
        now = now._replace(freshening=film_of(glass, now, _FILM_STEPS)[0])
        return [float(rate) for rate in rates(glass, now)]

    solution = solve_ivp(
        slopes,
        (0.0, float(seconds[-1])),
        [float(start.celsius), float(start.melt_g), float(start.core_celsius)],
        method="LSODA",
        t_eval=seconds,
        rtol=_TOLERANCE,
        atol=_TOLERANCE,
    )
    celsius, melt, core = solution.y
    above = np.maximum(celsius - freezing_line(glass, melt), 0.0)
    return melt, above, core


def _curve(
    liquid: Liquid,
    seconds: NDArray[np.float64],
    celsius: NDArray[np.float64],
    gained: NDArray[np.float64],
) -> StirCurve:
    drink = liquid.watered(gained)
    water_ml = volume_ml(Liquid(water_g=gained))
    return StirCurve(
        seconds=seconds,
        celsius=celsius,
        melt_g=gained,
        dilution=np.asarray(water_ml / volume_ml(liquid)),
        abv=np.asarray(abv(drink)),
        volume_ml=np.asarray(volume_ml(drink)),
        freezing_celsius=np.asarray(freezing_celsius(drink)),
    )
