"""What a glass shall be, by which ways, and what comes of each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from service.drink.parts import Drink
from service.kit import BadData, OutOfRange

# Weaker is no drink with alcohol, stronger no bottle. The glass takes what a bed takes.
LEAST_ABV, MOST_ABV = 0.01, 0.95
LEAST_GLASS_ML, MOST_GLASS_ML = 1.0, 20_000.0


class Way(StrEnum):
    """One way to the glass that is wanted."""

    STIRRING = "stirring"
    WATER = "water"
    AMOUNTS = "amounts"


@dataclass(frozen=True, slots=True)
class Target:
    """What the guest's glass shall be: a strength [fraction at 20 °C], a volume [mL], or both."""

    abv: float | None = None
    volume_ml: float | None = None

    def __post_init__(self) -> None:
        if self.abv is None and self.volume_ml is None:
            raise BadData(
                "say what the glass shall be: a strength, a volume, or both", field="abv_percent"
            )
        if self.abv is not None and not LEAST_ABV <= self.abv <= MOST_ABV:
            out = OutOfRange.of(
                "abv_percent", 100 * self.abv, 100 * LEAST_ABV, 100 * MOST_ABV, "% vol"
            )
            raise OutOfRange(f"{out.message}; write 28 for 28 % vol", field=out.field)
        if self.volume_ml is not None and not LEAST_GLASS_ML <= self.volume_ml <= MOST_GLASS_ML:
            raise OutOfRange.of("glass_ml", self.volume_ml, LEAST_GLASS_ML, MOST_GLASS_ML, "mL")


@dataclass(frozen=True, slots=True)
class Reached:
    """The drink that gets there. `factor` is on every pour of the one that was asked about."""

    way: Way
    drink: Drink
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Missed:
    """A way that does not lead there, and what it does reach: `low` to `high` of `quantity`.

    quantity : `abv` (fraction) or `volume_ml`; empty where nothing on this way can be reckoned
    low, high : its ends; None where that end was not looked for, since the target lies beyond
        the other
    reason : why, where a range does not say it
    """

    way: Way
    quantity: str
    low: float | None = None
    high: float | None = None
    reason: str = ""


class NotOnThisWay(Exception):
    """Says within a search that a way does not lead there."""

    def __init__(self, missed: Missed) -> None:
        super().__init__(missed.way)
        self.missed = missed
