"""A strength and a volume at once: the size of the drink and one setting, sought together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from service.bed import BedPriors
from service.drink.dial import LOOKS, MOST_WATER, Dial, colder_of, dial_of, scaled
from service.drink.glass import glass_of, glasses_of
from service.drink.parts import Drink
from service.drink.roots import FloatArray, Pair, meeting, size_for
from service.drink.target import Missed, NotOnThisWay, Reached, Way
from service.kit import OutOfRange

_FAR: Final = 1.5  # times the size that was looked at
_SMALLER: Final = 0.9  # a second size, to see how the volume goes with it
_LEAST_GUESS: Final = 0.05


@dataclass(frozen=True, slots=True)
class Both:
    """One question: a drink, a way other than the amounts, and both things that are wanted."""

    drink: Drink
    way: Way
    abv: float
    volume_ml: float
    priors: BedPriors

    def found(self) -> Reached | None:
        """The drink; None where it is not found so, though it may exist. NotOnThisWay where no
        setting makes the strength in a drink that fills the glass."""
        dial = dial_of(self.drink, self.way)
        size = 1.0
        for _ in range(2):  # far from the size that was looked at, ice and coffee do other things
            looked_at = size
            strengths, size, setting = self._looked(dial, looked_at)
            if 1.0 / _FAR < size / looked_at < _FAR:
                break
        if not strengths.min() <= self.abv <= strengths.max():
            self._check_the_end(dial, setting, size)
            return None
        wanted = self.abv, self.volume_ml
        found = meeting(self._glass_at(dial.made), (size, setting), wanted, dial.most)
        if found is None:
            return None
        drink, (factor, _) = self._colder(found) or (scaled(dial.made(found[1]), found[0]), found)
        return Reached(self.way, drink, factor)

    def _looked(self, dial: Dial, size: float) -> tuple[FloatArray, float, float]:
        """Strengths that the dial makes of a size; and, by straight lines from there, the size and
        the setting that are wanted."""
        sizes = (size, _SMALLER * size)
        drinks = [scaled(dial.made(float(s)), times) for times in sizes for s in dial.looks]
        glasses = glasses_of(drinks, priors=self.priors)
        strengths, volumes = glasses.abv[:LOOKS], glasses.volume_ml[:LOOKS]
        rising = np.argsort(strengths)
        setting = float(np.interp(self.abv, strengths[rising], dial.looks[rising]))
        filled, less = (
            float(np.interp(setting, dial.looks, v)) for v in (volumes, glasses.volume_ml[LOOKS:])
        )
        short = (self.volume_ml - filled) / (filled - less)
        return strengths, size * max(1.0 + (1.0 - _SMALLER) * short, _LEAST_GUESS), setting

    def _glass_at(self, made: Callable[[float], Drink]) -> Callable[[float, float], Pair]:
        def values(times: float, setting: float) -> Pair:
            glass = glass_of(scaled(made(setting), times), priors=self.priors)
            return glass.abv, glass.volume_ml

        return values

    def _colder(self, found: Pair) -> tuple[Drink, Pair] | None:
        """The same kept below 0 °C; None where that is not asked, or would turn to slush."""
        made = colder_of(self.drink, self.way)
        if made is None:
            return None
        try:
            colder = meeting(self._glass_at(made), found, (self.abv, self.volume_ml), MOST_WATER)
        except OutOfRange:
            return None
        return colder and (scaled(made(colder[1]), colder[0]), colder)

    def _check_the_end(self, dial: Dial, end: float, size: float) -> None:
        """The size that fills the glass at the end of the dial: what strengths such a size has is
        said where the one that is wanted is not among them."""

        def filled(times: float) -> float:
            return glass_of(scaled(dial.made(end), times), priors=self.priors).volume_ml

        times = size_for(filled, size, self.volume_ml)
        if times is None:
            return
        sized = [scaled(dial.made(float(s)), times) for s in dial.looks]
        strengths = glasses_of(sized, priors=self.priors).abv
        if not strengths.min() <= self.abv <= strengths.max():
            ends = float(strengths.min()), float(strengths.max())
            raise NotOnThisWay(Missed(self.way, "abv", *ends))
