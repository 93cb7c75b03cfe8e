"""Nothing is lost: what is poured, melted and given is in the glass, the bed or the paper."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.bed import Bed
from service.drink import Drink, ledger, read
from service.liquid import Liquid, PreDiluted, volume_ml


def parts(liquid):
    return {f.name: np.asarray(getattr(liquid, f.name)) for f in fields(Liquid)}


@settings(max_examples=40, deadline=None)
@given(
    spirit=st.floats(20.0, 90.0),
    vermouth=st.floats(1.0, 60.0),
    salt=st.floats(0.05, 2.0),
    dose=st.floats(5.0, 30.0),
    rinsed=st.booleans(),
    dilution=st.floats(0.1, 0.8),
)
def test_every_part_is_accounted_for(pour, spirit, vermouth, salt, dose, rinsed, dilution):
    """To 1e-9 of each part, in every draw."""
    pours = tuple(
        pour(i, v)
        for i, v in (("rye-whiskey", spirit), ("sweet-vermouth", vermouth), ("saline", salt))
    )
    bed = Bed(dose_g=dose, paper_rinsed=rinsed)
    books = ledger(Drink(pours, PreDiluted(dilution, 2.0), bed), draws=20)
    for name, brought in parts(books.brought).items():
        found = parts(books.found)[name]
        assert np.allclose(found, brought, rtol=1e-9, atol=1e-12), name


def test_ice_is_booked_too(mix):
    books = ledger(mix(Bed(), rye_whiskey=50, sweet_vermouth=20), draws=50)
    assert np.all(books.ice.water_g > 20.0)
    assert books.found.mass_g == pytest.approx(books.brought.mass_g, rel=1e-9)


def test_the_books_agree_with_the_reading(mix, band):
    drink = mix(Bed(dose_g=13), rye_whiskey=50, sweet_vermouth=20, aromatic_bitters=1.6)
    books, reading = ledger(drink), read(drink, band, draws=10)
    glass = books.glass
    assert float(np.asarray(volume_ml(glass))[0, 0]) == pytest.approx(
        reading.after.volume_ml.mid, rel=1e-9
    )
    assert float(glass.ethanol_g[0, 0]) == pytest.approx(reading.after.ethanol_g.mid, rel=1e-9)
    assert float(glass.caffeine_mg[0, 0]) == pytest.approx(reading.after.caffeine_mg.mid, rel=1e-9)


def test_without_coffee_all_of_it_is_in_the_glass(mix):
    books = ledger(mix(rye_whiskey=50, sweet_vermouth=20))
    assert float(np.sum(books.bed.mass_g)) == 0.0
    assert float(np.sum(books.paper.mass_g)) == 0.0
    assert books.glass.mass_g == pytest.approx(books.brought.mass_g, rel=1e-12)
