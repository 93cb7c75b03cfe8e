"""Answers about the dataset: health, ingredients, evidence and sources."""

from __future__ import annotations

from pydantic import Field

from service.ingredients.records import Grade, Impact, Role
from service.web.api.v1.responses.common import Answer, Interval


class Health(Answer):
    """Whether the service answers, and how much it knows."""

    status: str = Field(examples=["ok"])
    dataset_version: str
    counts: dict[str, int] = Field(description="rows of the dataset by kind")


class IngredientSummary(Answer):
    """A generic category of bottle, syrup, seasoning, garnish or coffee."""

    id: str = Field(examples=["amontillado-sherry"])
    name: str
    role: Role
    style: str
    abv_percent: Interval = Field(description="label strength, % vol")
    sugar_g_per_l: Interval
    qhe_mg_per_l: Interval = Field(
        description="bitterness, mg/L of quinine-hydrochloride equivalents"
    )
    allergens: list[str]
    cautions: list[str] = Field(description="codes of what a guest must be told")
    grade: Grade = Field(description="how the composition is known")


class IngredientPage(Answer):
    """Some of a list, in order of id."""

    items: list[IngredientSummary]
    next_after: str | None = Field(description="`after` of the next page; null at the end")
    total: int = Field(ge=0, description="how many there are on all pages")


class Composition(Answer):
    """What is in a bottle besides its smell; usual values with their 80 % intervals."""

    abv_percent: Interval
    sugar_g_per_l: Interval
    acid_g_per_l: Interval = Field(description="as tartaric acid")
    qhe_mg_per_l: Interval
    caffeine_mg_per_l: Interval
    salt_g_per_l: Interval


class LegalCategory(Answer):
    """What a law asks of a category; null where it sets no limit."""

    category: str
    abv_percent_min: float | None
    sugar_g_per_l_min: float | None
    sugar_g_per_l_max: float | None


class NoteShare(Answer):
    """A note of an aroma."""

    descriptor: str
    share: float = Field(ge=0, le=1, description="of the whole aroma; all shares sum to 1")
    trust: float = Field(ge=0, le=1, description="how well it is known")


class OdorantRow(Answer):
    """A compound that can be smelled in it, and who says so."""

    odorant: str
    name: str
    cas: str
    ug_per_l: Interval | None = Field(description="null where only its impact is known")
    impact: Impact | None
    grade: Grade
    source: str


class WordRow(Answer):
    """A word that a source uses of it."""

    descriptor: str
    weight: float = Field(ge=0, le=1)
    grade: Grade
    source: str


class Source(Answer):
    """Where a number comes from."""

    id: str
    citation: str
    doi: str | None
    standard: str | None


class IngredientEvidence(IngredientSummary):
    """One ingredient with everything that is known of it, each row with its source."""

    aliases: list[str]
    composition: Composition
    legal: LegalCategory | None
    notes: list[NoteShare] = Field(description="strongest first")
    odorants: list[OdorantRow]
    words: list[WordRow]
    sources: list[Source]
