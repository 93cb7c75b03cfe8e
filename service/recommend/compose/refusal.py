"""No drink fits: which constraint is to blame, and what would help."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from service.ingredients.records import Ingredient, Role
from service.kit import CannotCompose
from service.recommend.compose.answer import Composed
from service.recommend.compose.problem import Bottle, Limits, Problem, Shape
from service.recommend.compose.rack import allowed, fits_a_role, measurable_ml

Finder: TypeAlias = Callable[[Problem], Composed | None]

# Nothing at all is asked: what each limit is eased to when it is tried without.
_EASED: Final = Limits(least_glass_ml=0.0, most_glass_ml=10_000.0)
_MOST_TO_BUY: Final = 3
# So much louder than any affinity that a drink from the shelf is preferred to one to be bought.
_LOYALTY: Final = 50.0
_KIND: Final = {
    Role.BASE: "base spirit",
    Role.MODIFIER: "modifier",
    Role.BITTERS: "bitters",
    Role.SWEETENER: "sweetener",
    Role.SEASONING: "saline",
}
_DEMANDS: Final = {"must": "all of", "must_not": "none of", "without_allergens": "no trace of"}


@dataclass(frozen=True, slots=True)
class _Limit:
    """A constraint: the fields that hold it, its words, what the best drink without it has."""

    fields: tuple[str, ...]
    words: str
    without: Callable[[Composed], str]


def refusal(problem: Problem, best_of: Finder, beyond: Sequence[Ingredient] = ()) -> CannotCompose:
    """The error that says which constraint could not be met, and what to add to the shelf.

    `best_of` finds the best drink of a problem; `beyond` are bottles that could be bought.
    """
    field, words = _lack(problem) or _blame(problem, best_of)
    return CannotCompose(f"{words}; {_what_to_add(problem, best_of, beyond)}", field=field)


def _lack(problem: Problem) -> tuple[str, str] | None:
    """What the shelf lacks whatever the amounts, if anything."""
    return _missing_must(problem) or _crowded_must(problem) or _missing_role(problem)


def _missing_must(problem: Problem) -> tuple[str, str] | None:
    on_shelf = {bottle.ingredient.id: bottle for bottle in problem.shelf}
    for wanted in sorted(problem.limits.must):
        if wanted not in on_shelf:
            return "must", f"{wanted} must be in, but it is not on the shelf"
        bottle = on_shelf[wanted]
        if why := _set_aside(problem, bottle):
            return "must", f"{bottle.ingredient.name} must be in, but {why}"
    return None


def _crowded_must(problem: Problem) -> tuple[str, str] | None:
    shape = problem.shape
    room = {
        Role.BASE: 1,
        Role.MODIFIER: shape.modifiers[1],
        Role.BITTERS: shape.bitters[1],
        Role.SWEETENER: int(shape.sweetener),
        Role.SEASONING: int(shape.saline),
    }
    roles = [b.ingredient.role for b in problem.shelf if b.ingredient.id in problem.limits.must]
    for role, most in room.items():
        if (count := roles.count(role)) > most:
            return "must", f"{count} of {_KIND[role]} must be in, and there is room for {most}"
    return None


def _missing_role(problem: Problem) -> tuple[str, str] | None:
    shape = problem.shape
    need = {
        Role.BASE: 1,
        Role.MODIFIER: shape.modifiers[0],
        Role.BITTERS: shape.bitters[0],
    }
    for role, least in need.items():
        here = [b for b in problem.shelf if b.ingredient.role is role]
        aside = [why for bottle in here if (why := _set_aside(problem, bottle))]
        left = len(here) - len(aside)
        if left < least:
            reasons = f" ({', '.join(sorted(set(aside)))})" if aside else ""
            return "shelf", (
                f"{left} of {_KIND[role]} can be poured of {len(here)} on the shelf{reasons}, "
                f"and a drink takes {least}"
            )
    return None


def _set_aside(problem: Problem, bottle: Bottle) -> str:
    """Why a bottle cannot be used; nothing where it can."""
    ingredient, limits = bottle.ingredient, problem.limits
    if not fits_a_role(ingredient):
        return f"a {ingredient.role} has no place in a composed drink"
    if ingredient.id in limits.must_not:
        return "it must not be in"
    if found := sorted(ingredient.allergens & limits.without_allergens):
        return f"it holds {found[0]}"
    return "" if measurable_ml(problem, bottle) else "too little is in stock"


def _blame(problem: Problem, best_of: Finder) -> tuple[str, str]:
    """The limits of which each, left out alone, lets a drink through; else all of them."""
    limits = list(_limits(problem))
    freed = []
    for limit in limits:
        eased = {name: getattr(_EASED, name) for name in limit.fields}
        drink = _find(replace(problem, limits=replace(problem.limits, **eased)), best_of)
        if drink is not None:
            freed.append((limit, drink))
    if freed:
        words = " or ".join(
            f"{limit.words} (the best drink without that limit {limit.without(drink)})"
            for limit, drink in freed
        )
        return freed[0][0].fields[0], f"no drink from this shelf has {words}"
    together = " and ".join(limit.words for limit in limits)
    return limits[0].fields[0], f"no drink from this shelf has {together} at once"


def _limits(problem: Problem) -> Iterator[_Limit]:
    limits = problem.limits
    if limits.least_abv > 0.0 or limits.most_abv < 1.0:
        yield _Limit(
            ("most_abv", "least_abv"),
            f"{_range(100 * limits.least_abv, 100 * limits.most_abv)} % vol in the glass",
            lambda drink: f"has {100 * drink.abv:.1f} % vol",
        )
    if limits.most_caffeine_mg is not None:
        yield _Limit(
            ("most_caffeine_mg",),
            f"at most {limits.most_caffeine_mg:g} mg of caffeine for certain",
            lambda drink: f"may have {drink.caffeine_mg:.0f} mg; less coffee or a decaf helps",
        )
    if limits.most_cost is not None:
        yield _Limit(
            ("most_cost",),
            f"a cost of at most {limits.most_cost:g}",
            lambda drink: f"costs {drink.cost:.2f}",
        )
    if limits.least_balance > 0.0:
        yield _Limit(
            ("least_balance",),
            f"a probability of balance of at least {limits.least_balance:g}",
            lambda drink: f"has {drink.balance:.2f}",
        )
    yield _Limit(
        ("least_glass_ml", "most_glass_ml"),
        f"{_range(limits.least_glass_ml, limits.most_glass_ml)} mL in the glass",
        lambda drink: f"has {drink.volume_ml:.0f} mL",
    )
    for name in _DEMANDS:
        if ids := getattr(limits, name):
            words = f"{_DEMANDS[name]} {', '.join(sorted(ids))}"
            yield _Limit((name,), words, lambda drink: f"is {_names(drink)}")


def _what_to_add(problem: Problem, best_of: Finder, beyond: Sequence[Ingredient]) -> str:
    """The few bottles from beyond the shelf that make a drink possible, with the drink."""
    on_shelf = {bottle.ingredient.id for bottle in problem.shelf}
    new = [Bottle(i, liking=-1.0) for i in beyond
           if i.id not in on_shelf and fits_a_role(i) and allowed(i, problem.limits)]  # fmt: skip
    ours = [replace(bottle, liking=1.0) for bottle in problem.shelf]
    loyal = replace(problem.weights, liking=_LOYALTY)
    wider = replace(problem, shelf=(*ours, *new), weights=loyal)
    drink = best_of(replace(wider, shape=_lean(wider))) if new else None
    if drink is None:
        return "ease a limit, or add another bottle to the shelf"
    bought = [p.ingredient for p in drink.drink.pours if p.ingredient.id not in on_shelf]
    if len(bought) > _MOST_TO_BUY:
        return "ease a limit; more than three bottles would have to be added"
    names = " and ".join(ingredient.name for ingredient in bought)
    return f"add {names} to the shelf, and {_names(drink)} is possible"


def _find(problem: Problem, best_of: Finder) -> Composed | None:
    """Some good drink of a problem: one of few bottles if possible, which is found soonest."""
    drink = best_of(replace(problem, shape=_lean(problem)))
    return drink if drink is not None else best_of(problem)


def _lean(problem: Problem) -> Shape:
    """As few bottles as the shape allows and as must be in."""
    roles = [b.ingredient.role for b in problem.shelf if b.ingredient.id in problem.limits.must]
    modifiers = max(problem.shape.modifiers[0], roles.count(Role.MODIFIER))
    bitters = max(problem.shape.bitters[0], roles.count(Role.BITTERS))
    return Shape(
        modifiers=(modifiers, modifiers),
        bitters=(bitters, bitters),
        sweetener=Role.SWEETENER in roles,
        saline=Role.SEASONING in roles,
    )


def _range(low: float, high: float) -> str:
    return f"{low:g} to {high:g}"


def _names(drink: Composed) -> str:
    return ", ".join(pour.ingredient.name for pour in drink.drink.pours)
