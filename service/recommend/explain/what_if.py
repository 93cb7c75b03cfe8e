"""What if? The difference that a change makes, in words and numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.aroma import AromaSpace, ingredient_aroma
from service.drink import Drink, Reading, State
from service.recommend.explain.differences import TasteDifference, taste_difference
from service.recommend.explain.speech import Speech, listed
from service.recommend.explain.voice import Said

Vector = NDArray[np.float64]
# A note counts as gone or new when its share in the loudest pour moved by this much (estimate).
NOTICED_SHARE: Final = 0.04
MOST_NOTES: Final = 3
HARDLY_ML: Final = 1e-6
NOTICED_CAFFEINE_MG: Final = 5.0


@dataclass(frozen=True, slots=True)
class LineChange:
    """One line that differs [mL]; 0 is not poured."""

    ingredient: str
    was_ml: float
    now_ml: float


@dataclass(frozen=True, slots=True)
class Difference:
    """One number in the guest's glass before and after the change."""

    name: str
    unit: str
    was: float
    now: float

    @property
    def amount(self) -> float:
        return self.now - self.was


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Two drinks compared: lines, numbers, taste, notes and verdict; `said` in sentences."""

    lines: tuple[LineChange, ...]
    numbers: tuple[Difference, ...]
    taste: TasteDifference
    lost: tuple[str, ...]
    gained: tuple[str, ...]
    verdict_was: str
    verdict_now: str
    said: tuple[Said, ...]


def what_if(
    space: AromaSpace,
    speech: Speech,
    was: tuple[Drink, Reading],
    now: tuple[Drink, Reading],
) -> WhatIf:
    """What changes between two drinks, as the guest gets them."""
    taste = taste_difference(was[1].after, now[1].after)
    old, new = (_loudest(space, drink) for drink, _ in (was, now))
    lost, gained = _moved(space, old - new), _moved(space, new - old)
    lines = _lines(was[0], now[0])
    numbers = _numbers(was[1], now[1])
    verdicts = (str(was[1].verdict), str(now[1].verdict))
    said = _said(speech, lines, numbers, taste, (lost, gained), verdicts)
    return WhatIf(lines, numbers, taste, lost, gained, *verdicts, said)


def _loudest(space: AromaSpace, drink: Drink) -> Vector:
    """Of each note the largest share that any pour has of it."""
    ids = [p.ingredient.id for p in drink.pours if p.ingredient.id in space.index]
    shares = [ingredient_aroma(space, name).notes ** 2 for name in ids]
    return np.max(shares, axis=0) if shares else np.zeros(len(space.descriptors))


def _moved(space: AromaSpace, change: Vector) -> tuple[str, ...]:
    order = np.argsort(-change, kind="stable")[:MOST_NOTES]
    return tuple(space.descriptors[i] for i in order if change[i] >= NOTICED_SHARE)


def _lines(was: Drink, now: Drink) -> tuple[LineChange, ...]:
    names = dict.fromkeys(p.ingredient.id for drink in (was, now) for p in drink.pours)
    lines = (LineChange(name, was.volume_of(name), now.volume_of(name)) for name in names)
    return tuple(line for line in lines if abs(line.now_ml - line.was_ml) > HARDLY_ML)


def _numbers(was: Reading, now: Reading) -> tuple[Difference, ...]:
    def of(state: State) -> tuple[tuple[str, str, float], ...]:
        return (
            ("sweet", "points", state.sweet.mid),
            ("bitter", "points", state.bitter.mid),
            ("sour", "points", state.sour.mid),
            ("strength", "% vol", 100.0 * state.abv.mid),
            ("volume", "ml", state.volume_ml.mid),
            ("alcohol", "g", state.ethanol_g.mid),
            ("caffeine", "mg", state.caffeine_mg.mid),
            ("sugar", "g/L", state.sugar_g_per_l.mid),
        )

    rows = zip(of(was.after), of(now.after), strict=True)
    return tuple(Difference(name, unit, a, b) for (name, unit, a), (_, _, b) in rows)


def _said(
    speech: Speech,
    lines: tuple[LineChange, ...],
    numbers: tuple[Difference, ...],
    taste: TasteDifference,
    notes: tuple[tuple[str, ...], tuple[str, ...]],
    verdicts: tuple[str, str],
) -> tuple[Said, ...]:
    """Only what differs is said, each sentence with the parts of the answer it rests on."""
    said = []
    if lines:
        changed = listed([_line(speech, line) for line in lines])
        rests = tuple(f"lines.{line.ingredient}" for line in lines)
        said.append(Said(f"The change: {changed}.", rests))
    if taste.words:
        said.append(Said(f"It becomes {listed(taste.words)}.", ("taste",)))
    elif lines:
        said.append(Said("A guest would hardly taste it.", ("taste",)))
    for verb, where, side in (("loses", "lost", notes[0]), ("gains", "gained", notes[1])):
        words = {n: w for n in side if (w := speech.notes.get(n, ""))}
        if words:
            rests = tuple(f"{where}.{note}" for note in words)
            said.append(Said(f"It {verb} {listed(list(words.values()))}.", rests))
    caffeine = next(n for n in numbers if n.name == "caffeine")
    if abs(caffeine.amount) >= NOTICED_CAFFEINE_MG:
        text = f"Caffeine goes from about {caffeine.was:.0f} to {caffeine.now:.0f} mg."
        said.append(Said(text, ("numbers.caffeine",)))
    if verdicts[0] != verdicts[1]:
        text = f"The balance goes from {verdicts[0]} to {verdicts[1]}."
        said.append(Said(text, ("verdict_was", "verdict_now")))
    return tuple(said) or (Said("Nothing changes.", ("lines", "numbers")),)


def _line(speech: Speech, line: LineChange) -> str:
    name = speech.name(line.ingredient)
    if line.now_ml <= 0:
        return f"no {name}"
    if line.was_ml <= 0:
        return f"{line.now_ml:.3g} ml of {name}"
    return f"{line.now_ml:.3g} instead of {line.was_ml:.3g} ml of {name}"
