"""The colour that the coffee gives the drink, as one word."""

from __future__ import annotations

from typing import Final

from service.bed.limits import Numbers
from service.ingredients.records import Roast

# Dissolved coffee of a medium roast [g/L] up to which a word holds; estimates, by eye. Filter
# coffee at 12.5 g/L is the fixed point: dark brown in a glass.
_WORDS: Final[tuple[tuple[float, str], ...]] = (
    (1.0, "barely tinted"),
    (3.0, "pale gold"),
    (6.0, "amber"),
    (11.0, "chestnut"),
    (18.0, "dark brown"),
)
_DARKEST: Final = "near black"
# How much browner a gram is than that of a medium roast [1]; estimates.
_DEPTH: Final[dict[Roast, float]] = {
    Roast.LIGHT: 0.7,
    Roast.MEDIUM_LIGHT: 0.85,
    Roast.MEDIUM: 1.0,
    Roast.MEDIUM_DARK: 1.2,
    Roast.DARK: 1.4,
}


def colour_word(solids_g_per_l: Numbers, roast: Roast = Roast.MEDIUM) -> str:
    """The colour coffee gives a clear drink, in a word or two.

    Parameters
    ----------
    solids_g_per_l : float
        Dissolved coffee in the glass [g/L]
    roast : Roast
        Roast level; darker roasts colour more per gram

    Valid for: a drink that was clear before; a red or brown one stays what it was, only darker.
    Source: our estimate, because no colour measurement of such drinks was found.

    >>> colour_word(12.5)
    'dark brown'
    """
    depth = float(solids_g_per_l) * _DEPTH[roast]
    return next((word for limit, word in _WORDS if depth < limit), _DARKEST)
