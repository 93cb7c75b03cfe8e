"""Backwards at the counter: a strength or a volume in the glass, and what makes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from service.counter.known import Known
from service.counter.measure import Measure, check_country, drink_of
from service.drink import (
    Caution,
    Drink,
    Missed,
    Pour,
    Reached,
    Reading,
    Target,
    Way,
    mixed,
    reach,
    read_many,
)
from service.drink.lattice import FIVE_ML, Lattice
from service.ingredients.records import Ingredient
from service.kit import OutOfRange
from service.liquid import BuiltOnCube, Liquid, PreDiluted, Stirring, prepare, volume_ml

_DRAWS: Final = 2000
_HARDLY: Final = 1e-9


@dataclass(frozen=True, slots=True)
class ReachQuestion:
    """A drink, what the guest's glass shall be, and what the bar can measure."""

    asked: Measure
    target: Target
    lattice: Lattice = FIVE_ML


@dataclass(frozen=True, slots=True)
class Made:
    """One drink that gets there, read forward again.

    factor : on every pour of the drink that was asked about
    water_ml : what the ice or the measured water adds, at 20 °C
    """

    drink: Drink
    factor: float
    water_ml: float
    reading: Reading

    @property
    def seconds(self) -> float | None:
        """How long it is stirred; None where no ice touches it."""
        made = self.drink.preparation
        return float(made.seconds) if isinstance(made, Stirring | BuiltOnCube) else None

    @property
    def kept_celsius(self) -> float | None:
        """How cold a drink with its water is kept; None where it is made in another way."""
        made = self.drink.preparation
        return float(made.celsius) if isinstance(made, PreDiluted) else None


@dataclass(frozen=True, slots=True)
class Found:
    """A way that leads there: to the last digit, and as a bar measures it."""

    way: Way
    exact: Made
    measured: Made


@dataclass(frozen=True, slots=True)
class Backwards:
    """The answer: the drink as it is now, and every way to the glass that is wanted."""

    question: ReachQuestion
    drink: Drink
    now: Reading
    ways: tuple[Found | Missed, ...]

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What there is to mind on any way, each once, with the highest number of it."""
        found: dict[str, Caution] = {}
        for way in self.ways:
            for caution in () if isinstance(way, Missed) else way.measured.reading.cautions:
                there = found.get(caution.code)
                if there is None or (caution.value or 0.0) > (there.value or 0.0):
                    found[caution.code] = caution
        return tuple(found.values())


def backwards(known: Known, question: ReachQuestion) -> Backwards:
    """Every way to a strength, a volume, or both, in the guest's glass: after the coffee where
    there is one, after the stir where there is none."""
    check_country(question.asked.country)
    drink = drink_of(known, question.asked)
    found = [reach(drink, question.target, way, priors=known.priors) for way in Way]
    pairs = [
        (one.drink, _measurable(known, question, one)) if isinstance(one, Reached) else ()
        for one in found
    ]
    now, readings = _readings(known, question, drink, pairs)
    ways = tuple(
        _told(one, pair, read) for one, pair, read in zip(found, pairs, readings, strict=True)
    )
    return Backwards(question, drink, now, ways)


def nearest_ml(lattice: Lattice, ingredient: Ingredient, volume_ml: float) -> float:
    """The nearest amount that a bar measures of a bottle, and never nothing [mL]."""
    step = lattice.step_of(ingredient, volume_ml)
    return max(round(volume_ml / step + _HARDLY), 1) * step


def _readings(
    known: Known, question: ReachQuestion, drink: Drink, pairs: Sequence[Sequence[Drink]]
) -> tuple[Reading, list[list[Reading] | OutOfRange]]:
    """The drink as it is and what each way makes, all read in one pass."""
    try:
        now, *rest = _read(known, question, [drink, *chain.from_iterable(pairs)])
    except OutOfRange:  # one of them is refused: only its own way shall be
        (now,) = _read(known, question, [drink])
        return now, [_read_or_refusal(known, question, pair) for pair in pairs]
    each = iter(rest)
    return now, [[next(each) for _ in pair] for pair in pairs]


def _read_or_refusal(
    known: Known, question: ReachQuestion, drinks: Sequence[Drink]
) -> list[Reading] | OutOfRange:
    try:
        return _read(known, question, drinks)
    except OutOfRange as error:  # a bed that keeps nearly all of so small a drink
        return error


def _told(
    found: Reached | Missed, drinks: Sequence[Drink], readings: list[Reading] | OutOfRange
) -> Found | Missed:
    if isinstance(found, Missed):
        return found
    if isinstance(readings, OutOfRange):
        return Missed(found.way, "", reason=readings.message)
    exact, measured = (
        Made(made, found.factor, _water_ml(made), reading)
        for made, reading in zip(drinks, readings, strict=True)
    )
    return Found(found.way, exact, measured)


def _read(known: Known, question: ReachQuestion, drinks: Sequence[Drink]) -> list[Reading]:
    return read_many(
        drinks, known.band, draws=_DRAWS, priors=known.priors, country=question.asked.country
    )


def _measurable(known: Known, question: ReachQuestion, found: Reached) -> Drink:
    """What a bar can measure of it: pours on its lattice, whole seconds, whole mL of water.

    With the pours rounded the strength is sought once more, since that can still be met.
    """
    made = found.drink
    if found.factor != 1.0:
        made = replace(made, pours=tuple(_nearest(question.lattice, p) for p in made.pours))
        if question.target.abv is not None and found.way is not Way.AMOUNTS:
            again = reach(made, Target(question.target.abv), found.way, priors=known.priors)
            made = made if isinstance(again, Missed) else again.drink
    kind = made.preparation
    if found.way is Way.STIRRING and isinstance(kind, Stirring | BuiltOnCube):
        return replace(made, preparation=replace(kind, seconds=float(round(float(kind.seconds)))))
    if found.way is Way.WATER and isinstance(kind, PreDiluted):
        poured_ml = float(volume_ml(mixed(made)))
        whole_ml = round(float(kind.dilution) * poured_ml)
        return replace(made, preparation=replace(kind, dilution=whole_ml / poured_ml))
    return made


def _nearest(lattice: Lattice, pour: Pour) -> Pour:
    return replace(pour, volume_ml=nearest_ml(lattice, pour.ingredient, pour.volume_ml))


def _water_ml(drink: Drink) -> float:
    """Water that the preparation adds to a drink, at 20 °C [mL]."""
    melt_g = float(prepare(mixed(drink), drink.preparation).melt_g)
    return float(volume_ml(Liquid(water_g=melt_g))) if melt_g > 0.0 else 0.0
