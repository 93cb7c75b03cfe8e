"""What a coffee without a word on its bag reads back as, for each roast, process and species."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import numpy as np
import pytest

from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known, load_known
from service.ingredients import PROFILES, CoffeeProfile
from service.ingredients.records import Process, Roast, Species

# What trained panels write down for sound coffee: Bhumiratana, Adhikari and Chambers 2011, LWT
# 44:2185-2192, abstract (read): coffee, roasted, burnt/acrid, ashy/sooty, sweet. Cocoa, caramel,
# nutty, malty, fruity and floral words: Seninde and Chambers 2020, Beverages 6:44 (recalled).
SOUND = {"roast", "caramel", "chocolate", "cereal", "nut", "dairy", "smoke", "berry", "honey"}
SOUND |= {"orchard", "citrus", "floral", "warm-spice", "stone-fruit", "tropical", "vanilla"}


@cache
def known() -> Known:
    return load_known()


@cache
def shares(profile: CoffeeProfile) -> dict[str, float]:
    """Each note's share of the aroma."""
    aroma = read_coffee(known(), Coffee(profile)).aroma
    squares = np.asarray(aroma.notes) ** 2
    return dict(zip(known().knowledge.space.descriptors, map(float, squares), strict=True))


def share(profile: CoffeeProfile, notes: Iterable[str]) -> float:
    return sum(shares(profile)[note] for note in notes)


@pytest.mark.parametrize("profile", PROFILES.values(), ids=list(PROFILES))
def test_the_eight_loudest_notes_are_words_that_people_use_for_sound_coffee(
    profile: CoffeeProfile,
) -> None:
    loudest = list(read_coffee(known(), Coffee(profile)).strongest)
    assert len(loudest) == 8
    assert {known().catalogue.descriptors[note].family for note in loudest} <= SOUND, loudest
    assert {"roasted", "roasted-coffee"} <= set(loudest[:3])


@pytest.mark.parametrize("species", Species)
@pytest.mark.parametrize("process", Process)
def test_dark_roast_smells_more_of_coffee_burnt_and_smoke_and_light_roast_sweeter(
    process: Process, species: Species
) -> None:
    # Bhumiratana, Adhikari and Chambers 2011, abstract (read).
    light = CoffeeProfile(Roast.LIGHT, process, species)
    dark = CoffeeProfile(Roast.DARK, process, species)
    for notes in (["roasted-coffee"], ["burnt"], ["smoke"], ["ash"]):
        assert share(dark, notes) > share(light, notes), notes
    sweet = ["caramel", "honey", "toffee", "maple"]
    assert share(light, sweet) > share(dark, sweet)


@pytest.mark.parametrize("species", Species)
@pytest.mark.parametrize("roast", Roast)
def test_drying_in_the_fruit_and_long_fermentation_smell_of_more_fruit(
    roast: Roast, species: Species
) -> None:
    # Akiyama et al. 2008, J Food Sci 73:C335-C346 (recalled): ethyl 3-methylbutanoate.
    fruit = ["blueberry", "strawberry", "pineapple"]
    washed, honey, natural, fermented = (
        share(CoffeeProfile(roast, process, species), fruit)
        for process in (Process.WASHED, Process.HONEY, Process.NATURAL, Process.FERMENTED)
    )
    assert washed < honey < natural
    assert washed < fermented


@pytest.mark.parametrize("roast", Roast)
def test_canephora_smells_more_of_smoke_and_clove_and_less_of_caramel(roast: Roast) -> None:
    # Semmelroch, Laskawy, Blank and Grosch 1995, Flavour Fragr J 10:1-7 (recalled): guaiacols
    # three to eleven times, furaneol less than half.
    arabica, canephora = (CoffeeProfile(roast, Process.WASHED, each) for each in Species)
    assert share(canephora, ["smoke"]) > share(arabica, ["smoke"])
    assert share(canephora, ["clove"]) > share(arabica, ["clove"])
    assert share(canephora, ["caramel"]) < share(arabica, ["caramel"])
