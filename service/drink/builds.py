"""Standard builds: one suggested bottle put into a stated, editable drink of its role."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from service.bed import Bed
from service.drink.parts import Drink, Pour
from service.ingredients.records import Ingredient, Role
from service.kit import BadData
from service.kit.units import DASH_ML
from service.liquid import Stirring


@dataclass(frozen=True, slots=True)
class Partners:
    """What the suggested bottle is put together with. The caller chooses them by id."""

    base: Ingredient
    modifier: Ingredient
    bitters: Ingredient


@dataclass(frozen=True, slots=True)
class BuildAmounts:
    """The amounts of the standard builds. House habits, not a norm; change them as you like."""

    base_ml: float = 50.0
    modifier_ml: float = 20.0
    dashes: float = 2.0
    # A modifier under test: the light ones a little more, the very bitter half as much.
    light_modifier_ml: float = 25.0
    bitter_modifier_ml: float = 10.0
    sweetener_ml: float = 7.5
    seasoning_ml: float = 0.8


AMOUNTS: Final = BuildAmounts()
_LIGHT_TO_SUGAR_G_PER_L: Final = 160.0
_LIGHT_TO_ABV: Final = 0.23
_VERY_BITTER_FROM_QHE_MG_PER_L: Final = 200.0


def standard_build(
    suggested: Ingredient,
    partners: Partners,
    *,
    bed: Bed | None = None,
    preparation: Stirring | None = None,
    amounts: BuildAmounts = AMOUNTS,
) -> Drink:
    """The default drink for an ingredient's role: spirit, modifier, two dashes, stirred.

    base: it, a sweet modifier, bitters. modifier: a spirit and it, bitters. bitters: spirit, sweet
    modifier, two dashes of it. sweetener and seasoning: in place of the modifier, or beside it.
    """
    pours = _POURS.get(suggested.role)
    if pours is None:
        raise BadData(
            f"{suggested.name} is a {suggested.role}; a standard build needs a bottle to pour",
            field="ingredient",
        )
    return Drink(
        pours=pours(suggested, partners, amounts),
        preparation=preparation or Stirring(),
        bed=bed,
        name=f"standard build with {suggested.name}",
    )


def modifier_volume_ml(modifier: Ingredient, amounts: BuildAmounts = AMOUNTS) -> float:
    """How much of a modifier the standard build takes: more of the light, less of the bitter."""
    holds = modifier.composition
    if holds.qhe_mg_per_l.mid >= _VERY_BITTER_FROM_QHE_MG_PER_L:
        return amounts.bitter_modifier_ml
    sweet = holds.sugar_g_per_l.mid > _LIGHT_TO_SUGAR_G_PER_L
    if not sweet and holds.abv.mid <= _LIGHT_TO_ABV:
        return amounts.light_modifier_ml
    return amounts.modifier_ml


def _with_base(suggested: Ingredient, with_: Partners, amounts: BuildAmounts) -> tuple[Pour, ...]:
    return (
        Pour(suggested, amounts.base_ml),
        Pour(with_.modifier, amounts.modifier_ml),
        Pour(with_.bitters, amounts.dashes * DASH_ML),
    )


def _with_modifier(
    suggested: Ingredient, with_: Partners, amounts: BuildAmounts
) -> tuple[Pour, ...]:
    return (
        Pour(with_.base, amounts.base_ml),
        Pour(suggested, modifier_volume_ml(suggested, amounts)),
        Pour(with_.bitters, amounts.dashes * DASH_ML),
    )


def _with_bitters(
    suggested: Ingredient, with_: Partners, amounts: BuildAmounts
) -> tuple[Pour, ...]:
    return (
        Pour(with_.base, amounts.base_ml),
        Pour(with_.modifier, amounts.modifier_ml),
        Pour(suggested, amounts.dashes * DASH_ML),
    )


def _with_sweetener(
    suggested: Ingredient, with_: Partners, amounts: BuildAmounts
) -> tuple[Pour, ...]:
    return (
        Pour(with_.base, amounts.base_ml),
        Pour(suggested, amounts.sweetener_ml),
        Pour(with_.bitters, amounts.dashes * DASH_ML),
    )


def _with_seasoning(
    suggested: Ingredient, with_: Partners, amounts: BuildAmounts
) -> tuple[Pour, ...]:
    return (
        Pour(with_.base, amounts.base_ml),
        Pour(with_.modifier, amounts.modifier_ml),
        Pour(with_.bitters, amounts.dashes * DASH_ML),
        Pour(suggested, amounts.seasoning_ml),
    )


_POURS: Final = {
    Role.BASE: _with_base,
    Role.MODIFIER: _with_modifier,
    Role.BITTERS: _with_bitters,
    Role.SWEETENER: _with_sweetener,
    Role.SEASONING: _with_seasoning,
}
