"""The smallest change on each lever that brings a drink into balance, or plainly that none does."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

from service.bed import DEFAULT, BedPriors
from service.drink.levers import SALT_NOTICED_G_PER_L, Knob, Larder, Lever, grind_at, knobs_of
from service.drink.parts import Drink
from service.drink.sampling import DEFAULT_SEED
from service.drink.search import Found, smallest_changes
from service.kit import OutOfRange, plain_number
from service.kit.units import DASH_ML
from service.taste import Band, salted_share

EMPTY_LARDER: Final = Larder()
# The levers a bartender reaches for first: enough where many drinks are shown at once.
FIRST_LEVERS: Final = (Lever.MODIFIER, Lever.BITTERS, Lever.SWEETENER, Lever.COFFEE)
_HARDLY: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change on one lever, read again. `distance` is what it leaves [standard spreads].

    `reaches` says whether the drink is then inside the band; if not, this is the best the lever
    can do within sensible limits. `effort` is the share of the lever's range that it takes.
    """

    lever: Lever
    ingredient_id: str
    now: float
    then: float
    unit: str
    reaches: bool
    distance: float
    effort: float
    words: str


def remedies_for(
    drinks: Sequence[Drink],
    band: Band,
    *,
    larder: Larder = EMPTY_LARDER,
    levers: Collection[Lever] = tuple(Lever),
    seed: int = DEFAULT_SEED,
    priors: BedPriors = DEFAULT,
) -> list[tuple[Remedy, ...]]:
    """For each drink a remedy per lever: those that reach first, the smallest change leading."""
    knobs = [
        knob
        for row, drink in enumerate(drinks)
        for knob in knobs_of(drink, row, larder)
        if knob.lever in levers
    ]
    remedies: list[list[Remedy]] = [[] for _ in drinks]
    for found in _found(drinks, knobs, band, seed, priors):
        remedies[found.knob.row].append(_remedy(found))
    return [tuple(sorted(each, key=_order)) for each in remedies]


def _found(
    drinks: Sequence[Drink], knobs: Sequence[Knob], band: Band, seed: int, priors: BedPriors
) -> list[Found]:
    """All knobs at once; where one leads out of what can be reckoned, each by itself without it.

    A drink kept below zero, for one, would freeze if it were watered down much further.
    """
    try:
        return smallest_changes(drinks, knobs, band, seed=seed, priors=priors)
    except OutOfRange:
        if len(knobs) == 1:
            return []
        half = len(knobs) // 2
        parts = (knobs[:half], knobs[half:])
        return [one for part in parts for one in _found(drinks, part, band, seed, priors)]


def no_lever_reaches(remedies: Sequence[Remedy]) -> bool:
    """Whether nothing that was tried brings the drink inside by itself."""
    return not any(remedy.reaches for remedy in remedies)


def _order(remedy: Remedy) -> tuple[bool, float]:
    return (not remedy.reaches, remedy.effort if remedy.reaches else remedy.distance)


def _remedy(found: Found) -> Remedy:
    knob = found.knob
    return Remedy(
        lever=knob.lever,
        ingredient_id=knob.ingredient.id if knob.ingredient else "",
        now=knob.now,
        then=found.value,
        unit=knob.unit,
        reaches=found.reaches,
        distance=found.distance,
        effort=abs(found.value - knob.now) / max(knob.high - knob.low, _HARDLY),
        words=_words(found),
    )


def _words(found: Found) -> str:
    knob = found.knob
    if abs(found.value - knob.now) < _HARDLY:
        return f"{knob.lever}: no sensible change helps"
    said = _salt(knob, found.value) if knob.lever is Lever.SALT else _change(knob, found.value)
    return said if found.reaches else f"{said}; helps, but does not bring it inside"


def _change(knob: Knob, value: float) -> str:
    if knob.ingredient is not None:
        return _pour(knob.ingredient.name, knob, value)
    if knob.lever is Lever.GRIND:
        return f"grind {grind_at(value)} instead of {knob.now:.0f} µm ({grind_at(knob.now)})"
    if knob.lever is Lever.COFFEE:
        return f"{plain_number(value)} g of coffee instead of {plain_number(knob.now)} g"
    if knob.unit == "s":
        return f"stir for {value:.0f} s instead of {knob.now:.0f} s"
    return f"dilute by {value:.0%} instead of {knob.now:.0%}"


def _pour(name: str, knob: Knob, value: float) -> str:
    if value <= 0.0:
        return f"leave out the {name}"
    if knob.now <= 0.0:
        return f"add {plain_number(value)} mL of {name}"
    more = "more" if value > knob.now else "less"
    if knob.lever is Lever.BITTERS:
        dashes, stood = value / DASH_ML, knob.now / DASH_ML
        return f"{plain_number(dashes, 2)} dashes of {name} instead of {plain_number(stood, 2)}"
    step, then, now = (plain_number(v) for v in (abs(value - knob.now), value, knob.now))
    return f"{step} mL {more} {name}: {then} instead of {now} mL"


def _salt(knob: Knob, value: float) -> str:
    """Says how little salt can do before it is tasted."""
    most = 1.0 - float(salted_share(SALT_NOTICED_G_PER_L))
    name = knob.ingredient.name if knob.ingredient else "saline"
    return (
        f"{_pour(name, knob, value)} (as modelled, salt takes at most {most:.0%} of the "
        "bitterness before it is tasted itself; a pinch does less than 1 %)"
    )
