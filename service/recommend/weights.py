"""The weights of the four ways to belong together: one frozen record, printed with each result."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from service.kit import OutOfRange

NAMED, KIN = 2.5, 0.3
TRIED, BALANCED, NEW = 0.0, 0.5, 1.0


@dataclass(frozen=True, slots=True)
class Weights:
    """What each part counts for, and where the person stands between *tried* and *new*.

    `named` is what a note of this very coffee counts for beyond any shared note: what its bag
    names, and what sets its roast or process apart. No attested pair tells of which coffee it
    was, so this cannot be fitted: our estimate, such that a firm match with the bag weighs as
    much as the firmest custom. `kin` is the share of that for notes of one family with what the
    bag names: raspberry where it says strawberry.

    `novelty` 0 is tried (custom counts double), 0.5 as fitted, 1 is new (custom counts nothing).
    """

    echo: float
    bridge: float
    contrast: float
    custom: float
    novelty: float = BALANCED
    named: float = NAMED
    kin: float = KIN

    def __post_init__(self) -> None:
        if not TRIED <= self.novelty <= NEW:
            raise OutOfRange.of("novelty", self.novelty, TRIED, NEW, "(0 tried, 1 new)")

    @property
    def custom_in_force(self) -> float:
        return self.custom * 2.0 * (1.0 - self.novelty)

    def as_json(self) -> dict[str, float]:
        return asdict(self)
