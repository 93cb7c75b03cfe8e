"""Pours by the scale: what a bottle weighs, and how many mL a weight of it is."""

from __future__ import annotations

from service.drink.sampling import DEFAULT_SEED, as_liquid, masses_per_ml
from service.ingredients.records import Ingredient
from service.kit import OutOfRange
from service.kit.units import LARGEST_POUR_ML, Amount, Weighed, check_mass_g


def grams_per_ml(ingredient: Ingredient) -> float:
    """What one mL of the usual bottle weighs at 20 °C [g]: its strength, sugar, acid and salt.

    A mass, not the reading of a scale in air, which lies 0.1 % below it.
    """
    return float(as_liquid(masses_per_ml(ingredient, 0, DEFAULT_SEED)[:, 0].tolist()).mass_g)


def poured_ml(ingredient: Ingredient, amount: Amount, *, field: str | None = None) -> float:
    """An amount of a bottle in mL at 20 °C, whether it was measured or weighed."""
    if not isinstance(amount, Weighed):
        return amount
    volume_ml = check_mass_g(amount.mass_g, field=field or "mass_g") / grams_per_ml(ingredient)
    if volume_ml > LARGEST_POUR_ML:
        raise OutOfRange(
            f"{amount.mass_g:.0f} g of {ingredient.name} are more than {LARGEST_POUR_ML:.0f} ml; "
            "split the batch",
            field=field,
        )
    return volume_ml
