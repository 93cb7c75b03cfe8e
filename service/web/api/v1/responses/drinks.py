"""Answers about the bar's drinks: specs, tonight, trials, blind tests, guests."""

from __future__ import annotations

from pydantic import Field, JsonValue

from service.bar import BlindKind, SpecStatus
from service.web.api.v1.responses.common import Answer
from service.web.api.v1.responses.records import Kept, ListPart


class SpecPour(Answer):
    """One line of a drink."""

    ingredient: str
    volume_ml: float


class Spec(Kept):
    """A spec at one of its revisions."""

    name: str
    status: SpecStatus
    revision: int
    latest: int = Field(description="the newest revision there is")
    written_at: str
    written_by: str
    pours: list[SpecPour]
    coffee_id: int | None
    preparation: dict[str, JsonValue] = Field(description="what is not the bar's usual")
    bed: dict[str, JsonValue] = Field(description="what is not as the bag says")
    glass: str
    garnish: str
    method: str
    reason: str


class SpecPart(ListPart):
    """Some of the specs, at their latest revisions."""

    items: list[Spec]


class Revisions(Answer):
    """Every revision of a spec, the first one first."""

    items: list[Spec]


class SpecChange(Answer):
    """One difference. Of a pour, `field` is `pours.` and the ingredient, the values are mL."""

    field: str
    before: JsonValue
    after: JsonValue


class Difference(Answer):
    """What differs between two revisions."""

    before: int
    after: int
    changes: list[SpecChange]


class Substitution(Kept):
    """What is poured for a spec on one night."""

    spec_id: int
    revision: int
    night: str = Field(description="a date; a night lasts until six in the morning")
    ingredient_out: str
    pours: list[SpecPour]
    remarks: str


class Substitutions(Answer):
    """All that were accepted for a night."""

    night: str
    items: list[Substitution]


class Sheet(Answer):
    """A spec as it is made on a night."""

    spec: Spec
    pours: list[SpecPour]
    substitution: Substitution | None = Field(description="null where it is made as written")


class Trial(Kept):
    """One making and tasting; null where nobody looked."""

    spec_id: int
    revision: int
    coffee_id: int | None
    made_at: str
    taster: str
    dose_g: float | None
    liquid_in_ml: float | None
    liquid_out_ml: float | None
    drain_seconds: float | None
    celsius: float | None
    sweetness: int | None
    bitterness: int | None
    coffee_strength: int | None
    strength: int | None
    liking: int | None
    words: str
    conditions: dict[str, JsonValue] = Field(description="bed and liquid as they were")
    undone_at: str | None = Field(description="since when it does not count")


class TrialPart(ListPart):
    """Some of the trials."""

    items: list[Trial]


class BlindServing(Answer):
    """One seat: codes in the order of tasting, what is behind them, and the right answer."""

    seat: int
    codes: list[str]
    samples: list[str]
    right: str


class BlindPlan(Answer):
    """The pourer's sheet; keep it from the tasters."""

    samples: list[str]
    question: str
    seed: int
    two_sided: bool
    servings: list[BlindServing]


class BlindResult(Answer):
    """What a blind test says; only there once it is closed. Intervals are low, mid, high."""

    correct: int
    assessors: int
    two_sided: bool
    alpha: float
    p_value: float
    fewest_correct: int | None
    significant: bool
    d_prime: list[float]
    discriminators: list[float]
    power: float
    words: str
    unread_seats: list[int]


class BlindAnswer(Kept):
    """What the taster at one seat said."""

    test_id: int
    seat: int
    taster: str
    answer: str
    words: str


class BlindTest(Kept):
    """A blind test: its plan, and once it is closed its result."""

    name: str
    kind: BlindKind
    planned_at: str
    plan: BlindPlan
    closed_at: str | None
    result: BlindResult | None


class BlindTestPart(ListPart):
    """Some of the blind tests."""

    items: list[BlindTest]


class BlindTestWithAnswers(Answer):
    """A blind test and what was answered so far."""

    test: BlindTest
    answers: list[BlindAnswer]


class GuestLink(Kept):
    """Where guests read of one spec."""

    token: str
    address: str = Field(description="the page, on this service")
    spec_id: int
    made_at: str
    revoked_at: str | None


class GuestLinkPart(ListPart):
    """Some of the links that are open."""

    items: list[GuestLink]
