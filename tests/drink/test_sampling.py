"""Possible bottles: within their category, the same everywhere, the usual one first."""

from __future__ import annotations

import numpy as np
import pytest

from service.drink import mixed
from service.drink.sampling import SPECIES, as_liquid, drink_masses, masses_per_ml
from service.kit import Interval, OutOfRange
from service.liquid import abv, poured, qhe_mg_per_l, sugar_g_per_l
from tests.drink.conftest import bottle

VERMOUTH = bottle(
    "vermouth",
    abv=Interval(0.145, 0.16, 0.18),
    sugar=Interval(125.0, 150.0, 190.0),
    qhe=Interval(5.0, 15.0, 40.0),
)


def test_the_first_column_is_the_usual_bottle():
    usual = as_liquid(masses_per_ml(VERMOUTH, 50, 1)[:, 0])
    assert abv(usual) == pytest.approx(0.16)
    assert sugar_g_per_l(usual) == pytest.approx(150.0)
    assert qhe_mg_per_l(usual) == pytest.approx(15.0)


def test_bottles_stay_within_their_category_and_lie_around_the_usual():
    liquid = as_liquid(masses_per_ml(VERMOUTH, 20_000, 1))
    sugar = np.asarray(sugar_g_per_l(liquid))
    assert sugar.min() >= 125.0 - 1e-6
    assert sugar.max() <= 190.0 + 1e-6
    assert np.median(sugar) == pytest.approx(150.0, abs=1.0)
    # 19 of 20 bottles within the span, so one in twenty lies at its ends.
    at_the_ends = np.mean((sugar < 125.0 + 1e-6) | (sugar > 190.0 - 1e-6))
    assert at_the_ends == pytest.approx(0.05, abs=0.01)


def test_wide_categories_spread_by_ratio():
    qhe = np.asarray(qhe_mg_per_l(as_liquid(masses_per_ml(VERMOUTH, 20_000, 1))))
    lower, upper = np.quantile(qhe, (0.25, 0.75))
    assert 15.0 / lower == pytest.approx((15.0 / 5.0) ** (0.6745 / 1.96), rel=0.03)
    assert upper / 15.0 == pytest.approx((40.0 / 15.0) ** (0.6745 / 1.96), rel=0.03)


def test_a_bottle_is_the_same_in_every_drink_and_for_every_seed_another(mix):
    one, two = mix(rye_whiskey=50, sweet_vermouth=20), mix(sweet_vermouth=20, london_gin=40)
    alone = drink_masses([mix(sweet_vermouth=20)], 100, 5)
    whiskey = drink_masses([mix(rye_whiskey=50)], 100, 5)
    gin = drink_masses([mix(london_gin=40)], 100, 5)
    both = drink_masses([one, two], 100, 5)
    assert both[:, 0] == pytest.approx((alone + whiskey)[:, 0])
    assert both[:, 1] == pytest.approx((alone + gin)[:, 0])
    assert not np.allclose(drink_masses([one], 100, 6)[:, 0], both[:, 0])


def test_pours_add_up_as_liquids(mix):
    liquid = mixed(mix(rye_whiskey=50, sweet_vermouth=20))
    by_hand = poured(50, abv=0.45, acid_g_per_l=0.5, qhe_mg_per_l=1.0) + poured(
        20,
        abv=0.16,
        sugar_g_per_l=150.0,
        acid_g_per_l=5.0,
        qhe_mg_per_l=15.0,
        salt_g_per_l=0.1,
    )
    for species in SPECIES:
        assert getattr(liquid, species) == pytest.approx(getattr(by_hand, species))


def test_a_sugar_cube_brings_sugar_and_no_water():
    """A cube is 4 g; sucrose crystals 1.587 g/mL (handbooks)."""
    cube = bottle("cube", sugar=Interval.exactly(1587.0))
    masses = dict(zip(SPECIES, masses_per_ml(cube, 3, 1)[:, 0] * 2.52, strict=True))
    assert masses["sucrose_g"] == pytest.approx(4.0, abs=0.01)
    assert masses["water_g"] == 0.0


def test_no_combination_of_a_strong_and_sweet_category_overflows(catalogue):
    for ingredient in catalogue.ingredients.values():
        if ingredient.role in ("garnish", "coffee"):
            continue
        masses = masses_per_ml(ingredient, 200, 3)
        assert np.isfinite(masses).all(), ingredient.id
        assert (masses >= 0.0).all(), ingredient.id


def test_a_silly_number_of_draws_is_refused():
    with pytest.raises(OutOfRange, match="draws"):
        masses_per_ml(VERMOUTH, -1, 1)
    with pytest.raises(OutOfRange, match="draws"):
        masses_per_ml(VERMOUTH, 10**7, 1)
