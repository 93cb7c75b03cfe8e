"""What the API takes for whole drinks."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, JsonValue

from service.counter.compose import ComposeQuestion, OnShelf
from service.drink import DEFAULT_COUNTRY
from service.kit.jigger import JiggerStep
from service.recommend.compose import Limits, Measures, Shape, Variety
from service.web.api.v1.requests import (
    COFFEE_EXAMPLE,
    AmongBar,
    CoffeeRequest,
    Name,
    Request,
)

COMPOSITION_EXAMPLE: JsonValue = {
    "coffee": COFFEE_EXAMPLE,
    "shelf": [
        {"ingredient": "aged-rhum-agricole", "price_per_ml": 0.051, "stock_ml": 700},
        {"ingredient": "amontillado sherry"},
        {"ingredient": "fig liqueur"},
        {"ingredient": "cardamom bitters"},
    ],
    "limits": {"most_caffeine_mg": 250},
    "limit": 2,
}


class ShelfLine(Request):
    """One thing that stands there; price and stock where they are known."""

    ingredient: Name
    price_per_ml: Annotated[float, Field(ge=0, le=1000)] | None = None
    stock_ml: Annotated[float, Field(ge=0, le=1e6)] | None = None


class LimitsRequest(Request):
    """What every drink must keep, in the glass."""

    must: Annotated[list[Name], Field(max_length=10)] = Field(default_factory=list)
    must_not: Annotated[list[Name], Field(max_length=200)] = Field(default_factory=list)
    without_allergens: Annotated[list[Name], Field(max_length=20)] = Field(default_factory=list)
    least_abv_percent: Annotated[float, Field(ge=0, le=100)] = 0.0
    most_abv_percent: Annotated[float, Field(ge=0, le=100)] = 100.0
    most_caffeine_mg: Annotated[float, Field(gt=0, le=1000)] | None = None
    most_cost: Annotated[float, Field(gt=0, le=1e6)] | None = None
    least_glass_ml: Annotated[float, Field(ge=0, le=1000)] = 60.0
    most_glass_ml: Annotated[float, Field(ge=0, le=1000)] = 140.0
    least_balance: Annotated[float, Field(ge=0, le=1)] = 0.0

    def limits(self) -> Limits:
        return Limits(
            must=frozenset(self.must),
            must_not=frozenset(self.must_not),
            without_allergens=frozenset(self.without_allergens),
            least_abv=self.least_abv_percent / 100.0,
            most_abv=self.most_abv_percent / 100.0,
            most_caffeine_mg=self.most_caffeine_mg,
            most_cost=self.most_cost,
            least_glass_ml=self.least_glass_ml,
            most_glass_ml=self.most_glass_ml,
            least_balance=self.least_balance,
        )


class CompositionRequest(Request):
    """A coffee and a shelf; without a shelf, every bottle that is known."""

    model_config = ConfigDict(json_schema_extra={"examples": [COMPOSITION_EXAMPLE]})

    coffee: CoffeeRequest = Field(default_factory=CoffeeRequest)
    shelf: Annotated[list[ShelfLine], Field(min_length=1, max_length=500)] | None = None
    among: AmongBar = None
    limits: LimitsRequest = Field(default_factory=LimitsRequest)
    limit: Annotated[int, Field(ge=1, le=20)] = 5
    step: Literal["5 ml", "7.5 ml", "1/4 oz"] = "7.5 ml"
    most_modifiers: Annotated[int, Field(ge=1, le=2)] = 2
    most_bitters: Annotated[int, Field(ge=0, le=2)] = 2
    repeat_pairs: Annotated[bool, Field(description="may drinks share base and modifier")] = False
    free_dose: Annotated[bool, Field(description="coffee from 10 to 20 g")] = False
    novelty: Annotated[float, Field(ge=0, le=1)] = 0.5
    country: Annotated[str, Field(max_length=3)] = DEFAULT_COUNTRY

    def question(self) -> ComposeQuestion:
        shelf = None
        if self.shelf is not None:
            shelf = [OnShelf(s.ingredient, s.price_per_ml, s.stock_ml) for s in self.shelf]
        return ComposeQuestion(
            coffee=self.coffee.coffee(),
            shelf=shelf,
            limit=self.limit,
            free_dose=self.free_dose,
            measures=Measures(step=JiggerStep(self.step)),
            shape=Shape(modifiers=(1, self.most_modifiers), bitters=(0, self.most_bitters)),
            limits=self.limits.limits(),
            variety=Variety(repeat_pairs=self.repeat_pairs),
            novelty=self.novelty,
            country=self.country,
        )
