"""The limits every number that enters the bed must keep, and the one check that holds them."""

from __future__ import annotations

from typing import Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from service.kit import OutOfRange, plain_number

FloatArray: TypeAlias = NDArray[np.float64]
Numbers: TypeAlias = float | FloatArray


class Limit(NamedTuple):
    """Lowest and highest value the models are used for, the unit, and what to do outside."""

    low: float
    high: float
    unit: str
    advice: str


# Widths are engineering choices (estimates), wider than the data behind the models, so that a
# strange but possible pour gets an answer with its interval and an impossible one an error.
LIMITS: Final[dict[str, Limit]] = {
    "dose_g": Limit(
        2, 1000, "g", "weigh the coffee again, or split the batch over several filters"
    ),
    "particle_um": Limit(100, 2000, "µm", "choose a trade word, fine to coarse, instead"),
    "fines_share": Limit(0, 0.6, "", "give the share of fines by mass, such as 0.2"),
    "canephora_share": Limit(0, 1, "", "give the share of canephora in the blend, 0 to 1"),
    "volume_ml": Limit(5, 20_000, "mL", "give the volume of the stirred drink before the coffee"),
    "density_kg_per_m3": Limit(700, 1500, "kg/m³", "give the drink's density, near 1000"),
    "viscosity_mpa_s": Limit(0.2, 200, "mPa·s", "give the cold drink's viscosity, near 7"),
    "abv": Limit(0, 1, "", "give the strength as a fraction, such as 0.28"),
    "celsius": Limit(-30, 100, "°C", "give the temperature at which it is poured"),
    "contact_seconds": Limit(0, 86_400, "s", "give seconds, at most a day"),
    "draws": Limit(1, 1_000_000, "", "2000 draws are plenty for one drink"),
    "wanted_ml": Limit(1, 20_000, "mL", "give the volume wanted in the glass"),
}
LEAST_DOSE_G: Final = LIMITS["dose_g"].low
MOST_DOSE_G: Final = LIMITS["dose_g"].high


def check(field: str, value: Numbers) -> None:
    """Raise OutOfRange where any element of a number lies outside its limits, or is no number.

    Parameters
    ----------
    field : str
        Which number it is; a key of `LIMITS`.
    value : float
        The number, or an array of them [the unit in `LIMITS`]

    Valid for: the fields in `LIMITS`.
    Source: our estimate, because the limits are those of what a person could pour.

    >>> check("dose_g", 15.0)
    >>> check("dose_g", 5000.0)
    Traceback (most recent call last):
    ...
    service.kit.errors.OutOfRange: dose_g: 5000 g is outside 2 to 1000 g; weigh the coffee again, or split the batch over several filters
    """  # noqa: E501
    limit = LIMITS[field]
    if isinstance(value, np.ndarray):
        if value.size == 0:
            return
        lowest, highest = float(value.min()), float(value.max())
    else:
        lowest = highest = float(value)
    if limit.low <= lowest and highest <= limit.high:
        return
    wrong = lowest if not limit.low <= lowest else highest
    unit = f" {limit.unit}" if limit.unit else ""
    given, least, most = (plain_number(number, 6) for number in (wrong, limit.low, limit.high))
    raise OutOfRange(
        f"{given}{unit} is outside {least} to {most}{unit}; {limit.advice}",
        field=field,
    )
