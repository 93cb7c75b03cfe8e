"""What the API takes. Unknown fields are refused, so that a slip of the pen is not ignored."""

from __future__ import annotations

from dataclasses import fields
from typing import Annotated, Any, Final, Literal, Self, get_args

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    JsonValue,
    ValidationInfo,
    field_validator,
    model_validator,
)

from service.aroma.words import LONGEST_NOTES_CHARACTERS
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.counter.coffees import Coffee
from service.counter.measure import Measure
from service.counter.readings import METHODS
from service.counter.suggest import Question, bed_of
from service.drink import DEFAULT_COUNTRY
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Role, Species
from service.kit import BadData
from service.kit.units import (
    LARGEST_POUR_G,
    LARGEST_POUR_ML,
    Amount,
    Weighed,
    parse_amount,
)
from service.liquid import Preparation, Stirring

# Coffees and drinks of the examples are invented.
COFFEE_EXAMPLE: Final[JsonValue] = {
    "roast": "medium",
    "process": "natural",
    "notes": "dried fig, red plum, toasted hazelnut",
}
POURS_EXAMPLE: Final[JsonValue] = [
    {"ingredient": "aged-rhum-agricole", "volume_ml": 45},
    {"ingredient": "amontillado sherry", "volume_ml": 25},
    {"ingredient": "fig-liqueur", "amount": "1/2 oz"},
    {"ingredient": "cardamom-bitters", "amount": "1 dash"},
]
Name = Annotated[str, Field(min_length=1, max_length=100)]
SHELF: Final = "shelf"
Bar = Literal["shelf", "everything"]
AmongBar = Annotated[
    Bar | None,
    Field(
        description="this bar's own bottles, with what it learnt: 'shelf', only what stands there; "
        "'everything', whatever it knows. Left out: the dataset alone"
    ),
]


class Request(BaseModel):
    """Strict about names, and about numbers that are words: true is not 1."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)

    @field_validator("*", mode="before")
    @classmethod
    def _truth_is_no_number(cls, value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, bool):
            wanted = cls.model_fields[info.field_name or ""].annotation
            if bool not in (wanted, *get_args(wanted)):
                raise ValueError("must not be true or false")
        return value


class CoffeeRequest(Request):
    """A coffee as the bag tells it."""

    model_config = ConfigDict(json_schema_extra={"examples": [COFFEE_EXAMPLE]})

    roast: Roast = Roast.MEDIUM
    process: Process = Process.WASHED
    species: Species = Species.ARABICA
    notes: Annotated[
        str,
        Field(
            max_length=LONGEST_NOTES_CHARACTERS,
            description="tasting notes in the bag's own words",
            examples=["dark chocolate, dried cherry and a bit of smoke"],
        ),
    ] = ""
    dose_g: Annotated[
        float,
        Field(ge=LEAST_DOSE_G, le=MOST_DOSE_G, description="ground coffee in the filter"),
    ] = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    decaf: bool = False

    def coffee(self) -> Coffee:
        return Coffee(
            CoffeeProfile(self.roast, self.process, self.species),
            self.notes,
            self.dose_g,
            self.grind,
            self.decaf,
        )


def described(coffee: CoffeeRequest | None) -> Coffee | None:
    """The coffee of a request; None for a drink without."""
    return None if coffee is None else coffee.coffee()


class PairRequest(Request):
    a: Name
    b: Name


class PairsRequest(Request):
    """Any two ingredients, coffee profiles included, by id, name or trade word."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"pairs": [{"a": "aged-rhum-agricole", "b": "fig-liqueur"}]}]
        }
    )

    pairs: Annotated[list[PairRequest], Field(min_length=1, max_length=1000)]


class PairingsRequest(Request):
    """A coffee, and what is wanted for it."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"coffee": COFFEE_EXAMPLE, "roles": ["modifier"], "limit": 3}]
        }
    )

    coffee: CoffeeRequest = Field(default_factory=CoffeeRequest)
    roles: Annotated[
        list[Literal["base", "modifier", "bitters"]], Field(min_length=1, max_length=3)
    ] = ["base", "modifier", "bitters"]
    limit: Annotated[int, Field(ge=1, le=100, description="suggestions per role")] = 10
    novelty: Annotated[float, Field(ge=0, le=1, description="0 tried, 0.5 as fitted, 1 new")] = 0.5
    among: Annotated[
        Annotated[list[Name], Field(max_length=2000)] | Bar | None,
        Field(
            description="only these ids; or this bar's own, with what it learnt: 'shelf', only "
            "what stands there; 'everything', whatever it knows"
        ),
    ] = None
    partners: Annotated[
        dict[Literal["base", "modifier", "bitters"], Name],
        Field(description="the other two bottles of the standard builds"),
    ] = {}

    def question(self) -> Question:
        """The question, as it is asked of the dataset; a bar adds its shelf to it."""
        among = self.among if isinstance(self.among, list) else None
        return Question(
            coffee=self.coffee.coffee(),
            roles=tuple(dict.fromkeys(Role(role) for role in self.roles)),
            limit=self.limit,
            novelty=self.novelty,
            among=None if among is None else frozenset(among),
            partners={Role(role): name for role, name in self.partners.items()},
        )


class PourRequest(Request):
    """One line of a drink: an ingredient by id, name or trade word, and an amount.

    Give `volume_ml`, `mass_g`, or an `amount` as it is written (`1.5 oz`, `2 dashes`, `45 g`):
    one of the three. A mass is poured by the density of the usual bottle.
    """

    ingredient: Name
    volume_ml: Annotated[float, Field(gt=0, le=LARGEST_POUR_ML)] | None = None
    mass_g: Annotated[float, Field(gt=0, le=LARGEST_POUR_G)] | None = None
    amount: Annotated[str, Field(min_length=1, max_length=40)] | None = None

    @model_validator(mode="after")
    def one_amount(self) -> Self:
        given = (self.volume_ml, self.mass_g, self.amount)
        if sum(each is not None for each in given) != 1:
            raise ValueError("give volume_ml, mass_g or amount, one of the three")
        return self

    def pour(self, number: int) -> tuple[str, Amount]:
        if self.volume_ml is not None:
            return self.ingredient, self.volume_ml
        if self.mass_g is not None:
            return self.ingredient, Weighed(self.mass_g)
        return self.ingredient, parse_amount(self.amount or "", field=f"pours.{number}.amount")


def poured_lines(pours: list[PourRequest]) -> list[tuple[str, Amount]]:
    """Name and amount of each line."""
    return [pour.pour(number) for number, pour in enumerate(pours)]


class PreparationRequest(Request):
    """How the drink is chilled. What is left out is a bar's usual."""

    method: Literal["stirred", "on-a-cube", "pre-diluted", "none"] = "stirred"
    seconds: Annotated[float, Field(ge=0, le=900)] | None = None
    ice_g: Annotated[float, Field(gt=0, le=5000)] | None = None
    cube_mm: Annotated[float, Field(gt=0, le=100)] | None = None
    ice_celsius: Annotated[float, Field(ge=-40, le=0)] | None = None
    start_celsius: Annotated[float, Field(ge=-10, le=40)] | None = None
    dilution: Annotated[float, Field(ge=0, le=3, description="mL water per mL")] | None = None
    celsius: Annotated[float, Field(ge=-20, le=40)] | None = None

    def preparation(self) -> Preparation:
        given = self.model_dump(exclude={"method"}, exclude_none=True)
        kind = PREPARATIONS[self.method]
        allowed = {field.name for field in fields(kind)}
        if extra := given.keys() - allowed:
            raise BadData(
                f"{sorted(extra)[0]} says nothing of a drink prepared {self.method}; leave it out",
                field="preparation",
            )
        return kind(**given)


class BalanceRequest(Request):
    """Any pours, how they are chilled, and the coffee they run through, or null for none."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"pours": POURS_EXAMPLE, "coffee": COFFEE_EXAMPLE}]}
    )

    pours: Annotated[list[PourRequest], Field(min_length=1, max_length=30)]
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)
    coffee: CoffeeRequest | None = None
    country: Annotated[str, Field(max_length=3, description="whose standard drink")] = (
        DEFAULT_COUNTRY
    )
    name: Annotated[str, Field(max_length=100)] = ""
    among: AmongBar = None

    def measure(self) -> Measure:
        return Measure(
            pours=poured_lines(self.pours),
            preparation=self.preparation.preparation(),
            bed=None if self.coffee is None else bed_of(self.coffee.coffee()),
            country=self.country,
            name=self.name,
        )


class StirRequest(Request):
    """A drink to be followed through its stir."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"pours": POURS_EXAMPLE}]})

    pours: Annotated[list[PourRequest], Field(min_length=1, max_length=30)]
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)
    until_seconds: Annotated[float, Field(gt=0, le=900)] = 120.0

    def stirring(self) -> Stirring:
        chosen = self.preparation.preparation()
        if not isinstance(chosen, Stirring):
            raise BadData("only a stirred drink has a stirring curve", field="preparation.method")
        return chosen


class BedRequest(Request):
    """A drink to be followed through the coffee."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"pours": POURS_EXAMPLE, "coffee": COFFEE_EXAMPLE}]}
    )

    pours: Annotated[list[PourRequest], Field(min_length=1, max_length=30)]
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)
    coffee: CoffeeRequest = Field(default_factory=CoffeeRequest)
    until_seconds: Annotated[float, Field(gt=0, le=86_400)] = 600.0


PREPARATIONS: Final[dict[str, type[Preparation]]] = {name: kind for kind, name in METHODS.items()}
