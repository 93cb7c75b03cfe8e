"""Answers about whole drinks: amounts, reasons, and the proof that none is better."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from service.ingredients.records import Role
from service.web.api.v1.responses.balance import Measured
from service.web.api.v1.responses.common import Answer, ModelNumbers
from service.web.api.v1.responses.pairings import Affinity, CoffeeReading, PairAffinity


class ComposedPour(Answer):
    """One line of a drink, in the bar's measures."""

    ingredient: str
    name: str
    role: Role
    volume_ml: float
    amount: str = Field(examples=["2 dashes"])


class ScoreShare(Answer):
    """What one thing adds to the score of a drink; all shares sum to it."""

    part: str
    ids: list[str]
    amount: float


class SearchForecast(Answer):
    """What the search reckoned with; the reading beside it has the uncertainty."""

    inside_probability: float = Field(ge=0, le=1)
    abv_percent: float
    volume_ml: float
    caffeine_mg_at_most: float
    cost: float
    unpriced: list[str] = Field(description="bottles without a price, counted as nothing")


class WithCoffee(Affinity):
    """How one part of the drink belongs to the coffee."""

    b: str


class DrinkReasons(Answer):
    """Why the drink: its parts with the coffee, and among themselves."""

    with_coffee: list[WithCoffee]
    together: list[PairAffinity]


class ComposedDrink(Answer):
    """A drink with amounts, its score taken apart, its reading and its reasons."""

    score: float
    parts: ModelNumbers
    shares: list[ScoreShare]
    pours: list[ComposedPour]
    dose_g: float | None
    forecast: SearchForecast
    reading: Measured
    reasons: DrinkReasons


class Certificate(Answer):
    """How it is known that no drink within the limits is better."""

    candidates: int = Field(ge=0, description="drinks within the rules")
    bound: float | None = Field(description="no drink that was not looked at scores more")
    groups: int = Field(ge=0)
    groups_opened: int = Field(ge=0)
    cells: int = Field(ge=0)
    drinks: int = Field(ge=0, description="drinks that were looked at one by one")
    proved: bool = Field(description="false where the search was stopped")
    by_enumeration: bool


class MeasuresAnswer(Answer):
    """What amounts were allowed."""

    step: Literal["5 ml", "7.5 ml", "1/4 oz"]
    step_ml: float
    base_ml: list[float]
    modifier_ml: list[float]
    sweetener_ml: list[float]
    dashes: list[int]


class LimitsAnswer(Answer):
    """What every drink keeps, in the glass."""

    must: list[str]
    must_not: list[str]
    without_allergens: list[str]
    abv_percent: list[float] = Field(description="least and most")
    most_caffeine_mg: float | None
    most_cost: float | None
    glass_ml: list[float] = Field(description="least and most")
    least_balance: float


class VarietyAnswer(Answer):
    """How different the drinks are from one another."""

    repeat_pairs: bool
    most_per_bottle: int | None


class Compositions(Answer):
    """The best drinks for a coffee, best first, and how that is known."""

    dataset_version: str
    coffee: CoffeeReading
    weights: ModelNumbers
    affinity_weights: ModelNumbers
    measures: MeasuresAnswer
    limits: LimitsAnswer
    variety: VarietyAnswer
    certificate: Certificate
    drinks: list[ComposedDrink]
