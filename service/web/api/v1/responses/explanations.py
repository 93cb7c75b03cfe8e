"""Answers about why: three lengths from one set of facts; why not; what if."""

from __future__ import annotations

from pydantic import Field

from service.taste import Verdict
from service.web.api.v1.responses.common import Answer, Confidence
from service.web.api.v1.responses.dataset import Source
from service.web.api.v1.responses.pairings import Parts


class Sentence(Answer):
    """A sentence, and the ids of the facts it rests on."""

    text: str
    facts: list[str]


class Telling(Answer):
    """Sentences one by one, and all of them as one text."""

    text: str
    sentences: list[Sentence]


class Fact(Answer):
    """One thing that is known. What `about` holds depends on the kind."""

    id: str
    kind: str = Field(description="such as echo, bridge, note, taste; new kinds may come")
    about: list[str]
    value: float
    unit: str | None
    words: str | None
    grades: list[str]
    sources: list[str]


class Contribution(Answer):
    """What one fact adds to a score."""

    fact: str
    amount: float


class NotePath(Answer):
    """A way through the graph that explains a pair."""

    nodes: list[str]
    strength: float
    fact: str


class PairEvidence(Answer):
    """The score of one pair, taken apart; contributions sum to it."""

    a: str
    b: str
    score: float
    parts: Parts
    confidence: Confidence
    contributions: list[Contribution]
    paths: list[NotePath]


class Evidence(Answer):
    """All that an explanation rests on."""

    pairs: list[PairEvidence]
    readings: list[str] = Field(description="ids of facts about the drink itself")
    grades: dict[str, int] = Field(description="rows of the dataset by grade")
    sources: list[Source]


class Explanation(Answer):
    """Why, for a guest, for staff, and for whoever doubts it."""

    dataset_version: str
    guest: Telling
    staff: Telling
    evidence: Evidence
    facts: list[Fact]


class LastSuggested(Answer):
    """The last bottle that was suggested."""

    ingredient: str
    score: float


class WhyNot(Telling):
    """What a bottle lacks against the last one suggested in its role."""

    ingredient: str
    suggested: bool = Field(description="true where it was suggested after all")
    candidate: bool = Field(description="false where it was not among those to choose from")
    place: int = Field(ge=1)
    candidates: int = Field(ge=0)
    score: float
    last: LastSuggested
    gap: float
    gaps: Parts
    lacks: list[str]
    has: list[str]


class ChangedLine(Answer):
    """A line that differs between two drinks."""

    ingredient: str
    was_ml: float
    now_ml: float


class ChangedNumber(Answer):
    """A number of the drink after the coffee, before and after the change."""

    name: str
    unit: str
    was: float
    now: float
    difference: float


class VerdictChange(Answer):
    """The verdict before and after the change."""

    was: Verdict
    now: Verdict


class WhatIf(Telling):
    """What a change does to a drink."""

    lines: list[ChangedLine]
    numbers: list[ChangedNumber]
    taste: list[str]
    lost: list[str]
    gained: list[str]
    verdict: VerdictChange
