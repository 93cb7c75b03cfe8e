"""The bar's own ingredients: known by their notes, by what they hold, or as 'like X, but'."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Final

from sqlalchemy import or_, select

from service.bar.checks import LONGEST_NOTES, check_number, check_words, clean_line, clean_text
from service.bar.keeping import add, change, one, record, remove, values_of
from service.bar.tables import bottles, own_ingredients, spec_pours, specs
from service.bar.unit import Unit
from service.bar.words import ALLERGENS
from service.ingredients import Catalogue, plain
from service.ingredients.records import Composition, Role
from service.kit import BadData, Conflict, Interval

# No id of the dataset starts so, now or later.
PREFIX: Final = "own-"
COMPOSITION: Final = {each.name: each for each in fields(Composition)}
_MOST: Final = {"abv": 0.97, "sugar_g_per_l": 1_100.0, "acid_g_per_l": 200.0,
                "qhe_mg_per_l": 100_000.0, "caffeine_mg_per_l": 20_000.0,
                "salt_g_per_l": 360.0}  # fmt: skip
_UNIT: Final = {"abv": "(1 is pure alcohol)", "qhe_mg_per_l": "mg/L", "caffeine_mg_per_l": "mg/L"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnIngredientDraft:
    """What a person says of an ingredient that the dataset does not know.

    like_id : an ingredient of the dataset that it resembles; '' for none
    composition : field of `Composition` to its range, as far as it is known
    notes : descriptor id to its weight (0 to 1]; with `like_id`, what it has more of
    without : descriptor ids that the resembled one has and this has not
    """

    name: str
    role: Role
    style: str = ""
    like_id: str = ""
    composition: Mapping[str, Interval] = field(default_factory=dict)
    notes: Mapping[str, float] = field(default_factory=dict)
    without: tuple[str, ...] = ()
    allergens: tuple[str, ...] = ()
    remarks: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnIngredient(OwnIngredientDraft):
    """An ingredient of this bar alone."""

    id: str
    version: int


def check_own_ingredient(draft: OwnIngredientDraft, catalogue: Catalogue) -> OwnIngredientDraft:
    """The draft as it can be kept, held to the shipped dataset."""
    if draft.role is Role.COFFEE:
        raise BadData("coffees are kept among the coffees", field="role")
    if draft.like_id:
        catalogue.ingredient(draft.like_id, field="like_id")
        if draft.like_id.startswith(PREFIX):
            raise BadData("it can only be like an ingredient of the dataset", field="like_id")
    elif draft.without:
        raise BadData("only something that is like another can be without", field="without")
    if not (draft.like_id or draft.composition or draft.notes):
        raise BadData(
            "say what it smells of, what it holds, or what it is like; one of them is enough",
            field="notes",
        )
    notes = check_words("notes", draft.notes, catalogue.descriptors)
    return replace(
        draft,
        name=_free_name(draft.name, catalogue),
        style=clean_line("style", draft.style),
        composition={n: _check_range(n, i) for n, i in draft.composition.items()},
        notes={n: check_number(f"notes.{n}", draft.notes[n], 0.01, 1.0, "") for n in notes},
        without=check_words("without", draft.without, catalogue.descriptors),
        allergens=check_words("allergens", draft.allergens, ALLERGENS),
        remarks=clean_text("remarks", draft.remarks, LONGEST_NOTES),
    )


def list_own_ingredients(unit: Unit) -> tuple[OwnIngredient, ...]:
    """All of them, in order of id."""
    rows = unit.connection.execute(select(own_ingredients).order_by(own_ingredients.c.id))
    return tuple(record(OwnIngredient, row) for row in rows.mappings())


def read_own_ingredient(unit: Unit, own_id: str) -> OwnIngredient:
    return record(OwnIngredient, one(unit, own_ingredients, own_id))


def add_own_ingredient(
    unit: Unit, catalogue: Catalogue, draft: OwnIngredientDraft
) -> OwnIngredient:
    """A new one; its id is made of its name, and never one of the dataset's."""
    checked = check_own_ingredient(draft, catalogue)
    _refuse_twin(unit, checked.name, "")
    values = {"id": _free_id(unit, checked.name), **values_of(OwnIngredientDraft, checked)}
    return record(OwnIngredient, add(unit, own_ingredients, values))


def rewrite_own_ingredient(
    unit: Unit, catalogue: Catalogue, own_id: str, version: int, draft: OwnIngredientDraft
) -> OwnIngredient:
    """The id stays, whatever the name becomes."""
    checked = check_own_ingredient(draft, catalogue)
    _refuse_twin(unit, checked.name, own_id)
    values = values_of(OwnIngredientDraft, checked)
    return record(OwnIngredient, change(unit, own_ingredients, own_id, version, values))


def remove_own_ingredient(unit: Unit, own_id: str, version: int) -> None:
    """Take away one that stands on no shelf and in no spec."""
    poured = select(specs.c.name).join(spec_pours, spec_pours.c.spec_id == specs.c.id)
    shelved = select(bottles.c.label).where(bottles.c.ingredient == own_id)
    used = unit.connection.execute(
        shelved.union(poured.where(spec_pours.c.ingredient == own_id)).limit(3)
    ).scalars()
    if names := ", ".join(repr(name) for name in used):
        raise Conflict(f"bottles or specs use it ({names}); change those first", field="id")
    remove(unit, own_ingredients, own_id, version)


def _free_name(given: str, catalogue: Catalogue) -> str:
    """A name that means nothing else in the dataset."""
    name = clean_line("name", given, needed=True)
    wanted = plain(name)
    for ingredient in catalogue.ingredients.values():
        if ingredient.id.startswith(PREFIX):
            continue
        if wanted in map(plain, (ingredient.id, ingredient.name, *ingredient.aliases)):
            raise BadData(
                f"{name!r} is what the dataset calls {ingredient.name}; choose another name",
                field="name",
            )
    return name


def _refuse_twin(unit: Unit, name: str, own_id: str) -> None:
    for each in list_own_ingredients(unit):
        if each.id != own_id and plain(each.name) == plain(name):
            raise Conflict(f"there is an own ingredient {each.name!r} already", field="name")


def _free_id(unit: Unit, name: str) -> str:
    words = plain(name).encode("ascii", "ignore").decode().split()
    stem = PREFIX + ("-".join(words) or "ingredient")
    like = own_ingredients.c.id.startswith(stem, autoescape=True)
    taken = set(
        unit.connection.execute(
            select(own_ingredients.c.id).where(or_(like, own_ingredients.c.id == stem))
        ).scalars()
    )
    numbered = (f"{stem}-{number}" for number in range(2, len(taken) + 3))
    return next(each for each in (stem, *numbered) if each not in taken)


def _check_range(name: str, given: Interval) -> Interval:
    field_name = f"composition.{name}"
    if name not in COMPOSITION:
        raise BadData(f"give one of {', '.join(COMPOSITION)}", field=field_name)
    for value in (given.low, given.mid, given.high):
        check_number(field_name, value, 0.0, _MOST[name], _UNIT.get(name, "g/L"))
    return Interval(float(given.low), float(given.mid), float(given.high))
