"""How far each knob must be turned: one bracketed root search for all knobs of all drinks at once.

A knob is looked at over its whole sensible range, on both sides of where it stands. Where the
distance to the band's inside first changes sign, the bracket is cut down round after round. While
searching, the ice is reckoned at three settings of each knob and drawn through them as a parabola,
because it changes smoothly; what is found is then read again with its own ice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed import DEFAULT, GRIND_UM, BedPriors
from service.drink.levers import GRINDS, Knob, Lever, turned
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
BoolArray = NDArray[np.bool_]

# Looked at first, as shares of the way to either limit: dense where a small change may do.
_SHARES: Final = np.array([0.0, 0.03, 0.07, 0.15, 0.3, 0.5, 0.75, 1.0])
_CUTS: Final = np.linspace(0.0, 1.0, 8)
_ROUNDS: Final = 2
_STEPS_TRIED: Final = ((-1, 0), (1, 2))
# Nearer to an end than this share of the range counts as standing at the end.
_NO_END: Final = 0.05
_TINY: Final = 1e-12


@dataclass(frozen=True, slots=True)
class Found:
    """The setting that brings a drink just inside, or nearest to it [standard spreads]."""

    knob: Knob
    value: float
    distance: float

    @property
    def reaches(self) -> bool:
        return self.distance <= 0.0


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

    Settings are in steps of the bar's measures, and every distance is that of the drink read
    again. Where none reaches the inside, the best setting there is.
    """
    smooth = [knob for knob in knobs if knob.lever is not Lever.GRIND]
    found: dict[Knob, Found] = {}
    if smooth:
        bench = _bench(drinks, smooth, band, seed, priors)
        wanted, reaches = _nearest_inside(bench, smooth)
        found |= _verified(drinks, smooth, wanted, reaches, band, seed, priors)
    found |= _grinds(drinks, [k for k in knobs if k.lever is Lever.GRIND], band, seed, priors)
    return [found[knob] for knob in knobs]


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


def _nearest_inside(bench: _Bench, knobs: Sequence[Knob]) -> tuple[FloatArray, BoolArray]:
    """The setting just inside, nearest to where each knob stands; else the best one seen."""
    ends = np.array([[getattr(knob, end) for knob in knobs] for end in ("low", "high")])
    now = bench.now[:, None]
    seen = now + _SHARES * (ends[..., None] - now)
    distances = np.stack([_distances(bench, side) for side in seen])
    inside = distances <= 0.0
    first = np.argmax(inside, axis=-1)
    turned_by = np.take_along_axis(np.abs(seen - now), first[..., None], axis=-1)[..., 0]
    turned_by[~inside.any(axis=-1)] = np.inf
    side, rows = np.argmin(turned_by, axis=0), np.arange(len(knobs))
    at = first[side, rows]
    outer, inner = seen[side, rows, np.maximum(at - 1, 0)], seen[side, rows, at]
    for _ in range(_ROUNDS):
        outer, inner = _cut(bench, outer, inner)
    best = np.moveaxis(distances, 1, 0).reshape(len(knobs), -1).argmin(axis=-1)
    best_seen = np.moveaxis(seen, 1, 0).reshape(len(knobs), -1)[rows, best]
    reaches = np.isfinite(turned_by.min(axis=0))
    return np.where(reaches, inner, best_seen), reaches


def _cut(bench: _Bench, outer: FloatArray, inner: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A seventh of each bracket: its last setting outside and its first inside."""
    values = outer[:, None] + _CUTS * (inner - outer)[:, None]
    first = np.maximum(np.argmax(_distances(bench, values) <= 0.0, axis=-1), 1)
    rows = np.arange(len(outer))
    return values[rows, first - 1], values[rows, first]


def _verified(
    drinks: Sequence[Drink],
    knobs: Sequence[Knob],
    wanted: FloatArray,
    reaches: BoolArray,
    band: Band,
    seed: int,
    priors: BedPriors,
) -> dict[Knob, Found]:
    """Settings in the bar's steps, the drinks read again: first one step less, then more.

    The ice in the search was drawn through three settings; a step to either side makes it good.
    """
    found_at: dict[int, Found] = {}
    left = list(range(len(knobs)))
    for tried in _STEPS_TRIED:
        pairs = [(i, _in_steps(knobs[i], float(wanted[i]), step)) for i in left for step in tried]
        again = [turned(drinks[knobs[i].row], knobs[i], value) for i, value in pairs]
        distances = distances_of(again, band, seed=seed, priors=priors).tolist()
        for (i, value), distance in zip(pairs, distances, strict=True):
            this = Found(knobs[i], value, distance)
            best = found_at.get(i)
            if best is None or (not best.reaches and this.distance < best.distance):
                found_at[i] = this
        left = [i for i in left if reaches[i] and not found_at[i].reaches]
        if not left:
            break
    return {knobs[i]: one for i, one in found_at.items()}


def _grinds(
    drinks: Sequence[Drink], knobs: Sequence[Knob], band: Band, seed: int, priors: BedPriors
) -> dict[Knob, Found]:
    """Grind goes by trade words: all of them are read, the nearest that is inside is taken."""
    settings = [(knob, GRIND_UM[word].mid) for knob in knobs for word in GRINDS]
    if not settings:
        return {}
    again = [turned(drinks[knob.row], knob, size) for knob, size in settings]
    distances = distances_of(again, band, seed=seed, priors=priors).tolist()
    found: dict[Knob, Found] = {}
    for (knob, size), distance in zip(settings, distances, strict=True):
        this = Found(knob, size, distance)
        if knob not in found or _rank(this) < _rank(found[knob]):
            found[knob] = this
    return found


def _rank(found: Found) -> tuple[bool, float]:
    """Inside first, then by how little is changed; outside by how near it comes."""
    change = abs(np.log(found.value / found.knob.now))
    return (not found.reaches, float(change) if found.reaches else found.distance)


def _in_steps(knob: Knob, value: float, further: int) -> float:
    """The setting in whole steps from where the knob stands, rounded away from there."""
    turned_by = value - knob.now
    steps = max(np.ceil(abs(turned_by) / knob.step - 1e-9) + further, 0.0)
    stepped = knob.now + float(np.copysign(steps * knob.step, turned_by))
    return min(max(stepped, knob.low), knob.high)


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
