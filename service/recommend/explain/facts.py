"""Facts: everything that may be said, each with an id, a number and where it comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum


class FactKind(StrEnum):
    """What a fact is about. `about` holds, in this order:

    echo: a, b, descriptor. bridge: a, b, third. contrast: a, b, family of a, family of b.
    custom: a, b, like a, like b. rest: a, b, part. score, confidence, part: a, b (, part).
    note: ingredient, descriptor. pour: ingredient, role. path: a, odorant (, note, odorant), b.
    taste, amount: name, moment (before or after). verdict: moment, verdict. remedy: lever, bottle.
    allergen, caution: code, bottles.
    """

    ECHO = "echo"
    BRIDGE = "bridge"
    CONTRAST = "contrast"
    CUSTOM = "custom"
    REST = "rest"
    PART = "part"
    SCORE = "score"
    CONFIDENCE = "confidence"
    NOTE = "note"
    PATH = "path"
    POUR = "pour"
    TASTE = "taste"
    AMOUNT = "amount"
    VERDICT = "verdict"
    ALLERGEN = "allergen"
    CAUTION = "caution"
    REMEDY = "remedy"


# The contributions to a score: they sum to it.
CONTRIBUTIONS = frozenset(
    {FactKind.ECHO, FactKind.BRIDGE, FactKind.CONTRAST, FactKind.CUSTOM, FactKind.REST}
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that is known. `words` where the fact is words already (a verdict, a remedy)."""

    id: str
    kind: FactKind
    about: tuple[str, ...]
    value: float = 0.0
    unit: str = ""
    words: str = ""
    grades: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """A set of facts in a fixed order."""

    every: tuple[Fact, ...]

    @classmethod
    def gathered(cls, *groups: Iterable[Fact]) -> Facts:
        """All groups in one; of facts with the same id the first stays."""
        unique: dict[str, Fact] = {}
        for group in groups:
            for fact in group:
                unique.setdefault(fact.id, fact)
        return cls(tuple(unique.values()))

    def __iter__(self) -> Iterator[Fact]:
        return iter(self.every)

    def of(self, kind: FactKind, *about: str) -> list[Fact]:
        """Facts of a kind whose `about` starts with these, in order."""
        size = len(about)
        return [f for f in self.every if f.kind is kind and f.about[:size] == about]

    def one(self, kind: FactKind, *about: str) -> Fact | None:
        """The first such fact, if any."""
        return next(iter(self.of(kind, *about)), None)

    def without(self, fact_id: str) -> Facts:
        """The same without one of them."""
        return Facts(tuple(f for f in self.every if f.id != fact_id))
