"""What the API takes for bottles, own ingredients, coffees and the bar itself.

Only shapes are looked at here; whether a bar can keep it is decided where it is kept.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Final

from pydantic import ConfigDict, Field, JsonValue

from service.bar import (
    BarSettings,
    BottleDraft,
    CoffeeDraft,
    Language,
    Lattice,
    OwnIngredientDraft,
    Scope,
    Units,
)
from service.counter.naming import id_named
from service.ingredients import Catalogue
from service.ingredients.records import Grind, Process, Roast, Role, Species
from service.kit import Interval
from service.web.api.v1.requests import Name, Request

# Larger numbers are no ids of ours, and no database could hold them.
HIGHEST_ID: Final = 2**53
# Versions and revisions are counted in columns of 32 bits.
HIGHEST_VERSION: Final = 2**31 - 1
LONGEST_TEXT: Final = 10_000
Id = Annotated[int, Field(ge=1, le=HIGHEST_ID)]
Text = Annotated[str, Field(max_length=LONGEST_TEXT)]
Words = Annotated[list[Name], Field(max_length=200)]
BOTTLE_EXAMPLE: Final[dict[str, JsonValue]] = {
    "ingredient": "aged-rhum-agricole",
    "label": "second shelf, left",
    "abv_percent": 45.5,
    "size_ml": 700,
    "price": 34.5,
    "stock_ml": 1400,
}
OWN_EXAMPLE: Final[dict[str, JsonValue]] = {
    "name": "kelp tincture",
    "role": "seasoning",
    "like": "saline",
    "composition": {"abv_percent": {"low": 38, "mid": 40, "high": 42}},
    "notes": {"salt": 0.6},
}
COFFEE_EXAMPLE: Final[dict[str, JsonValue]] = {
    "name": "Breakwater",
    "process": "natural",
    "notes": "dried fig, red plum, toasted hazelnut",
    "roasted_on": "2026-11-16",
}


class Change(Request):
    """A change of what is there already: says which version of it was seen."""

    version: Annotated[
        int | None, Field(ge=0, le=HIGHEST_VERSION, description="what was seen; or send If-Match")
    ] = None


class BottleRequest(Request):
    """A bottle as its label says."""

    model_config = ConfigDict(json_schema_extra={"examples": [BOTTLE_EXAMPLE]})

    ingredient: Annotated[Name, Field(description="id, name or trade word")]
    label: Annotated[Text, Field(description="for the bar's eyes only")] = ""
    abv_percent: Annotated[float | None, Field(description="null: the category's")] = None
    sugar_g_per_l: Annotated[float | None, Field(description="null: the category's")] = None
    size_ml: float = 700.0
    price: Annotated[float | None, Field(description="of one bottle, in the bar's currency")] = None
    stock_ml: float = 0.0
    allergens: Words = Field(default_factory=list)
    notes: Text = ""

    def draft(self, catalogue: Catalogue) -> BottleDraft:
        given = self.model_dump(exclude={"ingredient", "allergens", "version"})
        ingredient = id_named(catalogue, self.ingredient, field="ingredient")
        return BottleDraft(ingredient=ingredient, allergens=tuple(self.allergens), **given)


class BottleChange(Change, BottleRequest):
    """All that is written of a bottle, instead of what stands there."""

    model_config = ConfigDict(json_schema_extra={"examples": [{**BOTTLE_EXAMPLE, "version": 1}]})


class StockRequest(Request):
    """So much came in, or went."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"by_ml": -45}]})

    by_ml: Annotated[float, Field(description="below 0: it went")]


class RangeRequest(Request):
    """From about to about; the middle is what is usual."""

    low: float
    mid: float
    high: float


class CompositionRequest(Request):
    """What it holds, as far as anybody knows."""

    abv_percent: RangeRequest | None = None
    sugar_g_per_l: RangeRequest | None = None
    acid_g_per_l: RangeRequest | None = None
    qhe_mg_per_l: RangeRequest | None = None
    caffeine_mg_per_l: RangeRequest | None = None
    salt_g_per_l: RangeRequest | None = None

    def ranges(self) -> dict[str, Interval]:
        given = {name: getattr(self, name) for name in CompositionRequest.model_fields}
        spans = {n: Interval(r.low, r.mid, r.high) for n, r in given.items() if r is not None}
        if percent := spans.pop("abv_percent", None):
            spans["abv"] = percent.scaled(0.01)
        return spans


class OwnIngredientRequest(Request):
    """An ingredient that the dataset does not know: by its notes, by what it holds, or as
    'like X, but'."""

    model_config = ConfigDict(json_schema_extra={"examples": [OWN_EXAMPLE]})

    name: Name
    role: Role
    style: Text = ""
    like: Annotated[Text, Field(description="what it resembles: id, name or trade word")] = ""
    composition: CompositionRequest = Field(default_factory=CompositionRequest)
    notes: Annotated[
        dict[Name, float],
        Field(max_length=200, default_factory=dict, description="descriptor to weight, up to 1"),
    ]
    without: Annotated[
        Words, Field(default_factory=list, description="descriptors that `like` has, this has not")
    ]
    allergens: Words = Field(default_factory=list)
    remarks: Text = ""

    def draft(self, catalogue: Catalogue) -> OwnIngredientDraft:
        return OwnIngredientDraft(
            name=self.name,
            role=self.role,
            style=self.style,
            like_id=id_named(catalogue, self.like, field="like") if self.like else "",
            composition=self.composition.ranges(),
            notes=self.notes,
            without=tuple(self.without),
            allergens=tuple(self.allergens),
            remarks=self.remarks,
        )


class OwnIngredientChange(Change, OwnIngredientRequest):
    """All that is said of an own ingredient, instead of what stands there."""

    model_config = ConfigDict(json_schema_extra={"examples": [{**OWN_EXAMPLE, "version": 1}]})


class BarCoffeeRequest(Request):
    """A coffee in use."""

    model_config = ConfigDict(json_schema_extra={"examples": [COFFEE_EXAMPLE]})

    name: Name
    roast: Roast = Roast.MEDIUM
    process: Process = Process.WASHED
    species: Species = Species.ARABICA
    notes: Annotated[Text, Field(description="the bag's own words")] = ""
    roasted_on: date | None = None
    dose_g: float = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    decaf: bool = False
    in_use: bool = True

    def draft(self) -> CoffeeDraft:
        return CoffeeDraft(**self.model_dump(exclude={"version"}))


class BarCoffeeChange(Change, BarCoffeeRequest):
    """All that is written of a coffee, instead of what stands there."""

    model_config = ConfigDict(json_schema_extra={"examples": [{**COFFEE_EXAMPLE, "version": 1}]})


class SettingsChange(Change):
    """The bar itself; version 0 while nobody has set anything."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"name": "The Salt Stair", "place": "Port Merrow", "version": 0}]
        }
    )

    name: Name
    place: Text = ""
    units: Units = Units.ML
    lattice: Lattice = Lattice.FIVE_ML
    country: Annotated[str, Field(max_length=10, description="ISO 3166-1, two letters")] = "IE"
    currency: Annotated[str, Field(max_length=10, description="ISO 4217, three letters")] = "EUR"
    language: Language = Language.ENGLISH
    public_address: Annotated[
        str, Field(max_length=300, description="where guests reach it; empty: as the staff do")
    ] = ""

    def settings(self, version: int) -> BarSettings:
        return BarSettings(**self.model_dump(exclude={"version"}), version=version)


class TokenRequest(Request):
    """A new token, and what it may do."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"name": "till", "scopes": ["read"]}]}
    )

    name: Name
    scopes: Annotated[list[Scope], Field(min_length=1, max_length=2)]
