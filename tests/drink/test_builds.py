"""Standard builds: one suggested bottle in a stated drink of its role."""

from __future__ import annotations

import pytest

from service.bed import Bed
from service.drink import AMOUNTS, BuildAmounts, Partners, modifier_volume_ml, standard_build
from service.ingredients.records import Role
from service.kit import BadData
from service.kit.units import DASH_ML


@pytest.fixture(scope="module")
def partners(catalogue):
    return Partners(
        catalogue.ingredients["bourbon"],
        catalogue.ingredients["sweet-vermouth"],
        catalogue.ingredients["aromatic-bitters"],
    )


def lines(drink):
    return [(pour.ingredient.id, pour.volume_ml) for pour in drink.pours]


def test_each_role_takes_its_place(catalogue, partners):
    bottles = catalogue.ingredients
    two_dashes = 2 * DASH_ML
    assert lines(standard_build(bottles["cognac"], partners)) == [
        ("cognac", 50), ("sweet-vermouth", 20), ("aromatic-bitters", two_dashes)
    ]  # fmt: skip
    assert lines(standard_build(bottles["banana-liqueur"], partners)) == [
        ("bourbon", 50), ("banana-liqueur", 20), ("aromatic-bitters", two_dashes)
    ]  # fmt: skip
    assert lines(standard_build(bottles["walnut-bitters"], partners)) == [
        ("bourbon", 50), ("sweet-vermouth", 20), ("walnut-bitters", two_dashes)
    ]  # fmt: skip


def test_light_modifiers_are_poured_longer_and_very_bitter_ones_shorter(catalogue):
    volumes = {
        "sweet-vermouth": 25.0,
        "dry-vermouth": 25.0,
        "coffee-liqueur": 20.0,
        "green-herb-liqueur": 20.0,
        "fernet": 10.0,
    }
    for name, volume in volumes.items():
        assert modifier_volume_ml(catalogue.ingredients[name]) == volume, name


def test_amounts_can_be_edited(catalogue, partners):
    house = BuildAmounts(base_ml=60.0, dashes=1.0)
    drink = standard_build(catalogue.ingredients["cognac"], partners, amounts=house)
    assert lines(drink)[0] == ("cognac", 60.0)
    assert lines(drink)[2][1] == pytest.approx(DASH_ML)
    assert AMOUNTS.base_ml == 50.0


def test_every_bottle_that_can_be_poured_has_a_build(catalogue, partners):
    for ingredient in catalogue.ingredients.values():
        if ingredient.role in (Role.GARNISH, Role.COFFEE):
            with pytest.raises(BadData, match="bottle to pour"):
                standard_build(ingredient, partners)
            continue
        drink = standard_build(ingredient, partners, bed=Bed())
        assert drink.volume_of(ingredient.id) > 0.0
        assert ingredient.name in drink.name
        assert drink.bed == Bed()
