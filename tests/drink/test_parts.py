"""Writing a drink down: what is allowed, and how amounts are changed."""

from __future__ import annotations

import pytest

from service.drink import Drink, Pour, main_modifier, spirit_share, with_volume
from service.drink.parts import bitter_liqueur_share
from service.kit import BadData, OutOfRange


@pytest.mark.parametrize("volume", [0.0, -5.0, float("nan"), 1e6])
def test_a_pour_must_be_more_than_nothing_and_less_than_a_barrel(catalogue, volume):
    with pytest.raises(OutOfRange, match="not a pour"):
        Pour(catalogue.ingredients["bourbon"], volume)


def test_a_garnish_and_a_coffee_are_not_poured(catalogue):
    with pytest.raises(BadData, match="garnish"):
        Pour(catalogue.ingredients["orange-peel"], 5.0)
    with pytest.raises(BadData, match="bed"):
        Pour(catalogue.ingredients["coffee-medium-washed-arabica"], 5.0)


def test_a_drink_needs_a_pour_but_not_a_hundred(catalogue):
    with pytest.raises(BadData, match="1 to 30"):
        Drink(())
    with pytest.raises(BadData, match="1 to 30"):
        Drink((Pour(catalogue.ingredients["bourbon"], 1.0),) * 31)


def test_amounts_are_changed_in_place_and_new_ones_come_last(mix, catalogue):
    drink = mix(bourbon=50, sweet_vermouth=20, aromatic_bitters=1.6)
    more = with_volume(drink, catalogue.ingredients["sweet-vermouth"], 30.0)
    assert [p.volume_ml for p in more.pours] == [50, 30, 1.6]
    salted = with_volume(drink, catalogue.ingredients["saline"], 0.1)
    assert salted.pours[-1].ingredient.id == "saline"
    without = with_volume(drink, catalogue.ingredients["aromatic-bitters"], 0.0)
    assert without.volume_of("aromatic-bitters") == 0.0
    assert drink.volume_of("sweet-vermouth") == 20


def test_shares_leave_bitters_and_seasonings_out(mix):
    drink = mix(london_gin=30, red_bitter_aperitif=30, sweet_vermouth=30, orange_bitters=1.6)
    assert spirit_share(drink) == pytest.approx(1 / 3)
    assert bitter_liqueur_share(drink) == pytest.approx(1 / 3)


def test_the_main_modifier_is_the_largest(mix):
    drink = mix(rye_whiskey=45, sweet_vermouth=20, maraschino=5)
    assert main_modifier(drink).ingredient.id == "sweet-vermouth"
    assert main_modifier(mix(bourbon=50)) is None
