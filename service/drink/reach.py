"""Backwards: from the glass that is wanted to the stir, the water or the pours that make it.

Everything here is of the usual bottles, a usual hand and a usual bed, as the middle of a reading.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

import numpy as np

from service.bed import DEFAULT, BedPriors
from service.drink.parts import Drink, Pour
from service.drink.passage import Beds, chill, filter_through
from service.drink.sampling import DEFAULT_SEED, as_liquid, drink_masses
from service.kit import BadData, OutOfRange, find_root
from service.liquid import BuiltOnCube, PreDiluted, Preparation, Stirring, Unchilled, abv, volume_ml

# Weaker is no drink with alcohol, stronger no bottle. The glass takes what a bed takes.
LEAST_ABV, MOST_ABV = 0.01, 0.95
LEAST_GLASS_ML, MOST_GLASS_ML = 1.0, 20_000.0
LONGEST_STIR_S: Final = 900.0
MOST_WATER: Final = 3.0  # mL per mL of drink: what `PreDiluted` takes
# For a strength, beyond half and twice of everything it is another serve (estimate); for a volume
# any size will do.
LEAST_TIMES, MOST_TIMES = 0.5, 2.0
_STRETCH: Final = 1.5
_STRETCHES: Final = 24
_COLD_STEP: Final = 0.02  # mL/mL; a few degrees of cold move the water far less


class Way(StrEnum):
    """One way to the glass that is wanted."""

    STIRRING = "stirring"
    WATER = "water"
    AMOUNTS = "amounts"


@dataclass(frozen=True, slots=True)
class Target:
    """What the guest's glass shall be: a strength [fraction at 20 °C], a volume [mL], or both."""

    abv: float | None = None
    volume_ml: float | None = None

    def __post_init__(self) -> None:
        if self.abv is None and self.volume_ml is None:
            raise BadData(
                "say what the glass shall be: a strength, a volume, or both", field="abv_percent"
            )
        if self.abv is not None and not LEAST_ABV <= self.abv <= MOST_ABV:
            out = OutOfRange.of(
                "abv_percent", 100 * self.abv, 100 * LEAST_ABV, 100 * MOST_ABV, "% vol"
            )
            raise OutOfRange(f"{out.message}; write 28 for 28 % vol", field=out.field)
        if self.volume_ml is not None and not LEAST_GLASS_ML <= self.volume_ml <= MOST_GLASS_ML:
            raise OutOfRange.of("glass_ml", self.volume_ml, LEAST_GLASS_ML, MOST_GLASS_ML, "mL")


@dataclass(frozen=True, slots=True)
class Glass:
    """A drink in the guest's glass: strength [fraction] and volume [mL], both at 20 °C."""

    abv: float
    volume_ml: float


@dataclass(frozen=True, slots=True)
class Reached:
    """The drink that gets there. `factor` is on every pour of the one that was asked about."""

    way: Way
    drink: Drink
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Missed:
    """A way that does not lead there, and what it does reach: `low` to `high` of `quantity`.

    quantity : `abv` (fraction) or `volume_ml`; empty where nothing on this way can be reckoned
    low, high : its ends; None where that end was not looked for, since the target lies beyond
        the other
    reason : why, where a range does not say it
    """

    way: Way
    quantity: str
    low: float | None = None
    high: float | None = None
    reason: str = ""


def glass_of(drink: Drink, *, priors: BedPriors = DEFAULT) -> Glass:
    """What the guest gets of a drink: after the coffee, or after the stir where there is none."""
    poured = as_liquid(drink_masses([drink], 0, DEFAULT_SEED))
    chilled = chill(poured, [drink.preparation], draws=0, seed=DEFAULT_SEED)
    liquid = chilled.liquid
    if drink.bed is not None:
        beds = Beds.of([drink.bed])
        liquid = filter_through(chilled, beds, seed=DEFAULT_SEED, priors=priors).liquid
    strength, volume = np.asarray(abv(liquid)), np.asarray(volume_ml(liquid))
    return Glass(float(strength[0, 0]), float(volume[0, 0]))


def reach(
    drink: Drink, target: Target, way: Way, *, priors: BedPriors = DEFAULT
) -> Reached | Missed:
    """The drink that makes the glass wanted, by one way; or what that way can do at most.

    For a strength and a volume together, stirring or water sets the strength and the pours are
    scaled to the volume; amounts alone can hold only one of the two.
    """
    aim = _Aim(drink, target, way, priors)
    try:
        if way is Way.AMOUNTS:
            return aim.by_amounts()
        return aim.by_both() if None not in (target.abv, target.volume_ml) else aim.by_setting()
    except _NotOnThisWay as miss:
        return miss.missed
    except OutOfRange as error:
        return Missed(way, "", reason=error.message)


def scaled(drink: Drink, factor: float) -> Drink:
    """The drink with every pour so many times as large; ice and coffee stay."""
    return replace(
        drink, pours=tuple(Pour(p.ingredient, p.volume_ml * factor) for p in drink.pours)
    )


class _NotOnThisWay(Exception):
    def __init__(self, missed: Missed) -> None:
        super().__init__(missed.way)
        self.missed = missed


@dataclass(frozen=True, slots=True)
class _Aim:
    """One question: how a setting or a factor moves the glass, and where it meets the target."""

    drink: Drink
    target: Target
    way: Way
    priors: BedPriors

    def by_setting(self) -> Reached:
        """Seconds or water alone, for the one thing that is wanted."""
        return Reached(self.way, self._set(self.drink, *self._wanted()))

    def by_amounts(self) -> Reached | Missed:
        quantity, wanted = self._wanted()
        if None not in (self.target.abv, self.target.volume_ml):
            reason = "a strength and a volume at once need the stir or the water as well"
            return Missed(self.way, "", reason=reason)
        if quantity == "volume_ml":
            factor = self._factor_for(wanted, lambda times: scaled(self.drink, times))
        else:
            factor = self._solved(
                quantity, wanted, LEAST_TIMES, MOST_TIMES, lambda times: scaled(self.drink, times)
            )
        return Reached(self.way, scaled(self.drink, factor), factor)

    def by_both(self) -> Reached:
        """For every size the setting that makes the strength; the size that makes the volume."""
        strength, volume = self.target.abv or 0.0, self.target.volume_ml or 0.0

        def strong(times: float) -> Drink:
            """As near to the strength as a drink of this size comes."""
            return self._set(scaled(self.drink, times), "abv", strength, nearest=True)

        factor = self._factor_for(volume, strong)
        return Reached(self.way, self._set(scaled(self.drink, factor), "abv", strength), factor)

    def _wanted(self) -> tuple[str, float]:
        if self.target.abv is not None:
            return "abv", self.target.abv
        return "volume_ml", self.target.volume_ml or 0.0

    def _set(self, drink: Drink, quantity: str, wanted: float, *, nearest: bool = False) -> Drink:
        """One size of drink with the seconds or the water that it needs."""
        if self.way is Way.STIRRING:
            stir = _stir_of(drink.preparation)

            def stirred(seconds: float) -> Drink:
                return replace(drink, preparation=replace(stir, seconds=seconds))

            seconds = self._solved(quantity, wanted, 0.0, LONGEST_STIR_S, stirred, nearest=nearest)
            return stirred(seconds)
        return self._watered(drink, quantity, wanted, nearest)

    def _watered(self, drink: Drink, quantity: str, wanted: float, nearest: bool) -> Drink:
        """Kept as cold as it is asked, or at 0 °C where it would turn to slush."""
        cold = _kept_at(drink.preparation)

        def at(celsius: float) -> Callable[[float], Drink]:
            return lambda water: replace(drink, preparation=PreDiluted(water, celsius))

        water = self._solved(quantity, wanted, 0.0, MOST_WATER, at(max(cold, 0.0)), nearest=nearest)
        if cold >= 0.0:
            return at(cold)(water)
        low, high = max(water - _COLD_STEP, 0.0), min(water + _COLD_STEP, MOST_WATER)
        try:
            return at(cold)(self._solved(quantity, wanted, low, high, at(cold)))
        except (OutOfRange, _NotOnThisWay):
            return at(0.0)(water)

    def _factor_for(self, wanted_ml: float, sized: Callable[[float], Drink]) -> float:
        """Times of everything that fill the glass: from a first guess outwards until it is held."""

        def filled(times: float) -> float:
            return glass_of(sized(times), priors=self.priors).volume_ml

        guess = wanted_ml / filled(1.0)
        try:
            filled(guess)
        except OutOfRange:
            guess = 1.0
        low, at_low = self._outwards(filled, guess, 1.0 / _STRETCH, lambda v: v <= wanted_ml)
        high, at_high = self._outwards(filled, guess, _STRETCH, lambda v: v >= wanted_ml)
        if wanted_ml < at_low:
            raise _NotOnThisWay(Missed(self.way, "volume_ml", low=at_low))
        if wanted_ml > at_high:
            raise _NotOnThisWay(Missed(self.way, "volume_ml", high=at_high))
        found = find_root(lambda times: filled(times) - wanted_ml, low, high)
        return low if found is None else found

    def _outwards(
        self,
        filled: Callable[[float], float],
        start: float,
        stretch: float,
        passed: Callable[[float], bool],
    ) -> tuple[float, float]:
        """The first size past the target, or the last that can be reckoned at all."""
        times, volume = start, filled(start)
        for _ in range(_STRETCHES):
            if passed(volume):
                break
            try:
                further = filled(times * stretch)
            except OutOfRange:
                break
            times, volume = times * stretch, further
        return times, volume

    def _solved(
        self,
        quantity: str,
        wanted: float,
        low: float,
        high: float,
        made: Callable[[float], Drink],
        *,
        nearest: bool = False,
    ) -> float:
        """The setting that makes what is wanted; else none, or the nearer end of the range."""

        def value(setting: float) -> float:
            return float(getattr(glass_of(made(setting), priors=self.priors), quantity))

        found = find_root(lambda setting: value(setting) - wanted, low, high)
        if found is not None:
            return found
        ends = {setting: value(setting) for setting in (low, high)}
        if nearest:
            return min(ends, key=lambda setting: abs(ends[setting] - wanted))
        least, most = sorted(ends.values())
        raise _NotOnThisWay(Missed(self.way, quantity, least, most))


def _stir_of(preparation: Preparation) -> Stirring | BuiltOnCube:
    """The ice that is asked for; the bar's usual where there was none."""
    return preparation if isinstance(preparation, Stirring | BuiltOnCube) else Stirring()


def _kept_at(preparation: Preparation) -> float:
    """How cold a drink with its water is kept [°C]."""
    if isinstance(preparation, PreDiluted | Unchilled):
        return float(preparation.celsius)
    return float(PreDiluted().celsius)
