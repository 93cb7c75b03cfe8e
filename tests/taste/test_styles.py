"""Families of drinks are told by amounts alone."""

from __future__ import annotations

import pytest

from service.kit import OutOfRange
from service.taste import Style, style_of

NOTHING = {
    "spirit_share": 0.75,
    "bitter_liqueur_share": 0.0,
    "sugar_g_per_l": 30.0,
    "acid_g_per_l": 0.2,
    "qhe_mg_per_l": 2.0,
}


@pytest.mark.parametrize(
    ("amounts", "style"),
    [
        ({"sugar_g_per_l": 3.0, "acid_g_per_l": 0.6}, Style.DRY),
        ({"acid_g_per_l": 1.2, "qhe_mg_per_l": 15.0}, Style.WINE),
        ({"sugar_g_per_l": 56.0, "qhe_mg_per_l": 33.0}, Style.SUGAR),
        ({"sugar_g_per_l": 80.0, "qhe_mg_per_l": 3.0}, Style.LIQUEUR),
        ({"spirit_share": 0.5}, Style.EQUAL_PARTS),
        ({"spirit_share": 1 / 3, "bitter_liqueur_share": 1 / 3}, Style.EQUAL_PARTS_BITTER),
        ({"spirit_share": 0.2, "bitter_liqueur_share": 0.4}, Style.WINE_LED),
    ],
)
def test_a_family_is_told_by_what_carries_the_drink(amounts, style):
    """Amounts of public specifications after stirring (reference/worked_drinks.csv)."""
    assert style_of(**{**NOTHING, **amounts}) is style


def test_only_drinks_not_led_by_spirit_are_styles_of_their_own():
    own = {style for style in Style if style.of_its_own}
    assert own == {Style.EQUAL_PARTS, Style.EQUAL_PARTS_BITTER, Style.WINE_LED}


def test_impossible_shares_are_refused():
    with pytest.raises(OutOfRange, match="spirit_share"):
        style_of(**{**NOTHING, "spirit_share": 1.5})
