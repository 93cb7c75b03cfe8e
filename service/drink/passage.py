"""From the mixing glass through the coffee: many drinks, many possible bottles and beds, at once.

Arrays are drinks by draws; column 0 of the draws is the usual bottle, hand and bed.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

from service.bed import DEFAULT, Bed, BedPriors, Percolation, percolate
from service.drink.sampling import SPECIES, as_liquid, technique_shares
from service.kit import Interval
from service.liquid import (
    BuiltOnCube,
    Liquid,
    Numbers,
    PreDiluted,
    Preparation,
    Stirring,
    abv,
    density_kg_per_m3,
    heat_capacity_j_per_g_k,
    prepare,
    viscosity_mpa_s,
    volume_ml,
)
from service.taste import value_at

FloatArray = NDArray[np.float64]
IndexArray = NDArray[np.intp]
Kind = TypeVar("Kind", bound=Hashable)

# Two careful stirs of one drink differ by about a tenth in the water they melt and a degree or
# two in temperature (estimates; the wetness of the ice alone moves dilution by 0.05).
MELT_FACTOR: Final = Interval(0.9, 1.0, 1.1)
CELSIUS_OFFSET: Final = Interval(-1.5, 0.0, 1.5)
# The coffee stands at room temperature and warms the drink (estimates; heat capacity of roasted
# coffee; filter and holder left out).
ROOM_CELSIUS: Final = 21.0
COFFEE_J_PER_G_K: Final = 1.6
_ANY_DOSE_G: Final = 15.0
_ANY_SETTING: Final = 1.0
# Some drops always come through; without them there would be nothing to taste.
_MOST_KEPT_SHARE: Final = 0.99
# One drink at a time is remembered; more than a list's worth is reckoned together instead.
_REMEMBERED_AT_ONCE: Final = 64
FLOWS: Final = (
    "retained_ml",
    "paper_water_ml",
    "drain_seconds",
    "solids_g",
    "caffeine_mg",
    "qhe_mg",
    "caffeine_total_mg",
)


@dataclass(frozen=True, slots=True, eq=False)
class Beds:
    """The coffee each drink runs through: its kind, as a place in `kinds`, and its dose [g]."""

    kinds: tuple[Bed | None, ...]
    kind: IndexArray
    dose_g: FloatArray

    @classmethod
    def of(cls, beds: Sequence[Bed | None]) -> Beds:
        """Beds that differ in dose alone count as one kind, and are computed together."""
        alike = [None if bed is None else replace(bed, dose_g=_ANY_DOSE_G) for bed in beds]
        kinds = tuple(dict.fromkeys(alike))
        doses = [0.0 if bed is None else bed.dose_g for bed in beds]
        return cls(kinds, np.array([kinds.index(k) for k in alike], dtype=np.intp), np.array(doses))


@dataclass(frozen=True, slots=True, eq=False)
class Melt:
    """Water a preparation brings and where it leaves the temperature; one entry per drink.

    `by_hand` is 1 where ice is stirred by hand, 0 where the water is measured.
    """

    water_g: FloatArray
    celsius: FloatArray
    by_hand: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Chilled:
    """Drinks out of the mixing glass."""

    liquid: Liquid
    celsius: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Filtered:
    """Drinks in the guest's glass. `flows` is what each bed keeps and gives; zero without one."""

    liquid: Liquid
    celsius: FloatArray
    flows: dict[str, FloatArray]
    kept_share: FloatArray


def dilution_setting(preparation: Preparation) -> str | None:
    """The field that says how much water a preparation brings; None where it brings none."""
    if isinstance(preparation, Stirring | BuiltOnCube):
        return "seconds"
    return "dilution" if isinstance(preparation, PreDiluted) else None


def dilution_of(preparation: Preparation) -> float:
    """Where a preparation's dilution setting stands; 0 where it has none."""
    name = dilution_setting(preparation)
    return 0.0 if name is None else float(getattr(preparation, name))


def diluted(preparation: Preparation, setting: Numbers) -> Preparation:
    """The preparation with its dilution setting changed; as it was where it has none."""
    if isinstance(preparation, PreDiluted):
        return replace(preparation, dilution=setting)
    if isinstance(preparation, Stirring | BuiltOnCube):
        return replace(preparation, seconds=setting)
    return preparation


def chill(
    poured: Liquid,
    preparations: Sequence[Preparation],
    *,
    draws: int,
    seed: int,
) -> Chilled:
    """Drinks with their water; where ice is used, each draw a little more or less of it.

    A bottle 2 % vol stronger melts 2 % more ice, the hand a tenth: so the ice is reckoned for the
    usual bottles only.
    """
    return varied(poured, melt_of(usual_of(poured), preparations), draws=draws, seed=seed)


def melt_of(
    usual: Liquid, preparations: Sequence[Preparation], settings: FloatArray | None = None
) -> Melt:
    """Water gained and final temperature of usual drinks.

    `settings`, where given, stand in for the dilution setting of each drink's preparation.
    """
    by_hand = np.array([float(isinstance(p, Stirring | BuiltOnCube)) for p in preparations])
    if settings is None and len(preparations) <= _REMEMBERED_AT_ONCE:
        masses = zip(*(np.asarray(getattr(usual, s)).tolist() for s in SPECIES), strict=True)
        pairs = [_melt_of_one(*each) for each in zip(masses, preparations, strict=True)]
        water_g, celsius = np.array(pairs).T
        return Melt(water_g, celsius, by_hand)
    if settings is None:
        settings = np.array([dilution_of(preparation) for preparation in preparations])
    water_g, celsius = np.zeros(len(preparations)), np.zeros(len(preparations))
    alike = [diluted(preparation, _ANY_SETTING) for preparation in preparations]
    for preparation, where in grouped(alike):
        ready = prepare(_rows(usual, where), diluted(preparation, settings[where]))
        water_g[where], celsius[where] = ready.melt_g, ready.celsius
    return Melt(water_g, celsius, by_hand)


@lru_cache(maxsize=8192)
def _melt_of_one(masses: tuple[float, ...], preparation: Preparation) -> tuple[float, float]:
    """The ice of one drink. Remembered, because a list shows the same drinks again and again."""
    ready = prepare(as_liquid(masses), preparation)
    return float(ready.melt_g), float(ready.celsius)


def varied(poured: Liquid, melt: Melt, *, draws: int, seed: int) -> Chilled:
    """Drinks with their melt water, the hand varying from draw to draw."""
    share = technique_shares(draws, seed)
    by_hand = melt.by_hand[:, None]
    factor = 1.0 + by_hand * (value_at(MELT_FACTOR, share) - 1.0)
    degrees = melt.celsius[:, None] + by_hand * value_at(CELSIUS_OFFSET, 1.0 - share)
    return Chilled(poured.watered(melt.water_g[:, None] * factor), np.asarray(degrees))


def filter_through(
    chilled: Chilled, beds: Beds, *, seed: int, priors: BedPriors = DEFAULT
) -> Filtered:
    """The same drinks after the coffee; those without one are left as they are."""
    usual = usual_of(chilled.liquid)
    flows, bed_j_per_k = _flows(usual, chilled.celsius, beds, seed, priors)
    share = flows["retained_ml"] / np.asarray(volume_ml(usual))[:, None]
    share = np.minimum(share, _MOST_KEPT_SHARE)
    liquid = chilled.liquid.scaled(1.0 - share) + Liquid(
        water_g=flows["paper_water_ml"],
        qhe_mg=flows["qhe_mg"],
        caffeine_mg=flows["caffeine_mg"],
        coffee_solids_g=flows["solids_g"],
    )
    celsius = _warmed(usual, chilled.celsius, bed_j_per_k)
    return Filtered(liquid, celsius, flows, share)


def usual_of(liquid: Liquid) -> Liquid:
    """The liquids of the usual bottles: column 0 of every field."""
    return _each(liquid, lambda value: value[..., 0])


def grouped(kinds: Sequence[Kind]) -> Iterator[tuple[Kind, IndexArray]]:
    """Each different kind with the places where it stands."""
    places: dict[Kind, list[int]] = {}
    for place, kind in enumerate(kinds):
        places.setdefault(kind, []).append(place)
    for kind, where in places.items():
        yield kind, np.array(where, dtype=np.intp)


def _flows(
    usual: Liquid, celsius: FloatArray, beds: Beds, seed: int, priors: BedPriors
) -> tuple[dict[str, FloatArray], FloatArray]:
    flows: dict[str, FloatArray] = {}
    draws = celsius.shape[-1] - 1
    for place, bed in enumerate(beds.kinds):
        where = np.flatnonzero(beds.kind == place)
        if bed is None or not where.size:
            continue
        liquid, cold = _rows(usual, where), celsius[where, 0]
        percolation = percolate(
            bed,
            volume_ml=np.asarray(volume_ml(liquid)),
            density_kg_per_m3=np.asarray(density_kg_per_m3(liquid, cold)),
            viscosity_mpa_s=np.asarray(viscosity_mpa_s(liquid, cold)),
            abv=np.asarray(abv(liquid)),
            celsius=cold,
            dose_g=beds.dose_g[where],
            priors=priors,
            draws=max(draws, 1),
            seed=seed,
        )
        _place(flows, percolation, where, celsius.shape)
    if not flows:
        flows = {name: np.zeros(celsius.shape) for name in FLOWS}
    return flows, COFFEE_J_PER_G_K * beds.dose_g


def _place(
    flows: dict[str, FloatArray],
    percolation: Percolation,
    where: IndexArray,
    shape: tuple[int, ...],
) -> None:
    """Write what one kind of bed does into the rows of its drinks, the usual bed first."""
    for name in FLOWS:
        rows = flows.setdefault(name, np.zeros(shape))
        rows[where, 0] = getattr(percolation.central, name)
        rows[where, 1:] = getattr(percolation, name)[:, : shape[-1] - 1]


def _warmed(usual: Liquid, celsius: FloatArray, bed_j_per_k: FloatArray) -> FloatArray:
    capacity = heat_capacity_j_per_g_k(usual, celsius[:, 0])
    toward_room = bed_j_per_k / (bed_j_per_k + np.asarray(usual.mass_g * capacity))
    return np.asarray(celsius + toward_room[:, None] * (ROOM_CELSIUS - celsius))


def _rows(liquid: Liquid, where: IndexArray) -> Liquid:
    if where.size == 1:  # plain numbers are ten times faster than arrays of one
        return _each(liquid, lambda value: value[where[0]].item())
    return _each(liquid, lambda value: value[where])


def _each(liquid: Liquid, change: Callable[[FloatArray], Numbers]) -> Liquid:
    values = {field.name: getattr(liquid, field.name) for field in fields(liquid)}
    return Liquid(**{n: change(v) if isinstance(v, np.ndarray) else v for n, v in values.items()})
