"""The form of an own ingredient: words as on a bag become notes, a resemblance, a composition."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from starlette.datastructures import FormData

from service.aroma.words import read_notes
from service.bar import ALLERGENS, OwnIngredient, OwnIngredientDraft
from service.counter.known import Known
from service.ingredients.records import Role
from service.kit import Interval, NotFound, ServiceError
from service.web.pages.house import every_text, texts_of
from service.web.pages.pieces import Option
from service.web.pages.telling import listed
from service.web.pages.typed_numbers import number_or_none

ROLES: Final = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.SEASONING)
_NUMBERS: Final = {"abv": (0.0, 97.0, "%", 30.0), "sugar_g_per_l": (0.0, 1_100.0, "g/L", 150.0)}
_LEAST_WEIGHT, _MOST_WEIGHT = 0.05, 1.0


@dataclass(frozen=True, slots=True)
class OwnForm:
    """The fields as they were typed."""

    name: str
    roles: tuple[Option, ...]
    like: str
    notes: str
    abv: str
    sugar_g_per_l: str
    remarks: str
    allergens: tuple[Option, ...]
    errors: tuple[tuple[str, str], ...] = ()

    def error(self, name: str) -> str:
        """What is wrong with a field."""
        return dict(self.errors).get(name, "")


def own_draft(
    known: Known, form: FormData, kept: OwnIngredient | None
) -> tuple[OwnIngredientDraft | None, dict[str, str]]:
    """What was typed as a draft, or what could not be read of it."""
    given = texts_of(form)
    errors: dict[str, str] = {}
    shown = {} if kept is None else own_texts(known, kept)
    holds = {} if kept is None else dict(kept.composition)
    for name, (low, high, unit, example) in _NUMBERS.items():
        if name in shown and given.get(name, "").strip() == shown[name]:
            continue  # a range, of which the form shows the middle, stays one
        try:
            value = number_or_none(given.get(name, ""), name, low, high, unit, example)
        except ServiceError as error:
            errors[name] = error.message
            continue
        holds.pop(name, None)
        if value is not None:
            holds[name] = Interval.exactly(value / 100.0 if name == "abv" else value)
    said = given.get("notes", "")
    if kept is not None and said.strip() == shown["notes"]:
        notes, without = dict(kept.notes), kept.without  # with the weights that the form leaves out
    else:
        notes, without = _notes(known, said, errors)
    like_id = _like(known, given.get("like", ""), errors)
    if given.get("role") not in {str(role) for role in ROLES}:
        errors["role"] = "choose what it does in a drink"
    if errors:
        return None, errors
    return OwnIngredientDraft(
        name=given.get("name", ""),
        role=Role(given["role"]),
        style="" if kept is None else kept.style,
        like_id=like_id,
        composition=holds,
        notes=notes,
        without=without,
        allergens=tuple(every_text(form, "allergen")),
        remarks=given.get("remarks", ""),
    ), errors


def _notes(
    known: Known, text: str, errors: dict[str, str]
) -> tuple[dict[str, float], tuple[str, ...]]:
    """Words as on a bag: weighted notes, and what is said not to be in it."""
    reading = read_notes(text, known.vocabulary)
    if reading.unknown:
        words = ", ".join(f"“{u.text}”" for u in reading.unknown)
        near = listed(n.phrase for u in reading.unknown for n in u.nearest[:2])
        hint = f"; did you mean {near}?" if near else "; leave them out or say it otherwise"
        errors["notes"] = f"{words} is not known here{hint}"
    most = max(reading.weights.values(), default=1.0)
    notes = {
        d: min(max(w / most, _LEAST_WEIGHT), _MOST_WEIGHT)
        for d, w in reading.weights.items()
        if w > 0
    }
    denied = {d for mention in reading.negated for d, _ in mention.weights}
    return notes, tuple(sorted(denied - set(notes)))


def _like(known: Known, text: str, errors: dict[str, str]) -> str:
    if not text.strip():
        return ""
    try:
        return known.names.find(text).id
    except NotFound as error:
        errors["like"] = error.message
        return ""


def own_texts(known: Known, kept: OwnIngredient) -> dict[str, str]:
    """An own ingredient as its form would send it."""
    names = known.catalogue.descriptors
    notes = [names[d].name for d in kept.notes] + [f"no {names[d].name}" for d in kept.without]
    abv, sugar = kept.composition.get("abv"), kept.composition.get("sugar_g_per_l")
    return {
        "name": kept.name,
        "role": str(kept.role),
        "like": known.catalogue.ingredients[kept.like_id].name if kept.like_id else "",
        "notes": ", ".join(notes),
        "abv": "" if abv is None else f"{abv.mid * 100:g}",
        "sugar_g_per_l": "" if sugar is None else f"{sugar.mid:g}",
        "remarks": kept.remarks,
    }


def own_form(
    given: Mapping[str, str], allergens: Sequence[str], errors: Mapping[str, str]
) -> OwnForm:
    """The form with what was typed."""
    names = ("name", "like", "notes", "abv", "sugar_g_per_l", "remarks")
    return OwnForm(
        **{name: given.get(name, "") for name in names},
        roles=tuple(Option(str(r), str(r), str(r) == given.get("role")) for r in ROLES),
        allergens=tuple(Option(a, a, a in allergens) for a in sorted(ALLERGENS)),
        errors=tuple(errors.items()),
    )
