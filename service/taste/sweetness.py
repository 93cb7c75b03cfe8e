"""Sweetness: sugars against sucrose, and the legal words for sugar in aromatised wine."""

from __future__ import annotations

from typing import Final

from service.kit import Interval, NotFound
from service.taste.parameters import Quantity, check_range

# Sweetness of a gram against a gram of sucrose. Glucose and fructose: handbook tables give
# 0.69-0.74 and 1.14-1.73 (high figures belong to cold, dilute solution); the usual values are
# recalled from Belitz, Grosch & Schieberle, Food Chemistry. Invert: half and half of the two.
RELATIVE_SWEETNESS: Final[dict[str, Interval]] = {
    "sucrose": Interval.exactly(1.0),
    "fructose": Interval(1.10, 1.20, 1.75),
    "glucose": Interval(0.60, 0.70, 0.75),
    "invert": Interval(0.90, 0.95, 1.05),
    "lactose": Interval(0.16, 0.20, 0.39),
    "maltose": Interval(0.33, 0.40, 0.50),
    "glycerol": Interval(0.55, 0.60, 0.75),
}
# 342.30 g sucrose and 18.02 g water give 360.31 g invert sugar.
SUCROSE_PER_INVERT: Final = 342.30 / 360.31

# Regulation (EU) No 251/2014, Article 6(1): upper bounds, g/L as invert sugar, not included.
_AROMATISED_WINE: Final = (
    (30.0, "extra-dry"),
    (50.0, "dry"),
    (90.0, "semi-dry"),
    (130.0, "semi-sweet"),
)


def relative_sweetness(sugar: str) -> Interval:
    """How sweet a gram of a sugar is against a gram of sucrose [-].

    Parameters
    ----------
    sugar : str
        One of `RELATIVE_SWEETNESS` [-]

    Valid for: the sugars listed; NotFound for others.
    Source: handbook tables; Belitz, Grosch & Schieberle, Food Chemistry (from memory); invert
    computed from glucose and fructose.

    >>> relative_sweetness("invert").mid
    0.95
    """
    if sugar not in RELATIVE_SWEETNESS:
        known = ", ".join(RELATIVE_SWEETNESS)
        raise NotFound(f"no sweetness is known for {sugar!r}; use one of {known}", field="sugar")
    return RELATIVE_SWEETNESS[sugar]


def sucrose_equivalent_g_per_l(
    sucrose_g_per_l: Quantity, invert_g_per_l: Quantity = 0.0, relative: Quantity = 0.95
) -> Quantity:
    """Sucrose that would taste as sweet [g/L].

    Parameters
    ----------
    sucrose_g_per_l : float
        Sucrose [g/L]
    invert_g_per_l : float
        Invert sugar, glucose and fructose half and half [g/L]
    relative : float
        Sweetness of invert sugar against sucrose, by mass [-]

    Valid for: 0 to 1500 g/L each; OutOfRange outside.
    Source: `relative_sweetness`; sweetness of sugars taken as additive (our estimate, because
    deviations in mixtures of sugars are within the ranges given there).

    >>> round(float(sucrose_equivalent_g_per_l(20.0, 100.0)), 6)
    115.0
    """
    check_range("sucrose_g_per_l", sucrose_g_per_l, 0.0, 1500.0, "g/L")
    check_range("invert_g_per_l", invert_g_per_l, 0.0, 1500.0, "g/L")
    return sucrose_g_per_l + relative * invert_g_per_l


def sucrose_from_invert_g_per_l(invert_g_per_l: Quantity) -> Quantity:
    """Sucrose whose inversion gives that much invert sugar, as EU limits are stated [g/L].

    Parameters
    ----------
    invert_g_per_l : float
        Sugar expressed as invert sugar [g/L]

    Valid for: 0 to 1500 g/L; OutOfRange outside.
    Source: molar masses, 342.30 and 360.31 g/mol.

    >>> round(float(sucrose_from_invert_g_per_l(100.0)), 1)
    95.0
    """
    check_range("invert_g_per_l", invert_g_per_l, 0.0, 1500.0, "g/L")
    return SUCROSE_PER_INVERT * invert_g_per_l


def aromatised_wine_class(invert_g_per_l: float) -> str:
    """The legal word for the sugar of an aromatised wine [no unit].

    Parameters
    ----------
    invert_g_per_l : float
        Sugar expressed as invert sugar [g/L]

    Valid for: 0 to 1500 g/L; OutOfRange outside.
    Source: Regulation (EU) No 251/2014, Article 6(1)(a) to (e).

    >>> aromatised_wine_class(49.9), aromatised_wine_class(50.0)
    ('dry', 'semi-dry')
    """
    check_range("invert_g_per_l", invert_g_per_l, 0.0, 1500.0, "g/L")
    for bound, word in _AROMATISED_WINE:
        if invert_g_per_l < bound:
            return word
    return "sweet"
