"""One bottle: written down, corrected with a guard, taken off the shelf."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    ALLERGENS,
    Bottle,
    BottleDraft,
    add_bottle,
    read_bottle,
    remove_bottle,
    rewrite_bottle,
)
from service.bar import Unit as BarUnit
from service.counter.house_known import House
from service.counter.shelf import catalogue_in
from service.ingredients.records import Role
from service.kit import Conflict, ServiceError
from service.web.deps import BarChanged, BarLooked, KnownHere, LookHere, UnitHere
from service.web.pages.bottle_words import typed_size_ml
from service.web.pages.house import (
    FormHere,
    every_text,
    go_to,
    status_of,
    texts_of,
    whole,
)
from service.web.pages.pieces import Option
from service.web.pages.rendering import page_answer
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
_NUMBERS: Final = {
    "abv_percent": (0.0, 97.0, "%", 40.0),
    "sugar_g_per_l": (0.0, 1_100.0, "g/L", 150.0),
    "size_ml": (1.0, 100_000.0, "mL", 700.0),
    "price": (0.0, 1_000_000.0, "", 24.5),
    "stock_ml": (0.0, 10_000_000.0, "mL", 1_400.0),
}
_NOT_BOTTLED: Final = (Role.COFFEE,)


@dataclass(frozen=True, slots=True)
class BottleForm:
    """The fields as they were typed."""

    ingredient: str
    label: str
    abv_percent: str
    sugar_g_per_l: str
    size_ml: str
    price: str
    stock_ml: str
    notes: str
    allergens: tuple[Option, ...]
    errors: tuple[tuple[str, str], ...] = ()

    def error(self, name: str) -> str:
        """What is wrong with a field."""
        return dict(self.errors).get(name, "")


@dataclass(frozen=True, slots=True)
class BottlePage:
    """The form of one bottle, and what stood in its way the last time."""

    title: str
    action: str
    version: str
    form: BottleForm
    currency: str
    names: tuple[str, ...]
    problem: str
    button: str
    remove: str


@router.get("/shelf/new", include_in_schema=False)
def new(request: Request, bar: BarLooked) -> Response:
    """An empty form."""
    form = _form({"size_ml": "700"}, (), {})
    return _answer(request, bar.house, None, form)


@router.post("/shelf/new", include_in_schema=False)
def add(
    request: Request, known: KnownHere, bar: BarChanged, unit: UnitHere, form: FormHere
) -> Response:
    """A bottle comes onto the shelf."""
    house = bar.house
    draft, errors = _draft(house, form)
    if draft is not None:
        try:
            kept = add_bottle(unit, catalogue_in(unit, known.catalogue), draft)
            return go_to(f"/shelf#bottle-{kept.id}")
        except ServiceError as error:
            errors[error.field or "form"] = error.message
    typed = _form(texts_of(form), every_text(form, "allergen"), errors)
    return _answer(request, house, None, typed, HTTPStatus.UNPROCESSABLE_ENTITY)


@router.get("/shelf/{bottle_id:int}", include_in_schema=False)
def one(request: Request, bar: BarLooked, unit: LookHere, bottle_id: int) -> Response:
    """A bottle as it is written down."""
    house, bottle = bar.house, read_bottle(unit, bottle_id)
    return _answer(request, house, bottle, _form_of(house, bottle))


@router.post("/shelf/{bottle_id:int}", include_in_schema=False)
def rewrite(
    request: Request,
    known: KnownHere,
    bar: BarChanged,
    unit: UnitHere,
    form: FormHere,
    bottle_id: int,
) -> Response:
    """Correct it, or take it off; where somebody was faster, what was typed stays."""
    house, given = bar.house, texts_of(form)
    version = whole(given.get("version", ""), "version")
    if given.get("act") == "remove":
        remove_bottle(unit, bottle_id, version)
        return go_to("/shelf")
    draft, errors = _draft(house, form)
    problem, status = "", HTTPStatus.UNPROCESSABLE_ENTITY
    if draft is not None:
        try:
            catalogue = catalogue_in(unit, known.catalogue)
            rewrite_bottle(unit, catalogue, bottle_id, version, draft)
            return go_to(f"/shelf#bottle-{bottle_id}")
        except Conflict as error:
            problem, status = error.message, status_of(error)
        except ServiceError as error:
            errors[error.field or "form"] = error.message
    typed = _form(given, every_text(form, "allergen"), errors)
    return _answer(request, house, _now(unit, bottle_id), typed, status, problem)


def _now(unit: BarUnit, bottle_id: int) -> Bottle:
    return read_bottle(unit, bottle_id)


def _draft(house: House, form: FormData) -> tuple[BottleDraft | None, dict[str, str]]:
    given, errors = texts_of(form), {}
    numbers: dict[str, float | None] = {}
    for name, (low, high, unit, example) in _NUMBERS.items():
        try:
            text = given.get(name, "")
            numbers[name] = (
                typed_size_ml(text, name, low, high, example)
                if unit == "mL"
                else number_or_none(text, name, low, high, unit, example)
            )
        except ServiceError as error:
            errors[name] = error.message
    ingredient = ""
    try:
        ingredient = house.known.names.find(given.get("ingredient", "")).id
    except ServiceError as error:
        errors["ingredient"] = error.message
    if errors:
        return None, errors
    return BottleDraft(
        ingredient=ingredient,
        label=given.get("label", ""),
        abv_percent=numbers["abv_percent"],
        sugar_g_per_l=numbers["sugar_g_per_l"],
        size_ml=numbers["size_ml"] or 700.0,
        price=numbers["price"],
        stock_ml=numbers["stock_ml"] or 0.0,
        allergens=tuple(every_text(form, "allergen")),
        notes=given.get("notes", ""),
    ), errors


def _form(
    given: Mapping[str, str], allergens: tuple[str, ...] | list[str], errors: Mapping[str, str]
) -> BottleForm:
    names = ("ingredient", "label", *_NUMBERS, "notes")
    return BottleForm(
        **{name: given.get(name, "") for name in names},
        allergens=tuple(Option(a, a, a in allergens) for a in sorted(ALLERGENS)),
        errors=tuple(errors.items()),
    )


def _form_of(house: House, bottle: Bottle) -> BottleForm:
    numbers = {name: getattr(bottle, name) for name in _NUMBERS}
    given = {name: "" if value is None else f"{value:g}" for name, value in numbers.items()}
    given |= {
        "ingredient": house.name_of(bottle.ingredient),
        "label": bottle.label,
        "notes": bottle.notes,
    }
    return _form(given, bottle.allergens, {})


def _answer(
    request: Request,
    house: House,
    bottle: Bottle | None,
    form: BottleForm,
    status: HTTPStatus = HTTPStatus.OK,
    problem: str = "",
) -> Response:
    every = house.known.catalogue.ingredients.values()
    page = BottlePage(
        title="A new bottle" if bottle is None else house.name_of(bottle.ingredient),
        action="/shelf/new" if bottle is None else f"/shelf/{bottle.id}",
        version="" if bottle is None else str(bottle.version),
        form=form,
        currency=house.settings.currency,
        names=tuple(sorted(i.name for i in every if i.role not in _NOT_BOTTLED)),
        problem=problem,
        button="Put it on the shelf" if bottle is None else "Save mine over it" if problem
        else "Save",
        remove="" if bottle is None else "Take it off the shelf",
    )  # fmt: skip
    return page_answer(request, "bottle.html", page, section="shelf", status=status)
