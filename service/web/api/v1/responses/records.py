"""Answers about what a bar keeps: bottles, own ingredients, coffees, settings, who changed what."""

from __future__ import annotations

from pydantic import Field, JsonValue

from service.bar import Language, Lattice, Units
from service.ingredients.records import Grind, Process, Roast, Role, Species
from service.web.api.v1.responses.common import Answer, Interval

VERSION = Field(ge=0, description="rises with every change; the ETag")


class Kept(Answer):
    """A record of the bar."""

    id: int
    version: int = VERSION


class ListPart(Answer):
    """Some of a list, in order of id."""

    next_after: int | None = Field(description="`after` of the next part; null at the end")
    total: int = Field(ge=0, description="how many there are in all parts")


class Bottle(Kept):
    """A bottle on the shelf."""

    ingredient: str
    label: str
    abv_percent: float | None
    sugar_g_per_l: float | None
    size_ml: float
    price: float | None
    stock_ml: float
    allergens: list[str]
    notes: str
    out: bool = Field(description="nothing of it can be poured")


class BottlePart(ListPart):
    """Some of the shelf."""

    items: list[Bottle]


class ValueChange(Answer):
    """What a field was, and what it is."""

    before: JsonValue
    after: JsonValue


class GoodRow(Answer):
    """A row that loads."""

    line: int
    outcome: str = Field(description="added, changed or unchanged")
    bottle_id: int | None = Field(description="null for one that is new")
    ingredient: str
    changes: dict[str, ValueChange]


class BadRow(Answer):
    """A row that does not load, as it was given."""

    line: int
    column: str = Field(description="empty where the whole row is to blame")
    reason: str
    cells: list[str]


class ShelfImport(Answer):
    """What a file came to; of each kind the first thousand rows."""

    rows: int
    counts: dict[str, int]
    bad_count: int
    good: list[GoodRow]
    bad: list[BadRow]


class OwnGoodRow(Answer):
    """A row that loads."""

    line: int
    outcome: str = Field(description="added, changed or unchanged")
    own_id: str
    name: str
    changes: dict[str, ValueChange]


class OwnImport(Answer):
    """What a file of own ingredients came to; of each kind the first thousand rows."""

    rows: int
    counts: dict[str, int]
    bad_count: int
    good: list[OwnGoodRow]
    bad: list[BadRow]


class OwnComposition(Answer):
    """What is known of what it holds."""

    abv_percent: Interval | None = Field(default=None, description="left out where unknown")
    sugar_g_per_l: Interval | None = None
    acid_g_per_l: Interval | None = None
    qhe_mg_per_l: Interval | None = None
    caffeine_mg_per_l: Interval | None = None
    salt_g_per_l: Interval | None = None


class OwnIngredient(Answer):
    """An ingredient of this bar alone."""

    id: str
    version: int = VERSION
    name: str
    role: Role
    style: str
    like_id: str
    composition: OwnComposition
    notes: dict[str, float]
    without: list[str]
    allergens: list[str]
    remarks: str


class OwnIngredientPart(Answer):
    """Some of the own ingredients, in order of id."""

    items: list[OwnIngredient]
    next_after: str | None
    total: int = Field(ge=0)


class BarCoffee(Kept):
    """A coffee of this bar."""

    name: str
    roast: Roast
    process: Process
    species: Species
    notes: str
    roasted_on: str | None = Field(description="a date")
    dose_g: float
    grind: Grind
    decaf: bool
    in_use: bool


class BarCoffeePart(ListPart):
    """Some of the coffees."""

    items: list[BarCoffee]


class BarSettings(Answer):
    """The bar itself."""

    version: int = VERSION
    name: str
    place: str
    units: Units
    lattice: Lattice
    country: str
    currency: str
    language: Language
    public_address: str


class AuditLine(Answer):
    """One change: who, when, what, and each field before and after."""

    id: int
    at: str = Field(description="a moment, in UTC")
    who: str
    noun: str
    record: str
    version: int
    what: str
    changes: dict[str, tuple[JsonValue, JsonValue]]


class Changes(Answer):
    """Some of the changes, the latest first."""

    items: list[AuditLine]
    next_before: int | None = Field(description="`before` of the next part; null at the end")


class ApiToken(Kept):
    """A token as it is kept: by what it may do, and its first letters."""

    name: str
    scopes: list[str]
    hint: str
    made_at: str
    revoked_at: str | None


class ApiTokens(Answer):
    """Tokens that are good."""

    items: list[ApiToken]


class NewToken(Answer):
    """A new token; its words are never shown again."""

    token: ApiToken
    words: str = Field(description="send it as `Authorization: Bearer ...`")
