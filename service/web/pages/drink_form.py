"""The drink of an address: pours, coffee, stirring; and the addresses of the drinks next to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from starlette.datastructures import QueryParams

from service.bar import BarSettings
from service.bed import GRIND_UM, LEAST_DOSE_G, MOST_DOSE_G
from service.counter.coffees import Coffee
from service.counter.explain import Poured
from service.counter.known import Known
from service.counter.measure import Measure, parse_pours
from service.counter.standard import DEFAULT_PARTNERS
from service.counter.suggest import bed_of
from service.drink import (
    DEFAULT_COUNTRY,
    STANDARD_DRINK_G,
    Lever,
    Partners,
    Remedy,
    modifier_volume_ml,
    poured_ml,
    standard_build,
)
from service.ingredients.records import Grind, Ingredient, Role
from service.kit import BadData, NotFound
from service.kit.units import DASH_ML
from service.liquid import Stirring
from service.web.pages.amounts import nearest_ml
from service.web.pages.coffee_form import (
    CoffeeAsked,
    address,
    coffee_asked,
    coffee_fields,
    read_number,
)

USUAL_SECONDS: Final = 30.0
LEAST_SECONDS, MOST_SECONDS = 0.0, 180.0
USUAL_SETTINGS: Final = BarSettings()
WITHOUT_COFFEE: Final = "none"
# What is added first, before anybody has said how much: house habits, not a norm [mL].
_FIRST_ML: Final = {Role.BASE: 20.0, Role.SWEETENER: 5.0, Role.SEASONING: DASH_ML}


@dataclass(frozen=True, slots=True)
class DrinkAsked:
    """A drink as an address describes it. Pours are ids and volumes [mL], in order."""

    pours: tuple[tuple[str, float], ...]
    coffee: CoffeeAsked
    with_coffee: bool = True
    seconds: float = USUAL_SECONDS
    country: str = DEFAULT_COUNTRY

    @property
    def brewed(self) -> Coffee | None:
        """The coffee it runs through, or None."""
        return self.coffee.coffee if self.with_coffee else None

    @property
    def measure(self) -> Measure:
        """The question to the counter."""
        return Measure(
            self.pours,
            preparation=Stirring(seconds=self.seconds),
            bed=bed_of(self.coffee.coffee) if self.with_coffee else None,
            country=self.country,
        )

    @property
    def poured(self) -> Poured:
        """The same, as explanations ask for it."""
        return Poured(self.pours, self.brewed, Stirring(seconds=self.seconds))

    @property
    def fields(self) -> list[tuple[str, str]]:
        """The drink as name and value, in its usual order."""
        found = [("pour", f"{name}={volume_ml:.6g}ml") for name, volume_ml in self.pours]
        found += coffee_fields(self.coffee.coffee)
        if not self.with_coffee:
            found.append(("coffee", WITHOUT_COFFEE))
        if self.seconds != USUAL_SECONDS:
            found.append(("seconds", f"{self.seconds:g}"))
        return found

    @property
    def address(self) -> str:
        """Where this very drink is."""
        return address("/drink", self.fields)

    def with_volume(self, ingredient_id: str, volume_ml: float) -> DrinkAsked:
        """The same with another amount of one bottle; without it at nothing."""
        rounded = round(volume_ml, 3)
        pours = dict(self.pours)
        pours[ingredient_id] = rounded
        return replace(self, pours=tuple((i, v) for i, v in pours.items() if v > 0))

    def with_dose_g(self, dose_g: float) -> DrinkAsked:
        """The same with another dose of coffee."""
        return self._brewed(replace(self.coffee.coffee, dose_g=dose_g))

    def with_grind(self, grind: Grind) -> DrinkAsked:
        """The same through another grind."""
        return self._brewed(replace(self.coffee.coffee, grind=grind))

    def _brewed(self, coffee: Coffee) -> DrinkAsked:
        return replace(self, coffee=replace(self.coffee, coffee=coffee))


def drink_asked(
    known: Known, query: QueryParams, settings: BarSettings = USUAL_SETTINGS
) -> DrinkAsked:
    """The drink of an address: its pours, or a standard build of what was picked, as far as the
    jiggers of a bar can measure it."""
    coffee = coffee_asked(query)
    step_ml = settings.lattice.step_ml
    asked = DrinkAsked(
        pours=_pours(known, query.getlist("pour")) or _picked(known, query, step_ml),
        coffee=coffee,
        with_coffee=query.get("coffee") != WITHOUT_COFFEE,
        seconds=read_number(
            query.get("seconds", ""), "seconds", USUAL_SECONDS, LEAST_SECONDS, MOST_SECONDS, "s"
        ),
        country=settings.country if settings.country in STANDARD_DRINK_G else DEFAULT_COUNTRY,
    )
    return _changed(known, asked, query, step_ml)


def instead_address(asked: DrinkAsked, ingredient_id: str) -> str:
    """Where it is said what to pour in this drink when a bottle is out."""
    return address("/instead", [("out", ingredient_id), *asked.fields])


def reach_address(asked: DrinkAsked) -> str:
    """Where it is said what makes this drink as strong, or as large, as it is wanted."""
    return address("/reach", asked.fields)


def remedied(asked: DrinkAsked, remedy: Remedy) -> DrinkAsked:
    """The drink with a remedy made."""
    if remedy.lever is Lever.COFFEE:
        return asked.with_dose_g(round(remedy.then, 1))
    if remedy.lever is Lever.GRIND:
        return asked.with_grind(min(Grind, key=lambda g: abs(GRIND_UM[g].mid - remedy.then)))
    if remedy.lever is Lever.DILUTION:
        return replace(asked, seconds=round(remedy.then))
    return asked.with_volume(remedy.ingredient_id, remedy.then)


def _pours(known: Known, texts: Sequence[str]) -> tuple[tuple[str, float], ...]:
    found: dict[str, float] = {}
    for name, amount in parse_pours(texts):
        ingredient = known.names.find(name, field="pour")
        volume_ml = poured_ml(ingredient, amount, field="pour")
        found[ingredient.id] = found.get(ingredient.id, 0.0) + volume_ml
    return tuple(found.items())


def _picked(known: Known, query: QueryParams, step_ml: float) -> tuple[tuple[str, float], ...]:
    """The standard build of picked bottles. Two bitters share the dashes of one."""
    roles = (Role.BASE, Role.MODIFIER, Role.BITTERS)
    picked = {role: [i for i in query.getlist(str(role)) if i] for role in roles}
    if not any(picked.values()):
        raise NotFound(
            "nothing was picked to pour; go back and tick a base, a modifier or bitters",
            field="pour",
        )
    chosen = {role: [_of_role(known, role, i) for i in ids] for role, ids in picked.items()}
    firsts = [
        (found or [known.catalogue.ingredients[DEFAULT_PARTNERS[role]]])[0]
        for role, found in chosen.items()
    ]
    usual = Partners(*firsts)
    build = {p.ingredient.role: p.volume_ml for p in standard_build(usual.modifier, usual).pours}
    pours = [
        (
            ingredient.id,
            build[role] / len(found)
            if role is Role.BITTERS
            else nearest_ml(ingredient, build[role], step_ml),
        )
        for role, found in chosen.items()
        for ingredient in found
    ]
    return tuple(pours)


def _of_role(known: Known, role: Role, name: str) -> Ingredient:
    ingredient = known.names.find(name, field=str(role))
    if ingredient.role is not role:
        raise BadData(
            f"{ingredient.name} is picked as {role}, but it is of the kind {ingredient.role}; "
            "pick it where it belongs",
            field=str(role),
        )
    return ingredient


def _changed(known: Known, asked: DrinkAsked, query: QueryParams, step_ml: float) -> DrinkAsked:
    """The drink after the button that was tapped, or the bottle that was added."""
    name, _, value = query.get("change", "").partition("=")
    if name == "dose_g":
        return asked.with_dose_g(read_number(value, name, 15.0, LEAST_DOSE_G, MOST_DOSE_G, "g"))
    if name == "seconds":
        return replace(
            asked, seconds=read_number(value, name, 30.0, LEAST_SECONDS, MOST_SECONDS, "s")
        )
    if name:
        ingredient = known.names.find(name, field="change")
        return asked.with_volume(ingredient.id, read_number(value, name, 0.0, 0.0, 1e5, "mL"))
    if added := query.get("add"):
        ingredient = known.names.find(added, field="add")
        if ingredient.id not in dict(asked.pours):
            first = nearest_ml(ingredient, _first_ml(ingredient), step_ml)
            return asked.with_volume(ingredient.id, first)
    return asked


def _first_ml(ingredient: Ingredient) -> float:
    if ingredient.role is Role.MODIFIER:
        return modifier_volume_ml(ingredient)
    return _FIRST_ML.get(ingredient.role, DASH_ML)
