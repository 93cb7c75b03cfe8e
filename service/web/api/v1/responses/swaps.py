"""Answers about a bottle that is out: what to pour instead."""

from __future__ import annotations

from pydantic import Field

from service.ingredients.records import Role
from service.taste import Verdict
from service.web.api.v1.responses.balance import AskedDrink, Standing
from service.web.api.v1.responses.common import Answer, Confidence, ModelNumbers


class Flag(Answer):
    """What a replacement brings that was not there before; said before anything else."""

    kind: str = Field(examples=["allergen"])
    code: str
    ingredient: str
    words: str


class SpokenNote(Answer):
    """A note that is kept, lost or gained, and the word for it at the bar."""

    descriptor: str
    share: float = Field(ge=0, le=1, description="of the aroma")
    word: str


class Missing(Answer):
    """The bottle that is out."""

    ingredient: str
    name: str
    role: Role


class ToBuy(Answer):
    """A bottle that would do it, and is not on the shelf."""

    ingredient: str
    name: str
    score: float


class NotesCompared(Answer):
    """What a replacement does to the smell."""

    kept_share: float = Field(ge=0, le=1)
    added_share: float = Field(ge=0, le=1)
    kept: list[SpokenNote]
    lost: list[SpokenNote]
    gained: list[SpokenNote]


class StandIn(Answer):
    """One replacement before any amounts."""

    flags: list[Flag]
    ingredient: str
    name: str
    role: Role
    score: float
    confidence: Confidence
    parts: ModelNumbers
    notes: NotesCompared
    jobs: list[str] = Field(description="what both are poured for")
    poured_with: list[str]
    words: str


class PourChange(Answer):
    """One line of the drink that moves."""

    ingredient: str
    name: str
    was_ml: float
    now_ml: float
    words: str


class HeldMeasure(Answer):
    """A measure of the drink, and whether it stays within tolerance."""

    measure: str
    unit: str
    was: float
    now: float
    difference: float
    tolerance: float
    within: bool


class Noticed(Answer):
    """What a guest will notice."""

    kept_share: float = Field(ge=0, le=1)
    lost: list[SpokenNote]
    gained: list[SpokenNote]
    sweeter_points: float = Field(description="points of 0 to 15; below 0 is less")
    more_bitter_points: float
    sharper_points: float
    stronger_percent: float = Field(description="% vol")
    taste: list[str]


class RescuedDrink(Answer):
    """One way out, with every amount that moves."""

    flags: list[Flag]
    ingredient: str
    ingredients: list[str] = Field(description="one bottle, or two together")
    name: str
    score: float
    likeness: float
    confidence: Confidence
    parts: ModelNumbers
    drink: AskedDrink
    changes: list[PourChange]
    in_tolerance: bool
    tolerances: list[HeldMeasure]
    noticed: Noticed
    after: Standing
    words: str


class _SwapAnswer(Answer):
    dataset_version: str
    missing: Missing
    nothing_does_it: bool = Field(description="true where no replacement on the shelf will do")
    to_buy: list[ToBuy]
    words: str
    weights: ModelNumbers


class Replacements(_SwapAnswer):
    """What stands in for a bottle, where no drink was given; best first."""

    replacements: list[StandIn]


class Rescue(_SwapAnswer):
    """How a drink is saved, with one bottle or with two; best first."""

    drink: AskedDrink
    verdict: Verdict
    replacements: list[RescuedDrink]
    two_bottles: list[RescuedDrink]
