"""Answers about what goes with what: coffees read, affinities, pairings."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from service.aroma.vocabulary import How
from service.ingredients.records import Process, Roast, Role, Species
from service.recommend import Part
from service.taste import Verdict
from service.web.api.v1.responses.balance import Check, Remedy
from service.web.api.v1.responses.common import Answer, Confidence, Interval, ModelNumbers


class Understood(Answer):
    """Words of the bag, and the notes they stand for."""

    text: str = Field(description="as written")
    phrase: str = Field(description="as known")
    how: How
    descriptors: dict[str, float]


class UnknownWord(Answer):
    """A word that means nothing here; it counts for nothing."""

    word: str
    nearest: list[str]


class AromaNote(Answer):
    """A note of the coffee that does the pairing."""

    descriptor: str
    name: str
    share: float = Field(ge=0, le=1, description="of the whole aroma")


class CoffeeReading(Answer):
    """What was understood of a coffee."""

    profile: str = Field(description="id of its profile, an ingredient too")
    roast: Roast
    process: Process
    species: Species
    notes: str
    understood: list[Understood]
    negated: list[str]
    unknown: list[UnknownWord]
    aroma: list[AromaNote] = Field(description="strongest first")


class Parts(Answer):
    """The score by the four ways to belong together."""

    echo: float
    bridge: float
    contrast: float
    custom: float


class Reason(Answer):
    """One contribution; all of them sum to the score."""

    part: Part
    names: list[str] = Field(description="ids; empty for what is too small to name")
    amount: float


class Affinity(Answer):
    """A score with its parts and reasons."""

    score: float
    parts: Parts
    reasons: list[Reason]
    confidence: Confidence


class PairAffinity(Affinity):
    """How two things belong together."""

    a: str
    b: str


class Affinities(Answer):
    """The pairs that were asked for, in the same order."""

    dataset_version: str
    weights: ModelNumbers
    affinities: list[PairAffinity]


class BuildPour(Answer):
    """One line of a standard build."""

    ingredient: str
    volume_ml: float


class StandardStrength(Answer):
    """Strength before and after the coffee, % vol."""

    before: Interval
    after: Interval


class StandardBalance(Answer):
    """The balance of a suggestion in the standard build of its role."""

    build: list[BuildPour]
    verdict: Verdict
    verdict_before: Verdict
    words: str
    inside_probability: float = Field(ge=0, le=1)
    sweetness: Check
    bitterness: Check
    strength: StandardStrength
    warning: str | None
    remedy: Remedy | None = Field(description="the smallest; null where none is needed")
    cautions: list[str] = Field(description="codes; `/balance` gives the words")


class Suggestion(Affinity):
    """One bottle, why it goes with the coffee, and whether it stays in balance."""

    ingredient: str
    name: str
    role: Role
    allergens: list[str]
    liking: Annotated[
        float | None,
        Field(description="what this bar has liked of it, -1 to 1; null: it said nothing"),
    ]
    balance: StandardBalance


class Suggestions(Answer):
    """Best first. Only the roles that were asked for are there."""

    base: list[Suggestion] = Field(default=[])
    modifier: list[Suggestion] = Field(default=[])
    bitters: list[Suggestion] = Field(default=[])


class Pairings(Answer):
    """What goes with a coffee."""

    dataset_version: str
    coffee: CoffeeReading
    weights: ModelNumbers
    pairings: Suggestions
