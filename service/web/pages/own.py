"""Own ingredients: an infusion, a house vermouth; known by its notes, or as like another, but."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus
from typing import BinaryIO, Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    OWN_COLUMNS,
    FileImport,
    GoodRow,
    OwnIngredient,
    Unit,
    add_own_ingredient,
    all_or_nothing,
    bar_dialect,
    list_own_ingredients,
    load_own_ingredients,
    own_csv_lines,
    own_template_lines,
    read_own_ingredient,
    remove_own_ingredient,
    rewrite_own_ingredient,
)
from service.counter.known import Known
from service.ingredients.records import Role
from service.kit import Conflict, ServiceError
from service.web.answers import csv_answer
from service.web.deps import KnownHere, LookHere, UnitHere
from service.web.pages.file_preview import (
    FileForm,
    FileKind,
    FilePlace,
    file_loaded,
    file_looked_at,
)
from service.web.pages.house import (
    FormHere,
    every_text,
    go_to,
    status_of,
    texts_of,
    whole,
)
from service.web.pages.own_form import ROLES, OwnForm, own_draft, own_form, own_texts
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed

router = APIRouter()
_PLACE: Final = FilePlace("Ingredient", "/own/import", "/own", "Back to the own ingredients")
_FILE: Final = FileForm(
    "/own/preview/import",
    "One ingredient in each row; commas, semicolons or tabs. You see first what it would do.",
)
_WANTED: Final = "a CSV with one own ingredient in each row, or paste its rows"


@dataclass(frozen=True, slots=True)
class OwnLine:
    """One own ingredient in the list."""

    name: str
    address: str
    words: str


@dataclass(frozen=True, slots=True)
class OwnListPage:
    """All of them."""

    every: tuple[OwnLine, ...]
    file: FileForm
    columns: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class OwnPage:
    """The form of one of them."""

    title: str
    action: str
    version: str
    form: OwnForm
    names: tuple[str, ...]
    problem: str
    remove: str


@router.get("/own", include_in_schema=False)
def every_own(request: Request, known: KnownHere, unit: LookHere) -> Response:
    """The list."""
    return _list(request, known, unit, _FILE)


@router.get("/own.csv", include_in_schema=False)
def as_file(unit: LookHere) -> Response:
    """Own ingredients as CSV, as spreadsheets in the bar's language open it."""
    return csv_answer(
        own_csv_lines(list_own_ingredients(unit), bar_dialect(unit)), "own-ingredients.csv"
    )


@router.get("/own/template.csv", include_in_schema=False)
def template(unit: LookHere) -> Response:
    """A file to begin with."""
    lines = own_template_lines(bar_dialect(unit))
    return csv_answer(lines, "own-ingredients-template.csv")


@router.post("/own/preview/import", include_in_schema=False)
def preview(request: Request, known: KnownHere, unit: LookHere, form: FormHere) -> Response:
    """What loading a file would do, row by row; nothing is written."""
    return file_looked_at(request, form, _kind(request, known, unit, write=False))


@router.post("/own/import", include_in_schema=False)
def load(request: Request, known: KnownHere, unit: UnitHere, form: FormHere) -> Response:
    """Load a file: the good rows are kept, the bad ones come back with line and reason."""
    return file_loaded(request, form, _kind(request, known, unit, write=True))


@router.get("/own/new", include_in_schema=False)
def new(request: Request, known: KnownHere) -> Response:
    """An empty form."""
    return _answer(request, known, None, own_form({"role": str(Role.MODIFIER)}, (), {}))


@router.post("/own/new", include_in_schema=False)
def add(request: Request, known: KnownHere, unit: UnitHere, form: FormHere) -> Response:
    """A new one."""
    draft, errors = own_draft(known, form, None)
    if draft is not None:
        try:
            add_own_ingredient(unit, known.catalogue, draft)
            return go_to("/own")
        except ServiceError as error:
            errors[_place(error)] = error.message
    typed = own_form(texts_of(form), every_text(form, "allergen"), errors)
    return _answer(request, known, None, typed, HTTPStatus.UNPROCESSABLE_ENTITY)


@router.get("/own/{own_id}", include_in_schema=False)
def one(request: Request, known: KnownHere, unit: LookHere, own_id: str) -> Response:
    """One of them as it is written down."""
    kept = read_own_ingredient(unit, own_id)
    return _answer(request, known, kept, own_form(own_texts(known, kept), kept.allergens, {}))


@router.post("/own/{own_id}", include_in_schema=False)
def rewrite(
    request: Request, known: KnownHere, unit: UnitHere, form: FormHere, own_id: str
) -> Response:
    """Correct it, or take it away where nothing uses it."""
    given, kept = texts_of(form), read_own_ingredient(unit, own_id)
    version = whole(given.get("version", ""), "version")
    problem, status = "", HTTPStatus.UNPROCESSABLE_ENTITY
    draft, errors = own_draft(known, form, kept)
    try:
        if given.get("act") == "remove":
            remove_own_ingredient(unit, own_id, version)
            return go_to("/own")
        if draft is not None:
            rewrite_own_ingredient(unit, known.catalogue, own_id, version, draft)
            return go_to("/own")
    except Conflict as error:
        problem, status = error.message, status_of(error)
    except ServiceError as error:
        errors[_place(error)] = error.message
    typed = own_form(given, every_text(form, "allergen"), errors)
    return _answer(request, known, kept, typed, status, problem)


def _list(request: Request, known: Known, unit: Unit, file: FileForm) -> Response:
    every = tuple(_line(known, each) for each in list_own_ingredients(unit))
    page = OwnListPage(every, file, columns=tuple(OWN_COLUMNS.items()))
    return page_answer(request, "own_list.html", page, section="shelf", status=file.status)


def _kind(request: Request, known: Known, unit: Unit, *, write: bool) -> FileKind:
    def loading(file: BinaryIO) -> FileImport:
        with all_or_nothing(unit):
            return load_own_ingredients(unit, known.catalogue, file, write=write)

    return FileKind(
        _PLACE, _FILE, _WANTED, loading, _told, lambda file: _list(request, known, unit, file)
    )


def _told(row: GoodRow) -> str:
    return ", ".join([row.values["name"], str(row.values["role"])])


def _place(error: ServiceError) -> str:
    first = (error.field or "form").split(".")[0]
    return {"like_id": "like", "composition": "abv"}.get(first, first)


def _line(known: Known, own: OwnIngredient) -> OwnLine:
    notes = listed(known.catalogue.descriptors[d].name for d in own.notes)
    like = f"like {known.catalogue.ingredients[own.like_id].name}" if own.like_id else ""
    words = "; ".join(filter(None, [str(own.role), like, notes]))
    return OwnLine(own.name, f"/own/{own.id}", words)


def _answer(
    request: Request,
    known: Known,
    kept: OwnIngredient | None,
    form: OwnForm,
    status: HTTPStatus = HTTPStatus.OK,
    problem: str = "",
) -> Response:
    every = known.catalogue.ingredients.values()
    page = OwnPage(
        title="An own ingredient" if kept is None else kept.name,
        action="/own/new" if kept is None else f"/own/{kept.id}",
        version="" if kept is None else str(kept.version),
        form=form,
        names=tuple(sorted(i.name for i in every if i.role in ROLES)),
        problem=problem,
        remove="" if kept is None else "Take it away",
    )
    return page_answer(request, "own.html", page, section="shelf", status=status)
