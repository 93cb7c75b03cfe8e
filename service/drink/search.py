"""How far each knob must be turned: every setting of all knobs of all drinks in one forecast.

A knob has the settings that a bar can pour or weigh, so all of them are looked at, on both sides of
where it stands. In the forecast the ice is reckoned at three settings of each knob and drawn
through them as a parabola, because it changes smoothly; those that may do are then read again with
their own ice, the nearest first. Grinds and seconds of stirring are all read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed import DEFAULT, BedPriors
from service.drink.levers import Knob, Lever, turned
from service.drink.parts import Drink
from service.drink.passage import (
    Beds,
    Melt,
    chill,
    dilution_of,
    filter_through,
    melt_of,
    varied,
)
from service.drink.sampling import SPECIES, as_liquid, drink_masses, masses_per_ml
from service.drink.state import amounts_of
from service.taste import Band, judge

FloatArray = NDArray[np.float64]

# As far outside as this [standard spreads] the forecast may be wrong about it (estimate; the tests
# hold it against every setting read again).
_UNSURE: Final = 0.05
# How many of those it is wrong about are read again, and how many of those it calls inside.
_MOST_UNSURE, _MOST_INSIDE = 2, 5
_HARDLY: Final = 1e-9
# Nearer to an end than this share of the range counts as standing at the end.
_NO_END: Final = 0.05
_TINY: Final = 1e-12


@dataclass(frozen=True, slots=True)
class Found:
    """The setting that brings a drink inside, or nearest to it [standard spreads]."""

    knob: Knob
    value: float
    distance: float

    @property
    def reaches(self) -> bool:
        return self.distance <= 0.0


@dataclass(frozen=True, slots=True)
class _Forecast:
    """Of one knob: settings to read again at first, others should none of them do."""

    first: list[float]
    then: list[float]


@dataclass(frozen=True, slots=True, eq=False)
class _Bench:
    """What stays the same while knobs are turned; one row per knob."""

    band: Band
    seed: int
    priors: BedPriors
    now: FloatArray
    masses: FloatArray
    masses_per_unit: FloatArray
    dose_per_unit: FloatArray
    beds: Beds
    settings: FloatArray
    melt: Melt


def distances_of(
    drinks: Sequence[Drink], band: Band, *, seed: int, priors: BedPriors = DEFAULT
) -> FloatArray:
    """Distance of each drink in the guest's glass from the band's inside, usual bottles."""
    poured = as_liquid(drink_masses(drinks, 0, seed))
    chilled = chill(poured, [d.preparation for d in drinks], draws=0, seed=seed)
    beds = Beds.of([drink.bed for drink in drinks])
    glass = filter_through(chilled, beds, seed=seed, priors=priors)
    return np.asarray(
        judge(band, amounts_of((glass.liquid, glass.celsius)).tasted()).distance[:, 0]
    )


def smallest_changes(
    drinks: Sequence[Drink],
    knobs: Sequence[Knob],
    band: Band,
    *,
    seed: int,
    priors: BedPriors = DEFAULT,
) -> list[Found]:
    """For every knob the setting nearest to where it stands that brings its drink inside.

    Every distance is that of the drink read again. Where no setting of a knob reaches the inside,
    the best there is.
    """
    smooth = [knob for knob in knobs if not _is_read_in_full(knob)]
    found = _all_read(drinks, [k for k in knobs if _is_read_in_full(k)], band, seed, priors)
    if smooth:
        bench = _bench(drinks, smooth, band, seed, priors)
        found |= _verified(drinks, smooth, _forecast(bench, smooth), band, seed, priors)
    return [found[knob] for knob in knobs]


def _is_read_in_full(knob: Knob) -> bool:
    """Grind goes by trade words, and stirring levels off too fast for a parabola."""
    return knob.lever is Lever.GRIND or (knob.lever is Lever.DILUTION and knob.unit == "s")


def _bench(
    drinks: Sequence[Drink], knobs: Sequence[Knob], band: Band, seed: int, priors: BedPriors
) -> _Bench:
    row = np.array([knob.row for knob in knobs], dtype=np.intp)
    now = np.array([knob.now for knob in knobs])
    masses = drink_masses(drinks, 0, seed)[..., 0].T[row]
    per_unit = np.array([_masses_per_unit(knob, seed) for knob in knobs])
    settings = np.array([[knob.low, _middle_setting(knob), knob.high] for knob in knobs])
    beds = Beds.of([drink.bed for drink in drinks])
    return _Bench(
        band=band,
        seed=seed,
        priors=priors,
        now=now,
        masses=masses,
        masses_per_unit=per_unit,
        dose_per_unit=np.array([float(k.lever is Lever.COFFEE) for k in knobs]),
        beds=Beds(beds.kinds, beds.kind[row], beds.dose_g[row]),
        settings=settings,
        melt=_melt_at(drinks, knobs, settings, _turned_masses(masses, per_unit, settings, now)),
    )


def _middle_setting(knob: Knob) -> float:
    """Where the knob stands, so that the ice is right there; the middle if that is an end."""
    share = (knob.now - knob.low) / max(knob.high - knob.low, _TINY)
    return knob.now if _NO_END < share < 1.0 - _NO_END else 0.5 * (knob.low + knob.high)


def _melt_at(
    drinks: Sequence[Drink], knobs: Sequence[Knob], settings: FloatArray, masses: FloatArray
) -> Melt:
    """The ice at three settings of each knob, as arrays of knobs by settings."""
    preparations = [drinks[knob.row].preparation for knob in knobs for _ in range(3)]
    stands = np.array([dilution_of(drinks[knob.row].preparation) for knob in knobs])
    turns = np.array([knob.lever is Lever.DILUTION for knob in knobs])
    dilution = np.where(turns[:, None], settings, stands[:, None])
    flat = masses.reshape(-1, len(SPECIES)).T
    melt = melt_of(as_liquid(flat), preparations, dilution.ravel())
    shape = settings.shape
    return Melt(*(part.reshape(shape) for part in (melt.water_g, melt.celsius, melt.by_hand)))


def _distances(bench: _Bench, values: FloatArray) -> FloatArray:
    """Distance from the inside for each knob (rows) at each of its settings (columns)."""
    masses = _turned_masses(bench.masses, bench.masses_per_unit, values, bench.now)
    turned_by = values - bench.now[:, None]
    dose_g = bench.beds.dose_g[:, None] + turned_by * bench.dose_per_unit[:, None]
    kind = np.broadcast_to(bench.beds.kind[:, None], values.shape)
    melt = Melt(
        np.maximum(_parabola(bench.settings, bench.melt.water_g, values), 0.0).ravel(),
        _parabola(bench.settings, bench.melt.celsius, values).ravel(),
        np.zeros(values.size),
    )
    poured = as_liquid(masses.reshape(-1, len(SPECIES)).T[..., None])
    chilled = varied(poured, melt, draws=0, seed=bench.seed)
    beds = Beds(bench.beds.kinds, kind.ravel(), dose_g.ravel())
    glass = filter_through(chilled, beds, seed=bench.seed, priors=bench.priors)
    percept = amounts_of((glass.liquid, glass.celsius)).tasted()
    return np.asarray(judge(bench.band, percept).distance.reshape(values.shape))


def _looked_at(knobs: Sequence[Knob]) -> FloatArray:
    """The settings of each knob, the nearest to where it stands first.

    Rows of fewer settings are filled up with where the knob stands, which is no change.
    """
    ordered = [_nearest_first(knob) for knob in knobs]
    most = max(len(each) for each in ordered)
    rows = [[*each, *[k.now] * (most - len(each))] for k, each in zip(knobs, ordered, strict=True)]
    return np.array(rows).reshape(len(knobs), most)


def _nearest_first(knob: Knob) -> list[float]:
    return sorted(knob.settings, key=lambda value: abs(value - knob.now))


def _forecast(bench: _Bench, knobs: Sequence[Knob]) -> list[_Forecast]:
    """For every knob which settings are to be read again."""
    values = _looked_at(knobs)
    distances = _distances(bench, np.column_stack([bench.now, values]))
    forecasts = []
    for knob, row, here, now in zip(knobs, values, distances[:, 1:], distances[:, 0], strict=True):
        changed = np.abs(row - knob.now) > _HARDLY * max(abs(knob.now), 1.0)
        inside = row[(here <= 0.0) & changed]
        turned_by = np.abs(row - knob.now)
        nearer = turned_by < (np.abs(inside[0] - knob.now) if inside.size else np.inf)
        unsure = np.flatnonzero((here > 0.0) & (here <= _UNSURE) & changed & nearer)
        likely = row[unsure[np.argsort(here[unsure], kind="stable")][:_MOST_UNSURE]]
        best = row[here.argmin()] if here.size and here.min() < now else knob.now
        first = [*likely.tolist(), *inside[:1].tolist(), float(best)]
        forecasts.append(_Forecast(first, inside[1:_MOST_INSIDE].tolist()))
    return forecasts


def _verified(
    drinks: Sequence[Drink],
    knobs: Sequence[Knob],
    forecasts: Sequence[_Forecast],
    band: Band,
    seed: int,
    priors: BedPriors,
) -> dict[Knob, Found]:
    """The nearest setting that is inside when the drink is read again, a few at a time.

    The ice in the forecast was drawn through three settings, so that a setting near the border may
    turn out to be on the other side of it.
    """
    found_at: dict[int, Found] = {}
    left = list(range(len(knobs)))
    for tried in ([one.first for one in forecasts], [one.then for one in forecasts]):
        pairs = [(i, value) for i in left for value in tried[i]]
        again = [turned(drinks[knobs[i].row], knobs[i], value) for i, value in pairs]
        distances = distances_of(again, band, seed=seed, priors=priors).tolist() if again else []
        for (i, value), distance in zip(pairs, distances, strict=True):
            this = Found(knobs[i], value, distance)
            if i not in found_at or _rank(this) < _rank(found_at[i]):
                found_at[i] = this
        left = [i for i in left if not found_at[i].reaches]
        if not left:
            break
    return {knobs[i]: one for i, one in found_at.items()}


def _all_read(
    drinks: Sequence[Drink], knobs: Sequence[Knob], band: Band, seed: int, priors: BedPriors
) -> dict[Knob, Found]:
    """All settings are read in full, the nearest that is inside is taken."""
    pairs = [(knob, value) for knob in knobs for value in knob.settings]
    if not pairs:
        return {}
    again = [turned(drinks[knob.row], knob, value) for knob, value in pairs]
    distances = distances_of(again, band, seed=seed, priors=priors).tolist()
    found: dict[Knob, Found] = {}
    for (knob, value), distance in zip(pairs, distances, strict=True):
        this = Found(knob, value, distance)
        if knob not in found or _rank(this) < _rank(found[knob]):
            found[knob] = this
    return found


def _rank(found: Found) -> tuple[bool, float]:
    """Inside first, then by how far it is turned; outside by how near it comes."""
    knob, value = found.knob, found.value
    grind = knob.lever is Lever.GRIND
    turned_by = abs(float(np.log(value / knob.now)) if grind else value - knob.now)
    return (not found.reaches, turned_by if found.reaches else found.distance)


def _turned_masses(
    masses: FloatArray, per_unit: FloatArray, values: FloatArray, now: FloatArray
) -> FloatArray:
    turned_by = (values - now[:, None])[..., None]
    return np.maximum(masses[:, None] + turned_by * per_unit[:, None], 0.0)


def _masses_per_unit(knob: Knob, seed: int) -> FloatArray:
    if knob.ingredient is None:
        return np.zeros(len(SPECIES))
    return masses_per_ml(knob.ingredient, 0, seed)[:, 0]


def _parabola(at: FloatArray, heights: FloatArray, values: FloatArray) -> FloatArray:
    """Through three points of each row (Lagrange), at the row's values."""
    a, b, c = (at[:, [i]] for i in range(3))
    wide = c - a > _TINY
    ab, ac, bc = (np.where(wide, end - start, 1.0) for start, end in ((a, b), (a, c), (b, c)))
    u, v, w = (heights[:, [i]] for i in range(3))
    curve = (
        u * (values - b) * (values - c) / (ab * ac)
        - v * (values - a) * (values - c) / (ab * bc)
        + w * (values - a) * (values - b) / (ac * bc)
    )
    return np.asarray(np.where(wide, curve, v))
