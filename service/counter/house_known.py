"""The house as it stands tonight: what is known, with this bar's own bottles, words and trials."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import lru_cache
from types import MappingProxyType

from service.bar import (
    BarSettings,
    Bottle,
    OwnIngredient,
    Unit,
    bottles_on_shelf,
    labelled,
    list_own_ingredients,
    night_of,
    read_bar_settings,
    with_own_ingredients,
)
from service.counter.known import Known, known_beside
from service.drink.lattice import ANY_JIGGER, LATTICES, Lattice
from service.ingredients import NameIndex
from service.kit.jigger import JiggerStep


@dataclass(frozen=True, slots=True, eq=False)
class House:
    """One bar on one night.

    known : the dataset with the bar's own ingredients beside it, and its labels on its bottles
    standing : ids of all ingredients of which at least one bottle is not out
    """

    known: Known
    settings: BarSettings
    night: date
    bottles: tuple[Bottle, ...]
    standing: frozenset[str]

    @property
    def lattice(self) -> Lattice:
        """The amounts that the bar's jiggers measure."""
        return LATTICES[JiggerStep(self.settings.lattice)]

    @property
    def jiggers(self) -> Lattice:
        """The same where somebody has said it; else what every jigger measures."""
        return self.lattice if self.settings.version else ANY_JIGGER

    @property
    def lacking(self) -> frozenset[str]:
        """Ids of what stands on the shelf with every bottle out."""
        return frozenset(b.ingredient for b in self.bottles) - self.standing

    def name_of(self, ingredient_id: str) -> str:
        """The name of an ingredient; its id where nothing is known of it any more."""
        found = self.known.catalogue.ingredients.get(ingredient_id)
        return ingredient_id if found is None else found.name


def house_in(unit: Unit, base: Known, now: datetime | None = None) -> House:
    """The bar of a unit, now (in the bar's own time)."""
    bottles = bottles_on_shelf(unit)
    return House(
        known=known_in(unit, base, bottles),
        settings=read_bar_settings(unit),
        night=night_of(now or datetime.now()),
        bottles=bottles,
        standing=frozenset(b.ingredient for b in bottles if not b.out),
    )


def known_in(unit: Unit, base: Known, bottles: tuple[Bottle, ...] | None = None) -> Known:
    """All that is known at this bar; the very same object while nothing of it changes."""
    own = _Own(list_own_ingredients(unit))
    shelf = bottles_on_shelf(unit) if bottles is None else bottles
    # Alike while no label changes: of one ingredient, what is out says least, the first most.
    ordered = sorted(shelf, key=lambda b: (b.ingredient, not b.out, -b.id))
    labels = tuple(
        replace(b, version=0, stock_ml=0.0, price=None, notes="", out=False) for b in ordered
    )
    return _labelled(_with_own(base, own), labels)


@dataclass(frozen=True, slots=True)
class _Own:
    """Own ingredients, alike where they say the same."""

    every: tuple[OwnIngredient, ...] = field(compare=False)
    words: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", repr(self.every))


@lru_cache(maxsize=2)
def _with_own(base: Known, own: _Own) -> Known:
    """All that is known with own ingredients beside the dataset's."""
    if not own.every:
        return base
    return known_beside(base, with_own_ingredients(base.catalogue, own.every))


@lru_cache(maxsize=4)
def _labelled(known: Known, bottles: tuple[Bottle, ...]) -> Known:
    """Strength and sugar by the last of an ingredient's bottles, allergens of all of them."""
    if not bottles:
        return known
    ingredients = dict(known.catalogue.ingredients)
    for bottle in bottles:
        if bottle.ingredient in ingredients:
            here = labelled(bottle, known.catalogue)
            more = ingredients[bottle.ingredient].allergens
            ingredients[bottle.ingredient] = replace(here, allergens=here.allergens | more)
    catalogue = replace(known.catalogue, ingredients=MappingProxyType(ingredients))
    return replace(known, catalogue=catalogue, names=NameIndex.of(ingredients.values()))
