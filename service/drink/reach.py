"""Backwards: from the glass that is wanted to the stir, the water or the pours that make it.

Everything here is of the usual bottles, a usual hand and a usual bed, as the middle of a reading.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from service.bed import DEFAULT, BedPriors
from service.drink.glass import glass_of, glasses_of
from service.drink.parts import Drink, Pour
from service.drink.roots import NEAR, FloatArray, Pair, crossing, meeting
from service.drink.sampling import mixed
from service.drink.target import Missed, Reached, Target, Way
from service.kit import OutOfRange, find_root
from service.liquid import (
    STRONGEST_POURED,
    BuiltOnCube,
    Liquid,
    PreDiluted,
    Preparation,
    Stirring,
    Unchilled,
    volume_ml,
)

LONGEST_STIR_S: Final = 900.0
MOST_WATER: Final = 3.0  # mL per mL of drink: what `PreDiluted` takes
# For a strength, beyond half and twice of everything it is another serve (estimate); for a volume
# any size will do.
LEAST_TIMES, MOST_TIMES = 0.5, 2.0
_STRETCH: Final = 1.5
_STRETCHES: Final = 24
_COLD_STEP: Final = 0.02  # mL/mL; a few degrees of cold move the water far less
# Where a range is looked at first, as shares of it: closer where a stir moves the glass fast.
_LOOKS: Final = 13
_STIRRED_SHARES: Final = np.linspace(0.0, 1.0, _LOOKS) ** 3
_EVEN_SHARES: Final = np.linspace(0.0, 1.0, _LOOKS)
_FEW_LOOKS: Final = 3
_SMALLER: Final = 0.9  # a second size, to see how the volume goes with it
_LEAST_GUESS: Final = 0.05
_SIZES: Final = 12  # secants that a size takes at most; mostly four do


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
        """The size and the setting that make strength and volume together.

        Both are sought at once; where that does not lead to a drink, for every size the setting
        that makes the strength, and the size that makes the volume.
        """
        strength, volume = self.target.abv or 0.0, self.target.volume_ml or 0.0
        try:
            found = self._together(strength, volume)
        except OutOfRange:
            found = None
        if found is not None:
            return found

        def strong(times: float) -> Drink:
            """As near to the strength as a drink of this size comes."""
            return self._set(scaled(self.drink, times), "abv", strength, nearest=True)

        factor = self._factor_for(volume, strong)
        return Reached(self.way, self._set(scaled(self.drink, factor), "abv", strength), factor)

    def _together(self, strength: float, volume: float) -> Reached | None:
        """Size and setting at once; None where they are not found so, though they may exist."""
        least, most, made = self._settings(self.drink)
        settings = least + (most - least) * self._shares()
        size = 1.0
        for _ in range(2):  # far from the size that was looked at, ice and coffee do other things
            looked_at = size
            strengths, size, setting = self._looked(made, settings, looked_at)
            if 1.0 / _STRETCH < size / looked_at < _STRETCH:
                break
        if not strengths.min() <= strength <= strengths.max():
            self._check_the_end(setting, size, strength, volume)
            return None
        start = size, setting
        found = meeting(self._glass_at(made), start, (strength, volume), most)
        if found is None:
            return None
        colder = self._kept_cold(found, (strength, volume))
        drink, (factor, _) = colder or (scaled(made(found[1]), found[0]), found)
        return Reached(self.way, drink, factor)

    def _looked(
        self, made: Callable[[float], Drink], settings: FloatArray, size: float
    ) -> tuple[FloatArray, float, float]:
        """Strengths that settings make of a size; and, by straight lines from there, the size and
        the setting that are wanted."""
        sizes = (size, _SMALLER * size)
        drinks = [scaled(made(float(s)), times) for times in sizes for s in settings]
        glasses = glasses_of(drinks, priors=self.priors)
        strengths, volumes = glasses.abv[:_LOOKS], glasses.volume_ml[:_LOOKS]
        rising = np.argsort(strengths)
        setting = float(np.interp(self.target.abv or 0.0, strengths[rising], settings[rising]))
        filled, less = (
            float(np.interp(setting, settings, v)) for v in (volumes, glasses.volume_ml[_LOOKS:])
        )
        short = ((self.target.volume_ml or 0.0) - filled) / (filled - less)
        return strengths, size * max(1.0 + (1.0 - _SMALLER) * short, _LEAST_GUESS), setting

    def _glass_at(self, made: Callable[[float], Drink]) -> Callable[[float, float], Pair]:
        def values(times: float, setting: float) -> Pair:
            glass = glass_of(scaled(made(setting), times), priors=self.priors)
            return glass.abv, glass.volume_ml

        return values

    def _kept_cold(self, found: Pair, wanted: Pair) -> tuple[Drink, Pair] | None:
        """With water, the same kept below 0 °C as asked; None where it would turn to slush."""
        cold = _kept_at(self.drink.preparation)
        if self.way is not Way.WATER or cold >= 0.0:
            return None

        def made(water: float) -> Drink:
            return replace(self.drink, preparation=PreDiluted(water, cold))

        try:
            colder = meeting(self._glass_at(made), found, wanted, MOST_WATER)
        except OutOfRange:
            return None
        return colder and (scaled(made(colder[1]), colder[0]), colder)

    def _check_the_end(self, end: float, size: float, strength: float, volume: float) -> None:
        """The size that fills the glass with no water, or all of it: what strengths such a size
        has is said where the one that is wanted is not among them."""
        least, most, made = self._settings(self.drink)

        def filled(times: float) -> float:
            return glass_of(scaled(made(end), times), priors=self.priors).volume_ml

        times = _size_for(filled, size, volume)
        if times is None:
            return
        sized = [scaled(made(float(s)), times) for s in least + (most - least) * self._shares()]
        strengths = glasses_of(sized, priors=self.priors).abv
        if not strengths.min() <= strength <= strengths.max():
            ends = float(strengths.min()), float(strengths.max())
            raise _NotOnThisWay(Missed(self.way, "abv", *ends))

    def _settings(self, drink: Drink) -> tuple[float, float, Callable[[float], Drink]]:
        """From where to where the seconds or the water go, and the drink at each; water at 0 °C
        or warmer, where it cannot turn to slush."""
        if self.way is Way.STIRRING:
            stir = _stir_of(drink.preparation)
            return (
                0.0,
                LONGEST_STIR_S,
                lambda s: replace(drink, preparation=replace(stir, seconds=s)),
            )
        celsius = max(_kept_at(drink.preparation), 0.0)
        least = 0.0 if drink.bed is None else _water_before_coffee(drink)
        return least, MOST_WATER, lambda w: replace(drink, preparation=PreDiluted(w, celsius))

    def _shares(self) -> FloatArray:
        return _STIRRED_SHARES if self.way is Way.STIRRING else _EVEN_SHARES

    def _wanted(self) -> tuple[str, float]:
        if self.target.abv is not None:
            return "abv", self.target.abv
        return "volume_ml", self.target.volume_ml or 0.0

    def _set(self, drink: Drink, quantity: str, wanted: float, *, nearest: bool = False) -> Drink:
        """One size of drink with the seconds or the water that it needs; with water kept as cold
        as it is asked, or at 0 °C where it would turn to slush."""
        least, most, made = self._settings(drink)
        setting = self._solved(quantity, wanted, least, most, made, nearest=nearest)
        cold = _kept_at(drink.preparation)
        if self.way is Way.STIRRING or cold >= 0.0:
            return made(setting)

        def colder(water: float) -> Drink:
            return replace(drink, preparation=PreDiluted(water, cold))

        low, high = max(setting - _COLD_STEP, 0.0), min(setting + _COLD_STEP, MOST_WATER)
        try:
            return colder(self._solved(quantity, wanted, low, high, colder, looks=_FEW_LOOKS))
        except (OutOfRange, _NotOnThisWay):
            return made(setting)

    def _factor_for(self, wanted_ml: float, sized: Callable[[float], Drink]) -> float:
        """Times of everything that fill the glass: from a first guess outwards until it is held."""

        def filled(times: float) -> float:
            return glass_of(sized(times), priors=self.priors).volume_ml

        guess = wanted_ml / filled(1.0)
        try:
            times = _size_for(filled, guess, wanted_ml)
            if times is not None:
                return times
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
        looks: int = _LOOKS,
    ) -> float:
        """The setting that makes what is wanted; else none, or the nearer end of the range."""

        def value(setting: float) -> float:
            return float(getattr(glass_of(made(setting), priors=self.priors), quantity))

        shares = self._shares() if looks == _LOOKS else np.linspace(0.0, 1.0, looks)
        settings = low + (high - low) * shares
        glasses = glasses_of([made(float(s)) for s in settings], priors=self.priors)
        values: FloatArray = getattr(glasses, quantity)
        found = crossing(value, settings, values, wanted)
        if found is not None:
            return found
        if nearest:
            return high if abs(values[-1] - wanted) < abs(values[0] - wanted) else low
        raise _NotOnThisWay(Missed(self.way, quantity, float(values.min()), float(values.max())))


def _size_for(filled: Callable[[float], float], start: float, wanted_ml: float) -> float | None:
    """The size that fills a glass, by secants, since a volume hardly bends; None where not."""
    last, times = 0.9 * start, start
    at_last, volume = filled(last), filled(times)
    for _ in range(_SIZES):
        if abs(volume - wanted_ml) <= NEAR * wanted_ml:
            return times
        if volume == at_last:
            return None
        step = (wanted_ml - volume) * (times - last) / (volume - at_last)
        last, at_last = times, volume
        times = times + step
        if times <= 0.0:
            return None
        volume = filled(times)
    return None


def _water_before_coffee(drink: Drink) -> float:
    """Water that a very strong drink needs before its way through the coffee is known [mL/mL]."""
    liquid = mixed(drink)
    grams = liquid.ethanol_g * (1.0 / STRONGEST_POURED - 1.0) - liquid.water_g
    if grams <= 0.0:
        return 0.0
    return float(volume_ml(Liquid(water_g=grams * (1.0 + NEAR)))) / float(volume_ml(liquid))


def _stir_of(preparation: Preparation) -> Stirring | BuiltOnCube:
    """The ice that is asked for; the bar's usual where there was none."""
    return preparation if isinstance(preparation, Stirring | BuiltOnCube) else Stirring()


def _kept_at(preparation: Preparation) -> float:
    """How cold a drink with its water is kept [°C]."""
    if isinstance(preparation, PreDiluted | Unchilled):
        return float(preparation.celsius)
    return float(PreDiluted().celsius)
