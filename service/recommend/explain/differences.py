"""Two drinks side by side as a guest would notice it: sweeter, more bitter, sharper, stronger."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from service.drink import State

# Below the first a guest notices nothing; up to the second it is a touch, from the third it is
# much [points of 0-15; % vol for strength]. Estimates; sourness starts steep, so it takes more.
STEPS: Final = {
    "sweet": (0.4, 1.0, 2.5),
    "bitter": (0.4, 1.0, 2.5),
    "sour": (0.8, 1.6, 3.5),
    "strength": (1.0, 2.0, 5.0),
}
WORDS: Final = {
    "sweet": ("sweeter", "less sweet"),
    "bitter": ("more bitter", "less bitter"),
    "sour": ("sharper", "softer"),
    "strength": ("stronger", "lighter"),
}


@dataclass(frozen=True, slots=True)
class TasteDifference:
    """The second less the first in the glass: tastes in points of 0-15, strength in % vol."""

    sweet: float
    bitter: float
    sour: float
    strength: float

    @property
    def words(self) -> tuple[str, ...]:
        """What is noticed, the largest first; nothing where nothing is."""
        noticed = [
            (abs(value) / STEPS[taste][0], difference_words(taste, value))
            for taste in STEPS
            if abs(value := getattr(self, taste)) >= STEPS[taste][0]
        ]
        return tuple(words for _, words in sorted(noticed, key=lambda one: -one[0]))


def taste_difference(was: State, now: State) -> TasteDifference:
    """How the second state tastes against the first, usual bottles."""
    return TasteDifference(
        sweet=now.sweet.mid - was.sweet.mid,
        bitter=now.bitter.mid - was.bitter.mid,
        sour=now.sour.mid - was.sour.mid,
        strength=100.0 * (now.abv.mid - was.abv.mid),
    )


def difference_words(taste: str, value: float) -> str:
    """`a touch sweeter`, `much less bitter` ...

    >>> difference_words("sweet", 0.6), difference_words("bitter", -3.0)
    ('a touch sweeter', 'much less bitter')
    """
    more, less = WORDS[taste]
    _, touch, much = STEPS[taste]
    word = more if value > 0 else less
    if abs(value) < touch:
        return f"a touch {word}"
    return f"much {word}" if abs(value) >= much else word
