"""The coffees in use: what the bag says, how much goes in the filter, when it was roasted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from http import HTTPStatus
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    BarCoffee,
    CoffeeDraft,
    add_coffee,
    list_coffees,
    read_bar_coffee,
    rewrite_coffee,
)
from service.counter.coffee_records import as_described
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit import BadData, Conflict, ServiceError
from service.web.deps import LookHere, UnitHere
from service.web.pages.coffee_form import address, coffee_fields
from service.web.pages.coffee_terms import profile_words, term, term_options
from service.web.pages.house import FormHere, go_to, status_of, texts_of, whole
from service.web.pages.pieces import Option
from service.web.pages.rendering import page_answer
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
_WORDS = {"roast": Roast, "process": Process, "species": Species, "grind": Grind}


@dataclass(frozen=True, slots=True)
class CoffeeLine:
    """One coffee in the list."""

    name: str
    address: str
    words: str
    notes: str
    age: str
    in_use: bool
    pair_address: str


@dataclass(frozen=True, slots=True)
class CoffeesPage:
    """All coffees, those in use first."""

    coffees: tuple[CoffeeLine, ...]


@dataclass(frozen=True, slots=True)
class BagForm:
    """The fields as they were typed."""

    name: str
    notes: str
    roasted_on: str
    dose_g: str
    roasts: tuple[Option, ...]
    processes: tuple[Option, ...]
    species: tuple[Option, ...]
    grinds: tuple[Option, ...]
    decaf: bool
    in_use: bool
    errors: tuple[tuple[str, str], ...] = ()

    def error(self, name: str) -> str:
        """What is wrong with a field."""
        return dict(self.errors).get(name, "")


@dataclass(frozen=True, slots=True)
class BagPage:
    """The form of one coffee."""

    title: str
    action: str
    version: str
    form: BagForm
    problem: str


@router.get("/coffees", include_in_schema=False)
def every_coffee(request: Request, unit: LookHere) -> Response:
    """The list."""
    page = CoffeesPage(tuple(_line(coffee) for coffee in list_coffees(unit)))
    return page_answer(request, "coffees.html", page, section="shelf")


@router.get("/coffees/new", include_in_schema=False)
def new(request: Request) -> Response:
    """An empty form."""
    return _answer(request, None, _form(_texts(CoffeeDraft(name="")), {}))


@router.post("/coffees/new", include_in_schema=False)
def add(request: Request, unit: UnitHere, form: FormHere) -> Response:
    """A bag is opened."""
    given = texts_of(form)
    draft, errors = _draft(given)
    if draft is not None:
        try:
            add_coffee(unit, draft)
            return go_to("/coffees")
        except ServiceError as error:
            errors[error.field or "form"] = error.message
    return _answer(request, None, _form(given, errors), HTTPStatus.UNPROCESSABLE_ENTITY)


@router.get("/coffees/{coffee_id:int}", include_in_schema=False)
def one(request: Request, unit: LookHere, coffee_id: int) -> Response:
    """A coffee as it is written down."""
    kept = read_bar_coffee(unit, coffee_id)
    return _answer(request, kept, _form(_texts(kept), {}))


@router.post("/coffees/{coffee_id:int}", include_in_schema=False)
def rewrite(request: Request, unit: UnitHere, form: FormHere, coffee_id: int) -> Response:
    """Correct it; where somebody was faster, what was typed stays."""
    given = texts_of(form)
    draft, errors = _draft(given)
    problem, status = "", HTTPStatus.UNPROCESSABLE_ENTITY
    if draft is not None:
        try:
            rewrite_coffee(unit, coffee_id, whole(given.get("version", ""), "version"), draft)
            return go_to("/coffees")
        except Conflict as error:
            problem, status = error.message, status_of(error)
        except ServiceError as error:
            errors[error.field or "form"] = error.message
    kept = read_bar_coffee(unit, coffee_id)
    return _answer(request, kept, _form(given, errors), status, problem)


def _line(kept: BarCoffee) -> CoffeeLine:
    coffee, days = as_described(kept), kept.age_days(date.today())
    return CoffeeLine(
        name=kept.name,
        address=f"/coffees/{kept.id}",
        words=f"{profile_words(coffee)}; {kept.dose_g:g} g, {term(kept.grind)} grind",
        notes=kept.notes,
        age="" if days is None or days < 0 else f"roasted {days} days ago",
        in_use=kept.in_use,
        pair_address=address("/pairings", coffee_fields(coffee)),
    )


def _draft(given: Mapping[str, str]) -> tuple[CoffeeDraft | None, dict[str, str]]:
    errors: dict[str, str] = {}
    words: dict[str, Any] = {}
    for name, kind in _WORDS.items():
        try:
            words[name] = kind(given.get(name, ""))
        except ValueError:
            errors[name] = f"choose one of {', '.join(kind)}"
    dose_g, roasted_on = 15.0, None
    try:
        dose_g = number_or_none(given.get("dose_g", ""), "dose_g", 2, 1_000, "g", 15.0) or 15.0
        roasted_on = _date(given.get("roasted_on", ""))
    except ServiceError as error:
        errors[error.field or "form"] = error.message
    if not given.get("name", "").strip():
        errors["name"] = "give it a name; the one on the bag will do"
    if errors:
        return None, errors
    return CoffeeDraft(
        name=given.get("name", ""),
        notes=given.get("notes", ""),
        roasted_on=roasted_on,
        dose_g=dose_g,
        decaf="decaf" in given,
        in_use="in_use" in given,
        **words,
    ), errors


def _date(text: str) -> date | None:
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise BadData("write the day like 2026-11-16", field="roasted_on") from None


def _texts(kept: CoffeeDraft) -> dict[str, str]:
    """A coffee as its form would send it."""
    texts = {name: str(getattr(kept, name)) for name in _WORDS}
    texts |= {"name": kept.name, "notes": kept.notes, "dose_g": f"{kept.dose_g:g}"}
    texts["roasted_on"] = "" if kept.roasted_on is None else kept.roasted_on.isoformat()
    ticked = {name: "yes" for name in ("decaf", "in_use") if getattr(kept, name)}
    return texts | ticked


def _form(given: Mapping[str, str], errors: Mapping[str, str]) -> BagForm:
    options = {name: term_options(kind, given.get(name)) for name, kind in _WORDS.items()}
    return BagForm(
        name=given.get("name", ""),
        notes=given.get("notes", ""),
        roasted_on=given.get("roasted_on", ""),
        dose_g=given.get("dose_g", ""),
        roasts=options["roast"],
        processes=options["process"],
        species=options["species"],
        grinds=options["grind"],
        decaf="decaf" in given,
        in_use="in_use" in given,
        errors=tuple(errors.items()),
    )


def _answer(
    request: Request,
    kept: BarCoffee | None,
    form: BagForm,
    status: HTTPStatus = HTTPStatus.OK,
    problem: str = "",
) -> Response:
    page = BagPage(
        title="A new coffee" if kept is None else kept.name,
        action="/coffees/new" if kept is None else f"/coffees/{kept.id}",
        version="" if kept is None else str(kept.version),
        form=form,
        problem=problem,
    )
    return page_answer(request, "bag.html", page, section="shelf", status=status)
