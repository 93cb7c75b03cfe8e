"""Every suggestion in its standard build, read once and kept.

The balance of a build depends on the coffee's roast, species, dose and grind, not on its notes,
so that one reading serves every coffee of a kind.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from threading import Lock
from typing import Final

import numpy as np

from service.bed import DEFAULT, Bed, BedPriors
from service.drink import Drink, Larder, Partners, Reading, State, read_many, standard_build
from service.ingredients.records import Ingredient, Role
from service.kit import Interval, NotFound
from service.taste import AXES, Band, Percept, Verdict, leanings

# The other two of a standard build, unless the person says otherwise: the commonest of their role
# in the reference specifications.
DEFAULT_PARTNERS: Final[Mapping[Role, str]] = {
    Role.BASE: "bourbon",
    Role.MODIFIER: "sweet-vermouth",
    Role.BITTERS: "aromatic-bitters",
}
MOST_KEPT: Final = 4_096
# Beyond one standard spread of the classics a taste is said to be too much or too little.
IN_BALANCE_SPREADS: Final = 1.0
IN_BALANCE: Final = "in balance"
MORE: Final = {"sweet": "sweeter", "bitter": "more bitter"}
CLASSICS, THIS_BAR = "most classics", "this bar likes"
LESS: Final = {"sweet": "drier", "bitter": "milder"}


@dataclass(frozen=True, slots=True)
class Check:
    """One taste before and after the bed, and how far it leans from the middle of balance.

    `before`, `after` in points of 0-15; the leanings in standard spreads, above 0 too much.
    `of_house` says that the bar's own tastings have moved what is right of this taste.
    """

    taste: str
    before: Interval
    after: Interval
    leaning_before: float
    leaning_after: float
    verdict: Verdict
    of_house: bool = False

    @property
    def words(self) -> str:
        """`in balance`, `too sweet`, `not sweet enough` ... as the guest gets it.

        In a drink that is in balance as a whole, a taste is never called too much.
        """
        if abs(self.leaning_after) <= IN_BALANCE_SPREADS:
            return IN_BALANCE
        much = self.leaning_after > 0
        if self.verdict is Verdict.INSIDE:
            others = THIS_BAR if self.of_house else CLASSICS
            return f"{(MORE if much else LESS)[self.taste]} than {others}"
        return f"too {self.taste}" if much else f"not {self.taste} enough"


@dataclass(frozen=True, slots=True, eq=False)
class StandardReading:
    """A standard build, what is foretold of it, and its two checks. Kept, hence compared by
    identity."""

    drink: Drink
    reading: Reading
    sweetness: Check
    bitterness: Check


@dataclass(frozen=True, slots=True)
class Setting:
    """What the readings of standard builds depend on besides the ingredient."""

    partners: tuple[str, str, str]
    bed: Bed | None


@dataclass(slots=True, eq=False)
class StandardReadings:
    """Readings kept by ingredient and setting; the least lately asked for go first."""

    band: Band
    larder: Larder
    priors: BedPriors = DEFAULT
    kept: OrderedDict[tuple[str, Setting], StandardReading] = field(default_factory=OrderedDict)
    lock: Lock = field(default_factory=Lock)

    def of(
        self,
        ingredients: Mapping[str, Ingredient],
        wanted: Sequence[str],
        setting: Setting,
    ) -> list[StandardReading]:
        """One reading per wanted id, those not yet kept in a single pass."""
        missing = [i for i in dict.fromkeys(wanted) if (i, setting) not in self.kept]
        fresh = self._read(ingredients, missing, setting) if missing else {}
        with self.lock:
            for ingredient_id, reading in fresh.items():
                self.kept[ingredient_id, setting] = reading
            found = [fresh.get(i) or self.kept[i, setting] for i in wanted]
            for i in wanted:
                self.kept.move_to_end((i, setting))
            while len(self.kept) > MOST_KEPT:
                self.kept.popitem(last=False)
        return found

    def _read(
        self, ingredients: Mapping[str, Ingredient], wanted: Sequence[str], setting: Setting
    ) -> dict[str, StandardReading]:
        partners = Partners(*(_known(ingredients, i) for i in setting.partners))
        drinks = [standard_build(ingredients[i], partners, bed=setting.bed) for i in wanted]
        readings = read_many(drinks, self.band, larder=self.larder, priors=self.priors)
        sweet, bitter = checks_of(self.band, readings)
        rows = zip(wanted, drinks, readings, sweet, bitter, strict=True)
        return {i: StandardReading(d, r, s, b) for i, d, r, s, b in rows}


def checks_of(band: Band, readings: Sequence[Reading]) -> tuple[list[Check], list[Check]]:
    """The sweetness checks and the bitterness checks of many readings."""
    before = leanings(band, _percept([r.before for r in readings]))
    after = leanings(band, _percept([r.after for r in readings]))
    return (
        [_check(band, "sweet", r, before[i], after[i]) for i, r in enumerate(readings)],
        [_check(band, "bitter", r, before[i], after[i]) for i, r in enumerate(readings)],
    )


def _check(
    band: Band, taste: str, reading: Reading, before: np.ndarray[tuple[int], np.dtype[np.float64]],
    after: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> Check:  # fmt: skip
    column = AXES.index(taste)
    return Check(
        taste,
        getattr(reading.before, taste),
        getattr(reading.after, taste),
        float(before[column]),
        float(after[column]),
        reading.verdict,
        taste in band.moved,
    )


def _percept(states: Sequence[State]) -> Percept:
    return Percept(*(np.array([getattr(state, taste).mid for state in states]) for taste in AXES))


def _known(ingredients: Mapping[str, Ingredient], ingredient_id: str) -> Ingredient:
    if ingredient_id not in ingredients:
        raise NotFound(f"no ingredient has the id {ingredient_id!r}", field="partners")
    return ingredients[ingredient_id]
