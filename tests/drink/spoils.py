"""Ways to spoil a drink that a bartender would notice, each applied to every drink it fits."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from service.drink import Drink, Pour, main_modifier
from service.ingredients.records import Ingredient, Role
from service.liquid import PreDiluted

Spoil = Callable[[Drink, Mapping[str, Ingredient]], Drink | None]


def modifier_doubled(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink | None:
    """Twice the largest pour that is no spirit: the jigger filled the wrong way round."""
    main = main_modifier(drink) or _first(drink, Role.SWEETENER)
    return main and _scaled(drink, lambda pour: 2.0 if pour is main else 1.0)


def modifier_omitted(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink | None:
    """Everything that is no spirit and no bitters forgotten."""
    soft = (Role.MODIFIER, Role.SWEETENER)
    kept = tuple(p for p in drink.pours if p.ingredient.role not in soft)
    return replace(drink, pours=kept) if 0 < len(kept) < len(drink.pours) else None


def bitters_times_ten(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink | None:
    """The dasher top came off."""
    if _first(drink, Role.BITTERS) is None:
        return None
    return _scaled(drink, lambda p: 10.0 if p.ingredient.role is Role.BITTERS else 1.0)


def not_diluted(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink:
    """Chilled in the bottle and never given its water."""
    return replace(drink, preparation=PreDiluted(dilution=0.0, celsius=-5.0))


def drowned(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink:
    """Forgotten on the ice: more water than drink."""
    return replace(drink, preparation=PreDiluted(dilution=1.2, celsius=0.0))


def syrup_spilled(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink:
    """A measure of syrup that was meant for the next glass."""
    return replace(drink, pours=(*drink.pours, Pour(larder["simple-syrup"], 20.0)))


def salted(drink: Drink, larder: Mapping[str, Ingredient]) -> Drink:
    """A bar spoon of saline where drops were meant."""
    return replace(drink, pours=(*drink.pours, Pour(larder["saline"], 5.0)))


SPOILS: Mapping[str, Spoil] = {
    spoil.__name__: spoil
    for spoil in (
        modifier_doubled,
        modifier_omitted,
        bitters_times_ten,
        not_diluted,
        drowned,
        syrup_spilled,
        salted,
    )
}


def spoiled(
    drinks: tuple[Drink, ...], larder: Mapping[str, Ingredient], wanted: int
) -> list[tuple[str, Drink]]:
    """So many spoiled drinks, the ways taking turns, drinks in their order."""
    queues = {
        name: [bad for drink in drinks if (bad := spoil(drink, larder)) is not None]
        for name, spoil in SPOILS.items()
    }
    found: list[tuple[str, Drink]] = []
    for turn in range(len(drinks)):
        found += [(name, queue[turn]) for name, queue in queues.items() if turn < len(queue)]
    return found[:wanted]


def _first(drink: Drink, role: Role) -> Pour | None:
    return next((pour for pour in drink.pours if pour.ingredient.role is role), None)


def _scaled(drink: Drink, factor: Callable[[Pour], float]) -> Drink:
    pours = tuple(replace(p, volume_ml=p.volume_ml * factor(p)) for p in drink.pours)
    return replace(drink, pours=pours)
