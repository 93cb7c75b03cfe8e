"""The shelf: bottles as their labels say, what is left of them, and what is out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import select

from service.bar.checks import (
    LONGEST_NOTES,
    check_number,
    check_optional,
    check_words,
    clean_line,
    clean_text,
)
from service.bar.keeping import add, change, locked, one, record, remove, values_of
from service.bar.tables import bottles
from service.bar.unit import Unit
from service.bar.words import ALLERGENS
from service.ingredients import Catalogue
from service.ingredients.records import Ingredient, Role
from service.kit import BadData, Interval, OutOfRange

# Rectified spirit ends at 96 to 97 % vol; more cannot be distilled, so more is a slip.
STRONGEST_PERCENT = 97.0
MOST_SUGAR_G_PER_L = 1_100.0
LARGEST_BOTTLE_ML = 100_000.0
LARGEST_STOCK_ML = 10_000_000.0
HIGHEST_PRICE = 1_000_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BottleDraft:
    """What a person writes of a bottle.

    ingredient : id of the dataset, or of the bar's own
    label : for the bar's eyes only
    abv_percent, sugar_g_per_l : from the label; None where unknown, then the category's
    price : of one bottle, in the bar's currency (quoted, never added up into accounts)
    """

    ingredient: str
    label: str = ""
    abv_percent: float | None = None
    sugar_g_per_l: float | None = None
    size_ml: float = 700.0
    price: float | None = None
    stock_ml: float = 0.0
    allergens: tuple[str, ...] = ()
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bottle(BottleDraft):
    """A bottle on the shelf; `out` says that nothing of it can be poured."""

    id: int
    version: int
    out: bool


def check_bottle(draft: BottleDraft, catalogue: Catalogue) -> BottleDraft:
    """The draft as it can be kept; BadData, NotFound or OutOfRange name the field."""
    ingredient = catalogue.ingredient(draft.ingredient, field="ingredient")
    if ingredient.role is Role.COFFEE:
        raise BadData("a coffee is no bottle; keep it among the coffees", field="ingredient")
    return replace(
        draft,
        label=clean_line("label", draft.label),
        abv_percent=check_optional("abv_percent", draft.abv_percent, 0, STRONGEST_PERCENT, "%"),
        sugar_g_per_l=check_optional(
            "sugar_g_per_l", draft.sugar_g_per_l, 0, MOST_SUGAR_G_PER_L, "g/L"
        ),
        size_ml=check_number("size_ml", draft.size_ml, 1, LARGEST_BOTTLE_ML, "mL"),
        price=check_optional("price", draft.price, 0, HIGHEST_PRICE, ""),
        stock_ml=check_number("stock_ml", draft.stock_ml, 0, LARGEST_STOCK_ML, "mL"),
        allergens=check_words("allergens", draft.allergens, ALLERGENS),
        notes=clean_text("notes", draft.notes, LONGEST_NOTES),
    )


def bottles_on_shelf(unit: Unit) -> tuple[Bottle, ...]:
    """Every bottle, by ingredient, then in the order they were added."""
    rows = unit.connection.execute(select(bottles).order_by(bottles.c.ingredient, bottles.c.id))
    return tuple(record(Bottle, row) for row in rows.mappings())


def read_bottle(unit: Unit, bottle_id: int) -> Bottle:
    return record(Bottle, one(unit, bottles, bottle_id))


def add_bottle(unit: Unit, catalogue: Catalogue, draft: BottleDraft) -> Bottle:
    """A bottle comes onto the shelf."""
    values = values_of(BottleDraft, check_bottle(draft, catalogue))
    return record(Bottle, add(unit, bottles, {**values, "out": False}))


def rewrite_bottle(
    unit: Unit, catalogue: Catalogue, bottle_id: int, version: int, draft: BottleDraft
) -> Bottle:
    """What is written of a bottle is replaced; whether it is out stays as it is."""
    values = values_of(BottleDraft, check_bottle(draft, catalogue))
    return record(Bottle, change(unit, bottles, bottle_id, version, values))


def set_out(unit: Unit, bottle_id: int, out: bool) -> Bottle:
    """Mark a bottle out, or back in. Says the same whoever says it first."""
    return record(Bottle, change(unit, bottles, bottle_id, None, {"out": out}))


def move_stock(unit: Unit, bottle_id: int, by_ml: float) -> Bottle:
    """Take from a bottle's stock, or add to it [mL]; two hands at once both count."""
    left = float(locked(unit, bottles, bottle_id)["stock_ml"]) + by_ml
    if not 0 <= left <= LARGEST_STOCK_ML:
        raise OutOfRange(
            f"that would leave {left:g} mL; count the bottles and write down what is there",
            field="by_ml",
        )
    return record(Bottle, change(unit, bottles, bottle_id, None, {"stock_ml": left}))


def remove_bottle(unit: Unit, bottle_id: int, version: int) -> None:
    """A bottle leaves the shelf for good."""
    remove(unit, bottles, bottle_id, version)


def ids_on_shelf(unit: Unit) -> frozenset[str]:
    """Ids of all ingredients of which at least one bottle is not out."""
    query = select(bottles.c.ingredient).where(bottles.c.out.is_(False)).distinct()
    return frozenset(unit.connection.execute(query).scalars())


def labelled(bottle: BottleDraft, catalogue: Catalogue) -> Ingredient:
    """The bottle as an ingredient: its category, with the strength and sugar of its label and
    the allergens of both."""
    ingredient = catalogue.ingredient(bottle.ingredient, field="ingredient")
    holds = ingredient.composition
    if bottle.abv_percent is not None:
        holds = replace(holds, abv=Interval.exactly(bottle.abv_percent / 100.0))
    if bottle.sugar_g_per_l is not None:
        holds = replace(holds, sugar_g_per_l=Interval.exactly(bottle.sugar_g_per_l))
    allergens = ingredient.allergens | set(bottle.allergens)
    return replace(ingredient, composition=holds, allergens=allergens)
