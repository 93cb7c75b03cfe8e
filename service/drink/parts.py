"""A drink as a bartender would write it down: what is poured, how it is chilled, which coffee."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final

from service.bed import Bed
from service.ingredients.records import Ingredient, Role
from service.kit import BadData
from service.kit.units import check_volume_ml
from service.liquid import Preparation, Stirring

MOST_POURS: Final = 30
# A bottle that is both: at least a liqueur's sugar (Regulation (EU) 2019/787, category 33) and
# bitter far above the threshold (estimate).
_BITTER_LIQUEUR_SUGAR_G_PER_L: Final = 100.0
_BITTER_LIQUEUR_QHE_MG_PER_L: Final = 30.0
_NOT_POURED: Final = {
    Role.GARNISH: "is a garnish; it is laid in or expressed, not poured",
    Role.COFFEE: "is poured through, not poured; give it as the bed",
}


@dataclass(frozen=True, slots=True)
class Pour:
    """One line of a drink: a bottle and its volume at 20 °C [mL]."""

    ingredient: Ingredient
    volume_ml: float

    def __post_init__(self) -> None:
        check_volume_ml(self.volume_ml, field="volume_ml")
        if reason := _NOT_POURED.get(self.ingredient.role):
            raise BadData(f"{self.ingredient.name} {reason}", field="ingredient")


@dataclass(frozen=True, slots=True)
class Drink:
    """What is poured, how it is chilled and diluted, and the coffee it runs through, if any."""

    pours: tuple[Pour, ...]
    preparation: Preparation = field(default_factory=Stirring)
    bed: Bed | None = None
    name: str = ""

    def __post_init__(self) -> None:
        if not 1 <= len(self.pours) <= MOST_POURS:
            raise BadData(
                f"a drink has 1 to {MOST_POURS} pours, not {len(self.pours)}", field="pours"
            )

    @property
    def poured_ml(self) -> float:
        """All pours added up, before mixing takes its tenth of a per cent [mL]."""
        return sum(pour.volume_ml for pour in self.pours)

    def volume_of(self, ingredient_id: str) -> float:
        """How much of one ingredient is poured [mL]; 0 where there is none."""
        return sum(p.volume_ml for p in self.pours if p.ingredient.id == ingredient_id)


def with_volume(drink: Drink, ingredient: Ingredient, volume_ml: float) -> Drink:
    """The same drink with another amount of one ingredient: more, less, new, or none at all."""
    others = tuple(p for p in drink.pours if p.ingredient.id != ingredient.id)
    if volume_ml <= 0.0:
        return replace(drink, pours=others)
    place = next(
        (i for i, p in enumerate(drink.pours) if p.ingredient.id == ingredient.id), len(others)
    )
    pour = Pour(ingredient, volume_ml)
    return replace(drink, pours=(*others[:place], pour, *others[place:]))


def spirit_share(drink: Drink) -> float:
    """Share of base spirit in what is poured; bitters and seasonings left out [0..1]."""
    return _share(drink, lambda pour: pour.ingredient.role is Role.BASE)


def bitter_liqueur_share(drink: Drink) -> float:
    """Share of bottles that are both sweet and bitter, likewise [0..1]."""
    return _share(drink, lambda pour: _is_bitter_liqueur(pour.ingredient))


def main_modifier(drink: Drink) -> Pour | None:
    """The largest pour that is no base spirit, bitters or seasoning; None where there is none."""
    modifiers = [p for p in drink.pours if p.ingredient.role is Role.MODIFIER]
    return max(modifiers, key=lambda p: p.volume_ml, default=None)


def _share(drink: Drink, counts: Callable[[Pour], bool]) -> float:
    body = [p for p in drink.pours if p.ingredient.role not in (Role.BITTERS, Role.SEASONING)]
    total = sum(p.volume_ml for p in body)
    return sum(p.volume_ml for p in body if counts(p)) / total if total else 0.0


def _is_bitter_liqueur(ingredient: Ingredient) -> bool:
    holds = ingredient.composition
    return (
        ingredient.role is Role.MODIFIER
        and holds.sugar_g_per_l.mid >= _BITTER_LIQUEUR_SUGAR_G_PER_L
        and holds.qhe_mg_per_l.mid >= _BITTER_LIQUEUR_QHE_MG_PER_L
    )
