"""Coffee strength on paper: extraction yield, and where immersion comes to rest."""

from __future__ import annotations

from typing import Final

from service.bed.limits import Numbers

# [g/g] dissolved per gram of coffee when a hot immersion has come to rest; Liang et al. 2021
# (0.215 ± 0.002; over all its suites 0.19-0.24).
IMMERSION_YIELD: Final = 0.215


def extraction_yield(solids_percent: Numbers, glass_g: Numbers, dose_g: Numbers) -> Numbers:
    """Share of the dry coffee found dissolved in the glass [g/g].

    Parameters
    ----------
    solids_percent : float
        Dissolved coffee in the glass, by mass [%]
    glass_g : float
        Liquid in the glass [g]
    dose_g : float
        Ground coffee, dry [g]

    Valid for: solids of coffee alone; a refractometer also reads sugar and ethanol, so on a
    cocktail this works only with a control that saw no coffee.
    Source: Lockhart 1957, Coffee Brewing Institute; yield = strength × drink / dose.

    >>> round(extraction_yield(1.25, 890.9, 55.0), 3)
    0.202
    """
    return solids_percent / 100.0 * glass_g / dose_g


def immersion_strength_percent(
    water_per_coffee: Numbers, immersion_yield: Numbers = IMMERSION_YIELD
) -> Numbers:
    """Strength at which a hot immersion comes to rest, by mass [%].

    Parameters
    ----------
    water_per_coffee : float
        Water per coffee [g/g]
    immersion_yield : float
        Dissolved coffee per coffee at rest [g/g]

    Valid for: 3 g of water per g of coffee and more, brewed at 80 to 99 °C.
    Source: Liang et al. 2021, Sci. Rep. 11, 6904, eq. 11.

    >>> round(immersion_strength_percent(16.0), 2)
    1.33
    """
    return 100.0 * immersion_yield / (water_per_coffee + immersion_yield)
