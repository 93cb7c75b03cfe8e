"""What arrives in the glass, for thousands of drinks at once: the one function all search uses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from service.liquid.strength import ETHANOL_G_PER_ML
from service.recommend.compose.chance import inside_probability
from service.recommend.compose.forecast import CAFFEINE as FROM_COFFEE
from service.recommend.compose.forecast import CELSIUS, COFFEE_QHE, HELD, VOLUME, Forecast
from service.recommend.compose.problem import Limits
from service.recommend.compose.rack import (
    ACID,
    CAFFEINE,
    COST,
    DISSOLVED,
    ETHANOL,
    QHE,
    SALT,
    SUGAR,
    WATER,
    Mask,
    Vector,
)
from service.recommend.compose.weights import ComposeWeights
from service.taste import Band, judge, perceive


@dataclass(frozen=True, slots=True, eq=False)
class Glass:
    """Drinks in the guest's glass, one entry each.

    `foretold` is False where a drink lies outside what the forecast is made for.
    """

    distance: Vector
    balance: Vector
    abv: Vector
    volume_ml: Vector
    caffeine_mg: Vector
    cost: Vector
    foretold: Mask


def in_glass(forecast: Forecast, band: Band, contents: Vector, dose_g: Vector) -> Glass:
    """What drinks are after ice and coffee; `contents` (9, drinks) is what was poured."""
    water, ethanol, dissolved = contents[WATER], contents[ETHANOL], contents[DISSOLVED]
    mass = water + ethanol + dissolved
    place = forecast.place_of(ethanol, water, dissolved, mass, dose_g)
    found = forecast.at(place)
    celsius = forecast.warmest if forecast.steady else found[CELSIUS].copy()
    np.exp(found, out=found)
    per_ml = found[HELD] / mass
    volume = found[VOLUME] * mass
    per_litre = 1000.0 * per_ml
    abv = ethanol * per_ml / ETHANOL_G_PER_ML
    percept = perceive(
        sugar_g_per_l=contents[SUGAR] * per_litre,
        qhe_mg_per_l=contents[QHE] * per_litre + 1000.0 * found[COFFEE_QHE],
        acid_g_per_l=contents[ACID] * per_litre,
        salt_g_per_l=contents[SALT] * per_litre,
        abv=abv,
        celsius=celsius,
    )
    distance = judge(band, percept).distance
    return Glass(
        distance=distance,
        balance=inside_probability(distance),
        abv=abv,
        volume_ml=volume,
        caffeine_mg=contents[CAFFEINE] * per_ml * volume + forecast.cautious * found[FROM_COFFEE],
        cost=contents[COST],
        foretold=np.asarray(((place >= 0.0) & (place <= 1.0)).all(axis=0)),
    )


def worth(glass: Glass, limits: Limits, weights: ComposeWeights) -> Vector:
    """The part of the score that amounts decide; minus infinity where a limit is not kept."""
    kept = (
        glass.foretold
        & (glass.abv >= limits.least_abv)
        & (glass.abv <= limits.most_abv)
        & (glass.volume_ml >= limits.least_glass_ml)
        & (glass.volume_ml <= limits.most_glass_ml)
    )
    if limits.least_balance > 0.0:
        kept &= glass.balance >= limits.least_balance
    if limits.most_caffeine_mg is not None:
        kept &= glass.caffeine_mg <= limits.most_caffeine_mg
    if limits.most_cost is not None:
        kept &= glass.cost <= limits.most_cost
    amount = weights.balance * glass.balance - weights.price * glass.cost
    return np.where(kept, amount, -np.inf)
