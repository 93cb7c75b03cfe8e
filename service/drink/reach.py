"""Backwards: from the glass that is wanted to the stir, the water or the pours that make it.

Everything here is of the usual bottles, a usual hand and a usual bed, as the middle of a reading.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from service.bed import DEFAULT, BedPriors
from service.drink.dial import EVEN_SHARES, MOST_WATER, colder_of, dial_of, scaled
from service.drink.glass import glass_of, glasses_of
from service.drink.parts import Drink
from service.drink.roots import FloatArray, crossing, size_for
from service.drink.target import Missed, NotOnThisWay, Reached, Target, Way
from service.drink.together import Both
from service.kit import OutOfRange, find_root

# For a strength, beyond half and twice of everything it is another serve (estimate); for a volume
# any size will do.
LEAST_TIMES, MOST_TIMES = 0.5, 2.0
_STRETCH: Final = 1.5
_STRETCHES: Final = 24
_COLD_STEP: Final = 0.02  # mL/mL; a few degrees of cold move the water far less


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
    except NotOnThisWay as miss:
        return miss.missed
    except OutOfRange as error:
        return Missed(way, "", reason=error.message)


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
            looks = LEAST_TIMES + (MOST_TIMES - LEAST_TIMES) * EVEN_SHARES
            factor = self._solved(quantity, wanted, looks, lambda times: scaled(self.drink, times))
        return Reached(self.way, scaled(self.drink, factor), factor)

    def by_both(self) -> Reached:
        """The size and the setting that make strength and volume together.

        Both are sought at once; where that does not lead to a drink, for every size the setting
        that makes the strength, and the size that makes the volume.
        """
        strength, volume = self.target.abv or 0.0, self.target.volume_ml or 0.0
        try:
            found = Both(self.drink, self.way, strength, volume, self.priors).found()
        except OutOfRange:
            found = None
        if found is not None:
            return found

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
        """One size of drink with the seconds or the water that it needs; with water kept as cold
        as it is asked, or at 0 °C where it would turn to slush."""
        dial, colder = dial_of(drink, self.way), colder_of(drink, self.way)
        setting = self._solved(quantity, wanted, dial.looks, dial.made, nearest=nearest)
        if colder is None:
            return dial.made(setting)
        low, high = max(setting - _COLD_STEP, 0.0), min(setting + _COLD_STEP, MOST_WATER)
        looks = np.array([low, setting, high])
        try:
            return colder(self._solved(quantity, wanted, looks, colder))
        except (OutOfRange, NotOnThisWay):
            return dial.made(setting)

    def _factor_for(self, wanted_ml: float, sized: Callable[[float], Drink]) -> float:
        """Times of everything that fill the glass: from a first guess outwards until it is held."""

        def filled(times: float) -> float:
            return glass_of(sized(times), priors=self.priors).volume_ml

        guess = wanted_ml / filled(1.0)
        try:
            times = size_for(filled, guess, wanted_ml)
            if times is not None:
                return times
            filled(guess)
        except OutOfRange:
            guess = 1.0
        low, at_low = self._outwards(filled, guess, 1.0 / _STRETCH, lambda v: v <= wanted_ml)
        high, at_high = self._outwards(filled, guess, _STRETCH, lambda v: v >= wanted_ml)
        if wanted_ml < at_low:
            raise NotOnThisWay(Missed(self.way, "volume_ml", low=at_low))
        if wanted_ml > at_high:
            raise NotOnThisWay(Missed(self.way, "volume_ml", high=at_high))
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
        looks: FloatArray,
        made: Callable[[float], Drink],
        *,
        nearest: bool = False,
    ) -> float:
        """The setting that makes what is wanted; else none, or the nearer end of the range."""

        def value(setting: float) -> float:
            return float(getattr(glass_of(made(setting), priors=self.priors), quantity))

        glasses = glasses_of([made(float(s)) for s in looks], priors=self.priors)
        values: FloatArray = getattr(glasses, quantity)
        found = crossing(value, looks, values, wanted)
        if found is not None:
            return found
        if nearest:
            return float(looks[-1 if abs(values[-1] - wanted) < abs(values[0] - wanted) else 0])
        raise NotOnThisWay(Missed(self.way, quantity, float(values.min()), float(values.max())))
