"""The form of a spec: what was typed, read into a draft; what could not be read keeps its place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from starlette.datastructures import FormData

from service.bar import BarCoffee, BarSpec, SpecDraft
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.counter.house_known import House
from service.drink import poured_ml
from service.ingredients.records import Role, SpecPour
from service.kit import ServiceError
from service.kit.units import parse_amount
from service.web.pages.house import every_text, texts_of, typed_amount, whole
from service.web.pages.pieces import Option
from service.web.pages.typed_numbers import number_or_none

EMPTY_LINES: Final = 3
LEAST_SECONDS, MOST_SECONDS, USUAL_SECONDS = 0.0, 180.0, 30.0
WITHOUT: Final = "none"
AS_IT_IS: Final = "as it is"
_TEXTS: Final = ("name", "glass", "garnish", "method", "reason")
_POURED: Final = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.SEASONING)


@dataclass(frozen=True, slots=True)
class PourField:
    """One line of the build as it was typed, with what is wrong in it."""

    place: int
    bottle: str
    amount: str
    error: str = ""


@dataclass(frozen=True, slots=True)
class SpecForm:
    """All fields of a spec as they were typed."""

    name: str
    pours: tuple[PourField, ...]
    coffees: tuple[Option, ...]
    dose_g: str
    seconds: str
    glass: str
    garnish: str
    method: str
    reason: str
    errors: tuple[tuple[str, str], ...] = ()

    def error(self, name: str) -> str:
        """What is wrong with a field."""
        return dict(self.errors).get(name, "")


@dataclass(slots=True)
class SpecTyped:
    """A form being read: the draft as far as it goes, and the errors by field."""

    form: FormData
    house: House
    coffees: Sequence[BarCoffee]
    before: BarSpec | None = None
    errors: dict[str, str] = field(default_factory=dict)

    def draft(self) -> SpecDraft | None:
        """The spec that was typed; None where something in it cannot be read."""
        texts = texts_of(self.form)
        pours = self._pours()
        if not texts.get("name", "").strip():
            self.errors["name"] = "it needs a name; any will do for a draft"
        seconds = self._number("seconds", LEAST_SECONDS, MOST_SECONDS, "s", USUAL_SECONDS)
        dose_g = self._number("dose_g", LEAST_DOSE_G, MOST_DOSE_G, "g", 15.0)
        coffee_id, bed = self._coffee(texts.get("coffee", WITHOUT), dose_g)
        if self.errors:
            return None
        said = {name: texts.get(name, "") for name in _TEXTS}
        return SpecDraft(
            pours=pours,
            coffee_id=coffee_id,
            preparation=self._preparation(seconds),
            bed=bed,
            **said,
        )

    def say(self, error: ServiceError) -> None:
        """What the records found wrong, at the field it is about."""
        place = (error.field or "form").split(".")
        name = f"pour-{place[1]}" if place[0] == "pours" and len(place) > 1 else place[0]
        self.errors[name] = error.message

    def shown(self) -> SpecForm:
        """The form as it was typed, with its errors."""
        texts = texts_of(self.form)
        bottles, amounts = every_text(self.form, "bottle"), every_text(self.form, "amount")
        lines = [
            PourField(n, bottle, amount, self.errors.get(f"pour-{n}", ""))
            for n, (bottle, amount) in enumerate(zip(bottles, amounts, strict=False))
        ]
        said = {name: texts.get(name, "") for name in (*_TEXTS, "dose_g", "seconds")}
        return SpecForm(
            pours=tuple(lines),
            coffees=coffee_options(self.coffees, texts.get("coffee", WITHOUT), self.before),
            errors=tuple(self.errors.items()),
            **said,
        )

    def _pours(self) -> tuple[SpecPour, ...]:
        found = []
        lines = zip(every_text(self.form, "bottle"), every_text(self.form, "amount"), strict=False)
        for number, (bottle, amount) in enumerate(lines):
            if not bottle.strip() and not amount.strip():
                continue
            try:
                ingredient = self.house.known.names.find(bottle)
                volume_ml = poured_ml(ingredient, parse_amount(amount))
                found.append(SpecPour(ingredient.id, round(volume_ml, 4)))
            except ServiceError as error:
                self.errors[f"pour-{number}"] = error.message
        if not found and not self.errors:
            self.errors["pours"] = "write at least one bottle and its amount"
        return tuple(found)

    def _number(
        self, name: str, low: float, high: float, unit: str, example: float
    ) -> float | None:
        try:
            return number_or_none(texts_of(self.form).get(name, ""), name, low, high, unit, example)
        except ServiceError as error:
            self.errors[name] = error.message
            return None

    def _coffee(self, said: str, dose_g: float | None) -> tuple[int | None, dict[str, Any]]:
        """The coffee's id, and what the spec says otherwise of its bed."""
        if said == WITHOUT:
            return None, {}
        if said == AS_IT_IS and self.before is not None:
            bed = dict(self.before.bed)
            return None, bed if dose_g is None else {**bed, "dose_g": dose_g}
        kept = {each.id: each for each in self.coffees}.get(whole(said, "coffee"))
        if kept is None:
            self.errors["coffee"] = "that coffee is gone; choose another"
            return None, {}
        same = self.before is not None and self.before.coffee_id == kept.id
        bed = dict(self.before.bed) if same and self.before is not None else {}
        bed.pop("dose_g", None)
        return kept.id, bed if dose_g in (None, kept.dose_g) else {**bed, "dose_g": dose_g}

    def _preparation(self, seconds: float | None) -> dict[str, Any]:
        before = dict(self.before.preparation) if self.before is not None else {}
        if seconds in (None, before.get("seconds", USUAL_SECONDS)):
            return before
        return {"method": "stirred", **before, "seconds": seconds}


def form_of(house: House, spec: BarSpec | None, coffees: Sequence[BarCoffee]) -> SpecForm:
    """The form of a spec as it is written, or an empty one."""
    if spec is None:
        lines = tuple(PourField(n, "", "") for n in range(EMPTY_LINES + 2))
        first = str(coffees[0].id) if coffees else WITHOUT
        return SpecForm("", lines, coffee_options(coffees, first, None), "", "", "", "", "", "")
    kept = {coffee.id: coffee for coffee in coffees}.get(spec.coffee_id or 0)
    dose_g = spec.bed.get("dose_g", None if kept is None else kept.dose_g)
    known, units = house.known.catalogue.ingredients, house.settings.units
    written = [
        (house.name_of(p.ingredient), typed_amount(known.get(p.ingredient), p.volume_ml, units))
        for p in spec.pours
    ]
    written += [("", "")] * EMPTY_LINES
    chosen = str(kept.id) if kept else AS_IT_IS if spec.bed else WITHOUT
    return SpecForm(
        name=spec.name,
        pours=tuple(PourField(n, *line) for n, line in enumerate(written)),
        coffees=coffee_options(coffees, chosen, spec),
        dose_g="" if dose_g is None else f"{dose_g:g}",
        seconds=f"{spec.preparation.get('seconds', USUAL_SECONDS):g}",
        glass=spec.glass,
        garnish=spec.garnish,
        method=spec.method,
        reason="",
    )


def coffee_options(
    coffees: Iterable[BarCoffee], chosen: str, spec: BarSpec | None
) -> tuple[Option, ...]:
    """The bar's coffees, what the spec itself describes, or none."""
    found = [(str(c.id), c.name if c.in_use else f"{c.name} (not in use)") for c in coffees]
    if spec is not None and spec.coffee_id is None and spec.bed:
        found.append((AS_IT_IS, "the coffee that the spec describes itself"))
    found.append((WITHOUT, "no coffee"))
    return tuple(Option(value, label, value == chosen) for value, label in found)


def bottle_names(house: House) -> tuple[str, ...]:
    """Names to choose from: what stands on the shelf, or everything where there is none."""
    every = house.known.catalogue.ingredients.values()
    shelf = {bottle.ingredient for bottle in house.bottles}
    return tuple(
        sorted(i.name for i in every if i.role in _POURED and (not shelf or i.id in shelf))
    )
