"""How far a drink may move before it is another drink, stated measure by measure.

A taste must not move by more than one just noticeable difference. Relative differences for
sucrose, caffeine and citric acid: Schutz and Pilgrim 1957, J. Exp. Psychol. 54:41 (0.17, 0.30,
0.22; from memory, to be confirmed there); caffeine stands for bitterness. The floors, strength and
salt are our estimates.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from service.drink import State
from service.ingredients.records import Ingredient

PER_LITRE: Final = 1000.0


class Measure(StrEnum):
    """What is held in tolerance."""

    SWEETNESS = "sweetness"
    BITTERNESS = "bitterness"
    ACID = "acid"
    STRENGTH = "strength"
    SALT = "salt"

    @property
    def unit(self) -> str:
        return UNITS[self]

    def of(self, state: State) -> float:
        """The usual value of a state, in the measure's unit."""
        return {
            Measure.SWEETNESS: state.sugar_g_per_l.mid,
            Measure.BITTERNESS: state.qhe_mg_per_l.mid,
            Measure.ACID: state.acid_g_per_l.mid,
            Measure.STRENGTH: 100.0 * state.abv.mid,
            Measure.SALT: state.salt_g_per_l.mid,
        }[self]

    def per_ml(self, ingredient: Ingredient) -> float:
        """What one mL of a bottle adds, so that a thousandth of the sum is per litre."""
        holds = ingredient.composition
        return {
            Measure.SWEETNESS: holds.sugar_g_per_l.mid,
            Measure.BITTERNESS: holds.qhe_mg_per_l.mid,
            Measure.ACID: holds.acid_g_per_l.mid,
            Measure.STRENGTH: 100.0 * holds.abv.mid,
            Measure.SALT: holds.salt_g_per_l.mid,
        }[self] / PER_LITRE


UNITS: Final[Mapping[Measure, str]] = {
    Measure.SWEETNESS: "g/L sugar",
    Measure.BITTERNESS: "mg/L QHE",
    Measure.ACID: "g/L acid",
    Measure.STRENGTH: "% vol",
    Measure.SALT: "g/L salt",
}


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A share of the original value, but never less than a floor in the measure's unit."""

    share: float
    floor: float

    def around(self, value: float) -> float:
        return max(self.share * value, self.floor)


TOLERANCES: Final[Mapping[Measure, Tolerance]] = {
    Measure.SWEETNESS: Tolerance(0.17, 5.0),
    Measure.BITTERNESS: Tolerance(0.30, 3.0),
    Measure.ACID: Tolerance(0.22, 0.3),
    Measure.STRENGTH: Tolerance(0.08, 1.0),
    Measure.SALT: Tolerance(0.15, 0.15),
}


@dataclass(frozen=True, slots=True)
class Held:
    """One measure before and after a swap, in the guest's glass."""

    measure: Measure
    was: float
    now: float
    tolerance: float

    @property
    def difference(self) -> float:
        return self.now - self.was

    @property
    def within(self) -> bool:
        return abs(self.difference) <= self.tolerance + 1e-9

    @property
    def beyond(self) -> float:
        """How many tolerances beyond the first; 0 within."""
        return max(abs(self.difference) / self.tolerance - 1.0, 0.0)


def held(was: State, now: State) -> tuple[Held, ...]:
    """Every measure of two states against its tolerance."""
    return tuple(Held(m, m.of(was), m.of(now), TOLERANCES[m].around(m.of(was))) for m in Measure)
