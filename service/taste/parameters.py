"""The constants of the taste model: usual value, 80 % range, unit and source of each."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import numpy as np

from service.kit import Interval, OutOfRange

if TYPE_CHECKING:
    from numpy.typing import NDArray

Quantity: TypeAlias = "float | NDArray[np.float64]"


def _known(low: float, high: float, unit: str, source: str) -> dict[str, Any]:
    return {"low": low, "high": high, "unit": unit, "source": source}


@dataclass(frozen=True, slots=True)
class Parameters:
    """The constants of one palate; each a number, or one number per draw.

    The default is the usual palate. `draw_parameters` gives many, within the ranges below.
    "Estimate" marks what nobody has published for drinks of this kind.
    """

    sweet_per_g_per_l: Quantity = field(
        default=0.1,
        metadata=_known(
            0.085,
            0.115,
            "points per g/L sucrose",
            "Meilgaard, Civille & Carr, Sensory Evaluation Techniques: 20/50/100 g/L = 2/5/10 "
            "(from memory); range: estimate",
        ),
    )
    bitter_at_threshold: Quantity = field(
        default=1.5,
        metadata=_known(
            1.2,
            1.9,
            "points at 5 mg/L QHE",
            "estimate: recognition lies at 1 to 2 points of the 0-15 scale",
        ),
    )
    bitter_exponent: Quantity = field(
        default=0.7,
        metadata=_known(
            0.6,
            0.85,
            "power of dose over threshold",
            "estimate within 0.6-1.0 for quinine salts (Stevens; Meiselman; from memory)",
        ),
    )
    sweet_on_bitter: Quantity = field(
        default=0.10,
        metadata=_known(
            0.05,
            0.15,
            "per point of sweetness",
            "fitted to Schiffman et al. 1994 (largest cut of bitterness by sweetness 87 %); "
            "range: estimate",
        ),
    )
    bitter_on_sweet: Quantity = field(
        default=0.06,
        metadata=_known(
            0.03,
            0.10,
            "per point of bitterness",
            "estimate: weaker than the reverse (Lawless 1979; Breslin & Beauchamp 1997)",
        ),
    )
    sour_on_sweet: Quantity = field(
        default=0.04,
        metadata=_known(
            0.02,
            0.10,
            "per point of sourness",
            "estimate; direction from Schifferstein & Frijters 1991",
        ),
    )
    sweet_on_sour: Quantity = field(
        default=0.06,
        metadata=_known(
            0.02,
            0.10,
            "per point of sweetness",
            "estimate; direction from Schifferstein & Frijters 1991",
        ),
    )
    salt_on_bitter: Quantity = field(
        default=0.25,
        metadata=_known(
            0.0,
            0.7,
            "share of bitterness per 100 mmol/L sodium",
            "Keast, Breslin & Beauchamp 2001: none (magnesium sulfate) to 0.7 (urea), quinine "
            "between; usual value: estimate",
        ),
    )
    cold_sweet: Quantity = field(
        default=0.8,
        metadata=_known(
            0.6,
            1.0,
            "share of sweetness left at 5 °C and below",
            "estimate; direction from Bartoshuk et al. 1982 and Green & Nachtigal 2015",
        ),
    )
    cold_bitter: Quantity = field(
        default=0.8,
        metadata=_known(
            0.6,
            1.0,
            "share of bitterness left at 5 °C and below",
            "estimate; direction from Bartoshuk et al. 1982; quinine peaks between warm and "
            "cold (Green & Andrew 2017, from memory)",
        ),
    )
    heat_per_percent: Quantity = field(
        default=0.93,
        metadata=_known(
            0.80,
            1.06,
            "labelled-magnitude points per % vol",
            "Nolden & Hayes 2015: burn 29.7 at 32 %, 44.7 at 48 % vol; range: estimate",
        ),
    )
    ethanol_bitter_per_percent: Quantity = field(
        default=0.9,
        metadata=_known(
            0.75,
            1.0,
            "labelled-magnitude points per % vol",
            "Nolden & Hayes 2015: bitterness 7.4 at 8 %, 13.5 at 16 % vol; range: estimate",
        ),
    )


USUAL: Final = Parameters()


@dataclass(frozen=True, slots=True)
class Constant:
    """One constant as it is shown to a person."""

    name: str
    value: Interval
    unit: str
    source: str


CONSTANTS: Final = tuple(
    Constant(
        name=f.name,
        value=Interval(f.metadata["low"], getattr(USUAL, f.name), f.metadata["high"]),
        unit=f.metadata["unit"],
        source=f.metadata["source"],
    )
    for f in fields(Parameters)
)


def value_at(interval: Interval, share: Quantity) -> Quantity:
    """Value below which `share` of an interval's draws lie [unit of the interval].

    Straight lines through the 10th, 50th and 90th percentile, continued to both ends, so that
    draws keep the stated interval exactly and never stray far beyond it.

    Parameters
    ----------
    interval : Interval
        Low, middle and high: 10th, 50th and 90th percentile [any one unit]
    share : float
        Share of draws below the value [-]

    Valid for: shares of 0 to 1 (not checked, called for millions of draws).
    Source: our estimate, because a category's range is known but its distribution is not.

    >>> float(value_at(Interval(10.0, 20.0, 40.0), 0.9))
    40.0
    >>> float(value_at(Interval(10.0, 20.0, 40.0), 0.3))
    15.0
    """
    below = interval.mid + (share - 0.5) / 0.4 * (interval.mid - interval.low)
    above = interval.mid + (share - 0.5) / 0.4 * (interval.high - interval.mid)
    return np.where(np.less(share, 0.5), below, above)


def draw_parameters(draws: int, seed: int = 0) -> Parameters:
    """Sampled palates: every constant an array of `draws` values within its range.

    Parameters
    ----------
    draws : int
        Number of palates [-]
    seed : int
        The same seed gives the same palates [-]

    Valid for: 1 to 1 000 000 draws; OutOfRange outside.
    Source: the ranges of `CONSTANTS`; drawn independently (our estimate: nothing is published
    on how they hang together).

    >>> palates = draw_parameters(100)
    >>> palates.sweet_on_bitter.shape
    (100,)
    """
    if not 1 <= draws <= 1_000_000:
        raise OutOfRange.of("draws", draws, 1, 1_000_000, "draws")
    share = np.random.default_rng(seed).random((len(CONSTANTS), draws))
    values = {
        constant.name: np.maximum(value_at(constant.value, row), 0.0)
        for constant, row in zip(CONSTANTS, share, strict=True)
    }
    return Parameters(**values)


def check_range(name: str, value: Quantity, low: float, high: float, unit: str) -> None:
    """Raise OutOfRange where any value is not a number between `low` and `high`.

    Parameters
    ----------
    name : str
        The argument's name, for the message [-]
    value : float
        What was given [unit]
    low : float
        Smallest value allowed [unit]
    high : float
        Largest value allowed [unit]
    unit : str
        Its unit, for the message [-]

    Valid for: any number.
    Source: none needed; a comparison.

    >>> check_range("celsius", 4.0, -30.0, 60.0, "°C")
    """
    if isinstance(value, float):  # plain numbers need no array
        smallest = largest = value
    else:
        smallest, largest = np.min(value), np.max(value)
    if not (smallest >= low and largest <= high):
        worst = smallest if not smallest >= low else largest
        raise OutOfRange.of(name, float(worst), low, high, unit)
