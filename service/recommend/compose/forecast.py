"""What becomes of any drink after ice and coffee, as a smooth function of what is poured.

Stirring and the bed are worked out exactly for some hundreds of drinks, and a polynomial is laid
through them: five numbers as functions of strength, sweetness, mass and coffee dose. With it
a drink is foretold in a tenth of a microsecond, and how far a number can move over a range of
drinks is bounded without doubt, by the Bernstein form of the polynomial's slopes. The difference
to the exact passage is below a thousandth, and tested.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import comb
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed import Bed, BedPriors
from service.drink.passage import Beds, Filtered, chill, filter_through
from service.drink.sampling import SPECIES, as_liquid
from service.liquid import BuiltOnCube, Stirring, volume_ml
from service.recommend.compose.problem import Limits

Vector = NDArray[np.float64]

# The drinks that can be foretold: ethanol per spirit, dissolved per syrup (the drink without its
# ethanol), both g/g, and ln of the mass in grams. Only water makes the first two fall.
LEAST: Final = np.array([0.14, 0.0, np.log(45.0)])
MOST: Final = np.array([0.56, 0.42, np.log(135.0)])
DEGREE: Final = 4
_NODES: Final = 1500
_SEED: Final = 20
_CAUTIOUS_NODES: Final = 24
_CAUTIOUS_DRAWS: Final = 400
_CAUTIOUS_SHARE: Final = 0.9
# Rows of the polynomial: what the glass holds of each poured gram, times the drink's mass; coffee
# bitterness per mL; volume in the glass per gram poured; caffeine from the coffee; these as ln.
# Then the temperature in the glass.
HELD, COFFEE_QHE, VOLUME, CAFFEINE, CELSIUS = range(5)
# Below this, taste no longer depends on temperature (Green & Nachtigal 2015, as in `perceive`).
STEADY_BELOW_CELSIUS: Final = 5.0
_CHUNK: Final = 4096


@dataclass(frozen=True, slots=True, eq=False)
class Forecast:
    """The polynomial over the unit cube of (strength, syrup, ln mass, dose).

    terms : (n, 2) term i is term `terms[i, 0]` times variable `terms[i, 1]`
    coefficients : (5, n)
    steepest : (4, variables) largest slope of each row along each variable, anywhere
    warmest : highest temperature in the glass over all nodes [°C]
    cautious : what the coffee's caffeine may be times its middle (90th percentile, worst node)
    """

    least: Vector
    most: Vector
    terms: NDArray[np.intp]
    coefficients: Vector
    steepest: Vector
    warmest: float
    cautious: float

    def place_of(
        self,
        ethanol_g: Vector,
        water_g: Vector,
        dissolved_g: Vector,
        mass_g: Vector,
        dose_g: Vector,
    ) -> Vector:
        """Where drinks lie in the unit cube; (variables, drinks).

        The mass is given beside its parts because the corner of a range that has the least
        strength does not have the least mass.
        """
        place = np.empty((len(self.least), len(mass_g)))
        np.divide(ethanol_g, ethanol_g + water_g, out=place[0])
        np.divide(dissolved_g, dissolved_g + water_g, out=place[1])
        np.log(mass_g, out=place[2])
        if len(place) == 4:
            place[3] = dose_g
        place -= self.least[:, None]
        place /= (self.most - self.least)[:, None]
        return place

    @property
    def steady(self) -> bool:
        """Whether every drink is so cold that its exact temperature changes no taste."""
        return self.warmest <= STEADY_BELOW_CELSIUS

    def rows_needed(self, limits: Limits) -> int:
        """How many of the rows, in order, a problem with such limits must know."""
        if not self.steady:
            return CELSIUS + 1
        return VOLUME + 1 if limits.most_caffeine_mg is None else CAFFEINE + 1

    def at(self, place: Vector, rows: int = CELSIUS + 1) -> Vector:
        """The first rows of the polynomial at places of the unit cube; (rows, drinks)."""
        coefficients = self.coefficients[:rows]
        found = np.empty((rows, place.shape[1]))
        for start in range(0, place.shape[1], _CHUNK):
            part = slice(start, start + _CHUNK)
            np.matmul(coefficients, _basis(self.terms, place[:, part]), out=found[:, part])
        return found


@lru_cache(maxsize=32)
def fit_forecast(
    preparation: Stirring | BuiltOnCube, bed: Bed, priors: BedPriors, doses_g: tuple[float, ...]
) -> Forecast:
    """The forecast for one way of chilling and one coffee, over a range of doses."""
    free = max(doses_g) > min(doses_g)
    least = np.append(LEAST, min(doses_g)) if free else LEAST
    most = np.append(MOST, max(doses_g)) if free else MOST
    unit = _nodes(len(least))
    at = least + unit * (most - least)
    dose_g = at[:, 3] if free else np.full(len(at), float(doses_g[0]))
    exact = exact_passage(at, dose_g, preparation, bed, priors)
    terms = _terms(len(least))
    basis = _basis(terms, unit.T)
    coefficients = np.asarray(np.linalg.lstsq(basis.T, exact.T, rcond=None)[0].T, np.float64)
    return Forecast(
        least=least,
        most=most,
        terms=terms,
        coefficients=coefficients,
        steepest=_steepest(terms, coefficients, len(least)),
        warmest=float(exact[CELSIUS].max()),
        cautious=_cautious(at[:_CAUTIOUS_NODES], dose_g[:_CAUTIOUS_NODES], preparation, bed,
                           priors),
    )  # fmt: skip


def exact_passage(
    at: Vector, dose_g: Vector, preparation: Stirring | BuiltOnCube, bed: Bed, priors: BedPriors
) -> Vector:
    glass = _passed(at, dose_g, preparation, bed, priors, draws=0)
    volume = np.asarray(volume_ml(glass.liquid))[:, 0]
    mass = np.exp(at[:, 2])
    held = (1.0 - glass.kept_share[:, 0]) * mass / volume
    qhe = glass.flows["qhe_mg"][:, 0] / volume
    caffeine = np.maximum(glass.flows["caffeine_mg"][:, 0], 1e-9)
    celsius = glass.celsius[:, :1].T
    return np.concatenate([np.log(np.stack([held, qhe, volume / mass, caffeine])), celsius])


def _passed(
    at: Vector,
    dose_g: Vector,
    preparation: Stirring | BuiltOnCube,
    bed: Bed,
    priors: BedPriors,
    draws: int,
) -> Filtered:
    strength, syrup, mass = at[:, 0], at[:, 1], np.exp(at[:, 2])
    # Per gram of water: ethanol a / (1 - a), dissolved s / (1 - s).
    per_water = np.stack([np.ones(len(at)), strength / (1.0 - strength), syrup / (1.0 - syrup)])
    grams = np.zeros((len(SPECIES), len(at), draws + 1))
    grams[:3] = (per_water * mass / per_water.sum(axis=0))[..., None]
    chilled = chill(as_liquid(grams), [preparation] * len(at), draws=draws, seed=_SEED)
    beds = Beds((bed,), np.zeros(len(at), dtype=np.intp), dose_g)
    return filter_through(chilled, beds, seed=_SEED, priors=priors)


def _cautious(
    at: Vector, dose_g: Vector, preparation: Stirring | BuiltOnCube, bed: Bed, priors: BedPriors
) -> float:
    glass = _passed(at, dose_g, preparation, bed, priors, draws=_CAUTIOUS_DRAWS)
    caffeine = glass.flows["caffeine_mg"]
    high = np.quantile(caffeine[:, 1:], _CAUTIOUS_SHARE, axis=1)
    return float((high / np.maximum(caffeine[:, 0], 1e-9)).max())


def _nodes(variables: int) -> Vector:
    """Drinks to work out exactly: denser towards the limits, where polynomials stray."""
    spread = np.random.default_rng(_SEED).random((_NODES, variables))
    return np.asarray(0.5 - 0.5 * np.cos(np.pi * spread))


def _terms(variables: int) -> NDArray[np.intp]:
    """Each term of the polynomial as an earlier term times one variable; term 0 is 1."""
    powers = [p for p in product(range(DEGREE + 1), repeat=variables) if sum(p) <= DEGREE]
    powers.sort(key=lambda p: (sum(p), p))
    place = {p: i for i, p in enumerate(powers)}
    rows = [(0, 0)]
    for power in powers[1:]:
        variable = next(v for v in range(variables) if power[v])
        before = tuple(n - (v == variable) for v, n in enumerate(power))
        rows.append((place[before], variable))
    return np.array(rows, dtype=np.intp)


def _basis(terms: NDArray[np.intp], place: Vector) -> Vector:
    basis = np.empty((len(terms), place.shape[1]))
    basis[0] = 1.0
    for i, (before, variable) in enumerate(terms[1:].tolist(), start=1):
        np.multiply(basis[before], place[variable], out=basis[i])
    return basis


def _steepest(terms: NDArray[np.intp], coefficients: Vector, variables: int) -> Vector:
    """Bound on |slope| over the whole cube, by the Bernstein coefficients of the derivative."""
    powers = np.zeros((len(terms), variables), dtype=np.intp)
    for i, (before, variable) in enumerate(terms[1:].tolist(), start=1):
        powers[i] = powers[before]
        powers[i, variable] += 1
    found = np.empty((len(coefficients), variables))
    for row, weights in enumerate(coefficients):
        for variable in range(variables):
            slope = np.zeros((DEGREE + 1,) * variables)
            for power, weight in zip(powers.tolist(), weights.tolist(), strict=True):
                if power[variable]:
                    lower = tuple(n - (v == variable) for v, n in enumerate(power))
                    slope[lower] += weight * power[variable]
            found[row, variable] = np.abs(_bernstein(slope)).max()
    return found


def _bernstein(power_form: Vector) -> Vector:
    """Bernstein coefficients on the unit cube (Farouki 2012, Comput. Aided Geom. Des. 29:379)."""
    n = DEGREE
    change = np.array([[comb(k, i) / comb(n, i) if i <= k else 0.0 for i in range(n + 1)]
                       for k in range(n + 1)])  # fmt: skip
    found = power_form
    for axis in range(power_form.ndim):
        found = np.moveaxis(np.tensordot(change, found, axes=(1, axis)), 0, axis)
    return found
