"""The families that stirred drinks fall into, told by amounts and not by name."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from service.taste.parameters import check_range


class Style(StrEnum):
    """What carries a drink beside its spirit."""

    DRY = "dry"
    WINE = "spirit and aromatised wine"
    SUGAR = "spirit, sugar and bitters"
    LIQUEUR = "spirit and liqueur"
    EQUAL_PARTS = "equal parts"
    EQUAL_PARTS_BITTER = "equal-parts bitter"
    WINE_LED = "led by wine or liqueur"

    @property
    def of_its_own(self) -> bool:
        """Not what the band is drawn by: near its own kind a drink is warned of, not failed."""
        return self in (Style.EQUAL_PARTS, Style.EQUAL_PARTS_BITTER, Style.WINE_LED)


# Estimates: where the families of public specifications part, after stirring.
_DRY_BELOW_SUGAR_G_PER_L: Final = 15.0
_WINE_FROM_ACID_G_PER_L: Final = 0.7
_BITTERED_FROM_QHE_MG_PER_L: Final = 12.0
_SPIRIT_LEADS_ABOVE: Final = 0.5
_EQUAL_PARTS_FROM: Final = 0.3
_BITTER_LIQUEUR_FROM: Final = 0.2


def style_of(
    *,
    spirit_share: float,
    bitter_liqueur_share: float,
    sugar_g_per_l: float,
    acid_g_per_l: float,
    qhe_mg_per_l: float,
) -> Style:
    """The family of a stirred drink [no unit].

    Parameters
    ----------
    spirit_share : float
        Share of base spirit in what is poured, bitters and water left out [fraction, 0-1]
    bitter_liqueur_share : float
        Share of bottles that are both sweet and bitter, likewise [fraction, 0-1]
    sugar_g_per_l : float
        Sugar after stirring [g/L]
    acid_g_per_l : float
        Acid after stirring, as tartaric acid [g/L]
    qhe_mg_per_l : float
        Bitterness after stirring [mg/L QHE]

    Valid for: shares of 0 to 1, sugar to 1500, acid to 200 g/L, bitterness to 100 000 mg/L;
    OutOfRange outside.
    Source: our estimate, because the trade's families are told by habit; the lines were drawn
    between the clusters of the reference specifications.

    >>> style_of(spirit_share=1 / 3, bitter_liqueur_share=1 / 3, sugar_g_per_l=89.0,
    ...          acid_g_per_l=1.7, qhe_mg_per_l=28.0).value
    'equal-parts bitter'
    """
    check_range("spirit_share", spirit_share, 0.0, 1.0, "fraction")
    check_range("bitter_liqueur_share", bitter_liqueur_share, 0.0, 1.0, "fraction")
    check_range("sugar_g_per_l", sugar_g_per_l, 0.0, 1500.0, "g/L")
    check_range("acid_g_per_l", acid_g_per_l, 0.0, 200.0, "g/L")
    check_range("qhe_mg_per_l", qhe_mg_per_l, 0.0, 1e5, "mg/L")
    if spirit_share < _EQUAL_PARTS_FROM:
        return Style.WINE_LED
    if spirit_share <= _SPIRIT_LEADS_ABOVE:
        bitter = bitter_liqueur_share >= _BITTER_LIQUEUR_FROM
        return Style.EQUAL_PARTS_BITTER if bitter else Style.EQUAL_PARTS
    if sugar_g_per_l < _DRY_BELOW_SUGAR_G_PER_L:
        return Style.DRY
    if acid_g_per_l >= _WINE_FROM_ACID_G_PER_L:
        return Style.WINE
    return Style.SUGAR if qhe_mg_per_l >= _BITTERED_FROM_QHE_MG_PER_L else Style.LIQUEUR
