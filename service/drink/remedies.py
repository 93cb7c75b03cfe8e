"""The smallest change on each lever that brings a drink into balance, or plainly that none does."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from service.bed import DEFAULT, BedPriors
from service.drink.lattice import by_the_dash, counted
from service.drink.levers import (
    SALT_NOTICED_G_PER_L,
    Knob,
    Larder,
    Lever,
    finer,
    grind_at,
    knobs_of,
)
from service.drink.parts import Drink
from service.drink.sampling import DEFAULT_SEED
from service.drink.search import Found, smallest_changes
from service.ingredients.records import Ingredient
from service.kit import OutOfRange, plain_number
from service.taste import Band, salted_share

EMPTY_LARDER: Final = Larder()
HELPS_ONLY: Final = "helps, but does not bring it inside"
# The levers a bartender reaches for first: enough where many drinks are shown at once.
FIRST_LEVERS: Final = (Lever.MODIFIER, Lever.BITTERS, Lever.SWEETENER, Lever.COFFEE)
_HARDLY: Final = 1e-9
_Place: TypeAlias = tuple[int, Lever]


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change on one lever, read again. `distance` is what it leaves [standard spreads].

    `then` is what a bar can pour. `reaches` says whether the drink is then inside the band; if not,
    this is the best the lever can do within sensible limits. `effort` is the share of the lever's
    range that it takes. `between` is what would be inside where every step of a jigger goes past
    it [mL]; None where a step does it, or nothing would.
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
    between: float | None = None


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
    every = _found(drinks, knobs, band, seed, priors)
    between = _between(drinks, every, band, seed, priors)
    remedies: list[list[Remedy]] = [[] for _ in drinks]
    for found in every:
        remedies[found.knob.row].append(_remedy(found, between.get(_place(found.knob))))
    return [tuple(sorted(each, key=_order)) for each in remedies]


def _between(
    drinks: Sequence[Drink], every: Sequence[Found], band: Band, seed: int, priors: BedPriors
) -> dict[_Place, float]:
    """Where no lever of a drink reaches, whether one would between two steps of the jigger."""
    reached = {found.knob.row for found in every if found.reaches}
    knobs = [fine for f in every if f.knob.row not in reached and (fine := finer(f.knob))]
    found = _found(drinks, knobs, band, seed, priors) if knobs else []
    return {_place(one.knob): one.value for one in found if one.reaches}


def _place(knob: Knob) -> _Place:
    return knob.row, knob.lever


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


def _remedy(found: Found, between: float | None) -> Remedy:
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
        words=_words(found, between),
        between=between,
    )


def _words(found: Found, between: float | None) -> str:
    knob = found.knob
    exact = ""
    if between is not None and knob.ingredient is not None:
        exact = exactly(knob.ingredient, f"{plain_number(between)} mL")
    if abs(found.value - knob.now) < _HARDLY:
        return exact or f"{knob.lever}: no sensible change helps"
    said = _salt(knob, found.value) if knob.lever is Lever.SALT else _change(knob, found.value)
    if found.reaches:
        return said
    return f"{said}; {HELPS_ONLY}{f' ({exact})' if exact else ''}"


def exactly(ingredient: Ingredient, amount: str) -> str:
    """What would be inside, where every step of the jigger goes past it."""
    return f"a jigger's steps go past it: {amount} of {ingredient.name} would be inside"


def _change(knob: Knob, value: float) -> str:
    if knob.ingredient is not None:
        return _pour(knob.ingredient, knob, value)
    if knob.lever is Lever.GRIND:
        return f"grind {grind_at(value)} instead of {knob.now:.0f} µm ({grind_at(knob.now)})"
    if knob.lever is Lever.COFFEE:
        return f"{plain_number(value)} g of coffee instead of {plain_number(knob.now)} g"
    if knob.unit == "s":
        return f"stir for {value:.0f} s instead of {knob.now:.0f} s"
    return f"dilute by {value:.0%} instead of {knob.now:.0%}"


def _pour(ingredient: Ingredient, knob: Knob, value: float) -> str:
    name = ingredient.name
    if value <= 0.0:
        return f"leave out the {name}"
    if by_the_dash(ingredient):
        said = f"{counted(ingredient, value)} of {name}"
        return f"{said} instead of {counted(ingredient, knob.now)}" if knob.now else f"add {said}"
    if knob.now <= 0.0:
        return f"add {plain_number(value)} mL of {name}"
    more = "more" if value > knob.now else "less"
    step, then, now = (plain_number(v) for v in (abs(value - knob.now), value, knob.now))
    return f"{step} mL {more} {name}: {then} instead of {now} mL"


def _salt(knob: Knob, value: float) -> str:
    """Says how little salt can do before it is tasted."""
    most = 1.0 - float(salted_share(SALT_NOTICED_G_PER_L))
    return (
        f"{_change(knob, value)} (as modelled, salt takes at most {most:.0%} of the "
        "bitterness before it is tasted itself; a pinch does less than 1 %)"
    )
