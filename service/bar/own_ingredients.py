"""The bar's own ingredients: known by their notes, by what they hold, or as 'like X, but'."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import lru_cache
from itertools import chain, count
from typing import Final

from sqlalchemy import select

from service.bar.checks import LONGEST_NOTES, check_number, check_words, clean_line, clean_text
from service.bar.keeping import add, change, one, record, remove, values_of
from service.bar.tables import bottles, own_ingredients, spec_pours, specs
from service.bar.unit import Unit, take_turn
from service.bar.words import ALLERGENS
from service.ingredients import Catalogue, plain
from service.ingredients.records import Composition, Role
from service.kit import BadData, Conflict, Interval

# No id of the dataset starts so, now or later.
PREFIX: Final = "own-"
# More than a bar can tell apart. What is known is built for all of them at once.
MOST_OWN: Final = 1_000
# Any fixed number: whoever gives or changes a name waits for the others.
NAMES_TURN: Final = 0x6F776E73
# More digits of an amount mean nothing, and a file of percents could not bring them back.
_DIGITS: Final = 12
COMPOSITION: Final = {each.name: each for each in fields(Composition)}
LEAST_WEIGHT: Final = 0.01
# The most of each that anything can hold, in the unit of `Composition`.
MOST: Final = {"abv": 0.97, "sugar_g_per_l": 1_100.0, "acid_g_per_l": 200.0,
               "qhe_mg_per_l": 100_000.0, "caffeine_mg_per_l": 20_000.0,
               "salt_g_per_l": 360.0}  # fmt: skip
UNITS: Final = {"abv": "(1 is pure alcohol)", "qhe_mg_per_l": "mg/L", "caffeine_mg_per_l": "mg/L"}


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
        notes={n: check_number(f"notes.{n}", draft.notes[n], LEAST_WEIGHT, 1.0, "") for n in notes},
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
    take_turn(unit, NAMES_TURN)
    every = list_own_ingredients(unit)
    _refuse_twin(every, checked.name, "")
    if len(every) >= MOST_OWN:
        raise Conflict(f"a bar can keep {MOST_OWN} own ingredients; take one away first")
    own_id = free_id(checked.name, {each.id for each in every})
    values = {"id": own_id, **values_of(OwnIngredientDraft, checked)}
    return record(OwnIngredient, add(unit, own_ingredients, values))


def rewrite_own_ingredient(
    unit: Unit, catalogue: Catalogue, own_id: str, version: int, draft: OwnIngredientDraft
) -> OwnIngredient:
    """The id stays, whatever the name becomes."""
    checked = check_own_ingredient(draft, catalogue)
    take_turn(unit, NAMES_TURN)
    _refuse_twin(list_own_ingredients(unit), checked.name, own_id)
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


def free_id(name: str, taken: Container[str]) -> str:
    """An id made of a name, with a number behind it where another has it already.

    >>> free_id("Crème of Kelp", {"own-creme-of-kelp"})
    'own-creme-of-kelp-2'
    """
    words = plain(name).encode("ascii", "ignore").decode().split()
    stem = PREFIX + ("-".join(words) or "ingredient")
    numbered = (f"{stem}-{number}" for number in count(2))
    return next(each for each in chain([stem], numbered) if each not in taken)


def as_kept(draft: OwnIngredientDraft) -> OwnIngredientDraft:
    """A draft with its amounts as they are kept now; older ones may have more digits."""
    composition = {name: _rounded(span) for name, span in draft.composition.items()}
    return replace(draft, composition=composition)


def _free_name(given: str, catalogue: Catalogue) -> str:
    """A name that means nothing else in the dataset."""
    name = clean_line("name", given, needed=True)
    if not plain(name):
        raise BadData(f"{name!r} has no letter; write a name that can be said", field="name")
    taken = _shipped_names(catalogue).get(plain(name))
    if taken is not None:
        raise BadData(
            f"{name!r} is what the dataset calls {taken}; choose another name", field="name"
        )
    return name


@lru_cache(maxsize=4)
def _shipped_names(catalogue: Catalogue) -> Mapping[str, str]:
    """Every plain id, name and alias of the dataset, and the name of what it means."""
    return {
        plain(word): ingredient.name
        for ingredient in catalogue.ingredients.values()
        if not ingredient.id.startswith(PREFIX)
        for word in (ingredient.id, ingredient.name, *ingredient.aliases)
    }


def _refuse_twin(every: Iterable[OwnIngredient], name: str, own_id: str) -> None:
    for each in every:
        if each.id != own_id and plain(each.name) == plain(name):
            raise Conflict(f"there is an own ingredient {each.name!r} already", field="name")


def _check_range(name: str, given: Interval) -> Interval:
    field_name = f"composition.{name}"
    if name not in COMPOSITION:
        raise BadData(f"give one of {', '.join(COMPOSITION)}", field=field_name)
    for value in (given.low, given.mid, given.high):
        check_number(field_name, value, 0.0, MOST[name], UNITS.get(name, "g/L"))
    return _rounded(given)


def _rounded(span: Interval) -> Interval:
    return Interval(*(float(f"{end:.{_DIGITS}g}") for end in (span.low, span.mid, span.high)))
