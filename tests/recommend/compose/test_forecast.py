"""The forecast is the passage through ice and coffee itself, and agrees with a reading."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.compose import random_drinks
from service.bed import DEFAULT, Bed
from service.counter.known import Known
from service.drink import Drink, Reading, read_many
from service.drink.sampling import SPECIES, masses_per_ml
from service.liquid import BuiltOnCube, Stirring
from service.recommend.compose.chance import INSIDE_SHARE, KNOTS
from service.recommend.compose.forecast import CELSIUS, Forecast, exact_passage, fit_forecast
from service.recommend.compose.glass import Glass, in_glass
from service.recommend.compose.rack import Vector
from service.taste import Verdict

FREE = tuple(float(g) for g in range(10, 21))
WAYS = [
    (Stirring(), Bed(), (15.0,)),
    (Stirring(), Bed(), FREE),
    (BuiltOnCube(), Bed(particle_um=900.0), (12.0,)),
    (Stirring(seconds=8.0), Bed(canephora_share=1.0), FREE),
]


@pytest.mark.parametrize(("preparation", "bed", "doses"), WAYS)
def test_the_forecast_is_within_a_per_cent_of_the_passage(
    preparation: Stirring | BuiltOnCube, bed: Bed, doses: tuple[float, ...]
) -> None:
    forecast = fit_forecast(preparation, bed, DEFAULT, doses)
    place = np.random.default_rng(3).random((2000, len(forecast.least)))
    at = forecast.least + place * (forecast.most - forecast.least)
    dose = at[:, 3] if len(doses) > 1 else np.full(len(at), doses[0])
    exact = exact_passage(at, dose, preparation, bed, DEFAULT)
    miss = np.abs(forecast.at(place.T) - exact)
    # By a thousandth usually; by two where one cube is soon wetted all over, which is a kink.
    usual = 0.001 if isinstance(preparation, Stirring) else 0.002
    assert (miss[:CELSIUS].max(axis=1) < 0.01).all()
    assert (np.sqrt((miss[:CELSIUS] ** 2).mean(axis=1)) < usual).all()
    # Sweetness loses a fifth at most over 16 K, so half a kelvin is less than a hundredth of it.
    assert miss[CELSIUS].max() < 0.5


@pytest.mark.parametrize(("preparation", "bed", "doses"), WAYS)
def test_no_slope_is_steeper_than_its_bound(
    preparation: Stirring | BuiltOnCube, bed: Bed, doses: tuple[float, ...]
) -> None:
    """Finite differences of the polynomial against the Bernstein bound."""
    forecast = fit_forecast(preparation, bed, DEFAULT, doses)
    random = np.random.default_rng(4)
    place = random.random((len(forecast.least), 3000))
    for variable in range(len(place)):
        moved = place.copy()
        moved[variable] = random.random(3000)
        run = np.abs(moved[variable] - place[variable])
        rise = np.abs(forecast.at(moved) - forecast.at(place))
        assert (rise <= forecast.steepest[:, [variable]] * run + 1e-9).all()
        # and the bound is no wild guess
        small = place.copy()
        small[variable] += 1e-6
        steepest = np.abs(forecast.at(small) - forecast.at(place)).max(axis=1) / 1e-6
        assert (forecast.steepest[:, variable] < 6.0 * steepest + 0.05).all()


@pytest.fixture(scope="module")
def read_and_foretold(known: Known) -> tuple[list[Reading], Glass]:
    """200 random drinks, read with all their uncertainty, and foretold."""
    drinks = random_drinks(known, 260, seed=7)
    forecast = fit_forecast(Stirring(), Bed(), known.priors, (15.0,))
    glass = in_glass(forecast, known.band, contents(drinks), np.full(len(drinks), 15.0))
    kept = np.flatnonzero(glass.foretold)[:200]
    assert len(kept) == 200
    chosen = [drinks[i] for i in kept]
    readings = read_many(chosen, known.band, priors=known.priors, draws=400)
    return readings, in_glass(forecast, known.band, contents(chosen), np.full(200, 15.0))


def contents(drinks: list[Drink]) -> Vector:
    rows = []
    for drink in drinks:
        held = sum(p.volume_ml * masses_per_ml(p.ingredient, 0, 20)[:, 0] for p in drink.pours)
        grams = dict(zip(SPECIES, np.asarray(held).tolist(), strict=True))
        dissolved = grams["sucrose_g"] + grams["acid_g"] + grams["salt_g"]
        most = sum(p.volume_ml * p.ingredient.composition.caffeine_mg_per_l.high / 1000
                   for p in drink.pours)  # fmt: skip
        rows.append([grams["water_g"], grams["ethanol_g"], dissolved, grams["sucrose_g"],
                     grams["acid_g"], grams["salt_g"], grams["qhe_mg"], most, 0.0])  # fmt: skip
    return np.array(rows).T


def test_distances_and_verdicts_agree_with_the_reading(
    read_and_foretold: tuple[list[Reading], Glass],
) -> None:
    """Tolerance: a fiftieth of a standard spread, a tenth of what a palate tells apart."""
    readings, glass = read_and_foretold
    exact = np.array([r.balance_after.distance.mid for r in readings])
    assert np.abs(glass.distance - exact).max() < 0.02
    clear = np.abs(exact) > 0.02
    inside = np.array([r.verdict is Verdict.INSIDE for r in readings])
    assert ((glass.distance <= 0) == inside)[clear].all()
    assert 20 < inside.sum() < 180


def test_strength_and_volume_agree_with_the_reading(
    read_and_foretold: tuple[list[Reading], Glass],
) -> None:
    readings, glass = read_and_foretold
    assert glass.abv == pytest.approx([r.after.abv.mid for r in readings], abs=0.001)
    assert glass.volume_ml == pytest.approx([r.after.volume_ml.mid for r in readings], rel=0.005)


def test_caffeine_is_never_told_too_low(read_and_foretold: tuple[list[Reading], Glass]) -> None:
    """The limit on caffeine holds for the high end; the reading's is the 90th percentile too."""
    readings, glass = read_and_foretold
    high = np.array([r.after.caffeine_mg.high for r in readings])
    assert (glass.caffeine_mg >= 0.97 * high).all()
    assert np.median(glass.caffeine_mg / high) < 1.3


def test_probabilities_agree_with_the_reading_on_average(
    read_and_foretold: tuple[list[Reading], Glass],
) -> None:
    """One line through the readings: no lean, and the scatter that the notes state."""
    readings, glass = read_and_foretold
    miss = glass.balance - np.array([r.balance_after.inside_probability for r in readings])
    assert abs(miss.mean()) < 0.03
    assert np.sqrt((miss**2).mean()) < 0.1


def test_the_probability_falls_with_distance() -> None:
    assert (np.diff(KNOTS) > 0).all()
    assert (np.diff(INSIDE_SHARE) < 0).all()
    assert INSIDE_SHARE[-1] == 0.0


def test_a_drink_too_strong_to_foretell_is_said_to_be(known: Known) -> None:
    forecast: Forecast = fit_forecast(Stirring(), Bed(), DEFAULT, (15.0,))
    neat = np.array([[40.0], [75.0], *[[0.0]] * 7])
    assert not in_glass(forecast, known.band, neat, np.array([15.0])).foretold[0]
