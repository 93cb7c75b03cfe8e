"""What the API takes for swaps and explanations."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, JsonValue

from service.counter.explain import Poured
from service.counter.suggest import bed_of
from service.counter.swap import SwapQuestion
from service.drink.lattice import LATTICES
from service.kit.jigger import JiggerStep
from service.web.api.v1.requests import (
    COFFEE_EXAMPLE,
    POURS_EXAMPLE,
    AmongBar,
    CoffeeRequest,
    Name,
    PourRequest,
    PreparationRequest,
    Request,
    poured_lines,
)

LESS_EXAMPLE: JsonValue = [
    {"ingredient": "aged-rhum-agricole", "volume_ml": 45},
    {"ingredient": "amontillado sherry", "volume_ml": 30},
]
Pours = Annotated[list[PourRequest], Field(min_length=1, max_length=30)]


class SwapRequest(Request):
    """What is out, and where it was poured, if a drink is to be saved."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"ingredient": "fig liqueur", "pours": POURS_EXAMPLE, "limit": 3}]
        }
    )

    ingredient: Annotated[Name, Field(description="id, name, trade word or style")]
    pours: Annotated[list[PourRequest], Field(max_length=30, default_factory=list)]
    coffee: CoffeeRequest | None = Field(default_factory=CoffeeRequest)
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)
    shelf: Annotated[list[Name] | None, Field(max_length=2000)] = None
    among: AmongBar = None
    avoid: Annotated[
        list[Name],
        Field(
            max_length=20,
            default_factory=list,
            description="allergens that nothing new may hold",
        ),
    ]
    limit: Annotated[int, Field(ge=1, le=50)] = 10
    lattice: Annotated[
        Literal["5 ml", "7.5 ml", "1/4 oz"] | None,
        Field(description="left out: the bar's own where it is asked, else 5 ml"),
    ] = None

    def question(self) -> SwapQuestion:
        return SwapQuestion(
            ingredient=self.ingredient,
            pours=poured_lines(self.pours),
            shelf=self.shelf,
            limit=self.limit,
            avoid=frozenset(self.avoid),
            bed=None if self.coffee is None else bed_of(self.coffee.coffee()),
            preparation=self.preparation.preparation(),
            lattice=None if self.lattice is None else LATTICES[JiggerStep(self.lattice)],
        )


class DrinkRequest(Request):
    """A drink as asked about."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"pours": POURS_EXAMPLE, "coffee": COFFEE_EXAMPLE}]}
    )

    pours: Pours
    coffee: CoffeeRequest | None = Field(default_factory=CoffeeRequest)
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)

    def poured(self) -> Poured:
        return Poured(
            poured_lines(self.pours),
            None if self.coffee is None else self.coffee.coffee(),
            self.preparation.preparation(),
        )


class DrinkExplanationRequest(DrinkRequest):
    """A drink to be explained, by the dataset or by this bar."""

    among: AmongBar = None


class PairingExplanationRequest(Request):
    """One bottle and one coffee."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"ingredient": "fig liqueur", "coffee": COFFEE_EXAMPLE}]}
    )

    coffee: CoffeeRequest = Field(default_factory=CoffeeRequest)
    ingredient: Name


class WhyNotRequest(PairingExplanationRequest):
    """A bottle that was not among the suggestions."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"ingredient": "peach liqueur", "coffee": COFFEE_EXAMPLE}]}
    )

    among: Annotated[list[Name] | None, Field(max_length=2000)] = None
    limit: Annotated[int, Field(ge=1, le=100)] = 10


class WhatIfRequest(Request):
    """Two drinks to be told apart."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"was": {"pours": POURS_EXAMPLE}, "now": {"pours": LESS_EXAMPLE}}]
        }
    )

    was: DrinkRequest
    now: DrinkRequest
