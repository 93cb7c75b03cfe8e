"""Cautions: the numbers of law and guidance, and that nothing is left unsaid."""

from __future__ import annotations

import csv

import pytest

import pairing_data
from service.bed import Bed
from service.drink import (
    DEFAULT_COUNTRY,
    STANDARD_DRINK_G,
    Drink,
    Level,
    Pour,
    allergens_of,
    read,
    standard_drinks,
)
from service.drink.cautions import (
    CAFFEINE_DAILY_MG,
    CAFFEINE_DAILY_PREGNANT_MG,
    CAFFEINE_LABEL_MG_PER_L,
    CAFFEINE_SINGLE_MG,
    cautions_for,
)
from service.ingredients.records import Role
from service.kit import Interval, NotFound
from service.kit.units import US_FLUID_OUNCE_ML
from service.liquid import ethanol_water_density_kg_per_m3
from tests.drink.conftest import bottle

ETHANOL_G_PER_ML = 0.78924  # OIML R 22, 20 °C


def codes(reading):
    return {caution.code: caution for caution in reading.cautions}


def said_of(drink, caffeine, volume_ml=100.0, ceiling=0.0):
    found = cautions_for(
        drink,
        ethanol_g=Interval.exactly(15.0),
        caffeine_mg=caffeine,
        caffeine_ceiling_mg=ceiling,
        volume_ml=volume_ml,
    )
    return {caution.code: caution for caution in found}


def test_standard_drinks_are_the_national_ones():
    """National definitions, row by row in reference/standard_drinks.csv."""
    with pairing_data.reference_path("standard_drinks").open(encoding="utf-8") as file:
        rows = {row["country"]: float(row["ethanol_g"]) for row in csv.DictReader(file)}
    assert dict(STANDARD_DRINK_G) == rows


def test_us_and_british_units_follow_from_volumes_of_ethanol():
    """0.6 US fluid ounces and 10 mL of pure ethanol, at the density of OIML R 22."""
    density = float(ethanol_water_density_kg_per_m3(1.0)) / 1000.0
    assert density == pytest.approx(ETHANOL_G_PER_ML, abs=1e-5)
    assert 0.6 * US_FLUID_OUNCE_ML * density == pytest.approx(STANDARD_DRINK_G["US"], abs=0.01)
    assert 10.0 * density == pytest.approx(STANDARD_DRINK_G["GB"], abs=0.005)


def test_counting_in_standard_drinks():
    assert standard_drinks(28.0) == pytest.approx(2.0)
    assert standard_drinks(20.0, "JP") == pytest.approx(1.0)
    assert DEFAULT_COUNTRY == "US"
    with pytest.raises(NotFound, match="choose one of"):
        standard_drinks(20.0, "XX")


def test_caffeine_limits_are_those_of_efsa_2015():
    """EFSA 2015: 200 mg at once, 400 mg a day, 200 mg a day in pregnancy."""
    assert (CAFFEINE_SINGLE_MG, CAFFEINE_DAILY_MG) == (200.0, 400.0)
    assert CAFFEINE_DAILY_PREGNANT_MG == 200.0


def test_the_label_limit_is_that_of_the_regulation():
    """Regulation (EU) No 1169/2011, Annex III (4.1): more than 150 mg/L."""
    assert CAFFEINE_LABEL_MG_PER_L == 150.0


def test_more_than_200_mg_is_stopped_and_200_is_not(mix):
    drink = mix(bourbon=50)
    assert "caffeine-single-dose" not in said_of(drink, Interval(20.0, 90.0, 200.0))
    over = said_of(drink, Interval(20.0, 90.0, 200.1))["caffeine-single-dose"]
    assert over.level is Level.STOP
    assert "EFSA 2015" in over.source


def test_a_possible_overdose_of_all_the_coffee_is_said(mix):
    """15 g of canephora at 2.2 % hold 330 mg were all to come out."""
    said = said_of(mix(Bed(), bourbon=50), Interval(20.0, 60.0, 110.0), ceiling=330.0)
    assert said["caffeine-ceiling"].level is Level.WARN
    assert said["caffeine-ceiling"].value == 330.0


def test_the_eu_label_is_asked_for_above_150_mg_per_litre_unless_named(mix):
    caffeine = Interval(5.0, 15.1, 30.0)
    plain = Drink(mix(bourbon=50).pours, name="Low Tide")
    named = Drink(mix(bourbon=50).pours, name="Harbour Coffee")
    assert "caffeine-label" in said_of(plain, caffeine, volume_ml=100.0)
    assert "caffeine-label" not in said_of(plain, caffeine, volume_ml=101.0)
    assert "caffeine-label" not in said_of(named, caffeine, volume_ml=100.0)


def test_coffee_is_never_called_sobering(mix, band):
    said = codes(read(mix(Bed(), bourbon=50, sweet_vermouth=20), band, draws=100))
    assert "does not lower the alcohol" in said["caffeine-and-alcohol"].message
    assert said["caffeine"].value == pytest.approx(
        read(mix(Bed(), bourbon=50, sweet_vermouth=20), band, draws=100).after.caffeine_mg.mid,
        abs=0.06,
    )
    assert "caffeine" not in codes(read(mix(bourbon=50, sweet_vermouth=20), band, draws=100))


def test_alcohol_is_counted_in_the_country_asked_for(mix, band):
    drink = mix(bourbon=50, sweet_vermouth=20)
    american = codes(read(drink, band, draws=10))["alcohol"]
    british = codes(read(drink, band, draws=10, country="GB"))["alcohol"]
    assert american.value == british.value
    assert american.value == pytest.approx((50 * 0.45 + 20 * 0.16) * ETHANOL_G_PER_ML, abs=0.01)
    assert f"{american.value / 14.0:.1f} standard drinks (US)" in american.message
    assert f"{british.value / 7.89:.1f} standard drinks (GB)" in british.message


def test_allergens_name_the_bottles_that_bring_them(catalogue, mix, band):
    drink = mix(bourbon=50, walnut_liqueur=15, sweet_vermouth=10)
    said = codes(read(drink, band, draws=10))
    assert "green walnut liqueur" in said["allergen-nuts"].message
    assert "sweet red vermouth" in said["allergen-sulphites"].message
    assert all("1169/2011" in said[c].source for c in ("allergen-nuts", "allergen-sulphites"))
    assert allergens_of([catalogue.ingredients["bourbon"]]) == []


def test_every_allergen_and_caution_of_the_catalogue_is_said(catalogue):
    for ingredient in catalogue.ingredients.values():
        if ingredient.role in (Role.GARNISH, Role.COFFEE):
            continue
        said = said_of(Drink((Pour(ingredient, 10.0),)), Interval.exactly(0.0))
        for allergen in ingredient.allergens:
            assert f"allergen-{allergen}" in said, ingredient.id
        for caution in ingredient.cautions:
            assert caution in said, (ingredient.id, caution)


def test_allergens_are_words_of_the_regulation(catalogue):
    """Regulation (EU) No 1169/2011, Annex II, the fourteen."""
    fourteen = {
        "gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "nuts", "celery",
        "mustard", "sesame", "sulphites", "lupin", "molluscs",
    }  # fmt: skip
    used = {a for i in catalogue.ingredients.values() for a in i.allergens}
    assert used <= fourteen


def test_every_caution_names_a_source_and_local_law_comes_first(mix, band):
    reading = read(mix(Bed(), bourbon=50, fernet=10, absinthe=5), band, draws=50)
    assert all(c.source and c.message.endswith(".") for c in reading.cautions)
    assert reading.cautions[-1].code == "local-law"
    assert "clinician" in reading.cautions[-1].message
    assert "quinine" in codes(reading)
    assert "thujone" in codes(reading)


def test_a_drink_without_alcohol_is_not_counted():
    water = bottle("water", Role.SEASONING)
    found = cautions_for(
        Drink((Pour(water, 50.0),)),
        ethanol_g=Interval.exactly(0.0),
        caffeine_mg=Interval.exactly(0.0),
        caffeine_ceiling_mg=0.0,
        volume_ml=50.0,
    )
    assert [caution.code for caution in found] == ["local-law"]
