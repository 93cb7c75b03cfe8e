"""Writing a spec: a drink kept as a draft, a new one by hand, an edit that guards its version."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response

from service.bar import BarSpec, add_spec, list_coffees, read_spec, revise_spec
from service.counter.house_drinks import draft_of
from service.counter.house_known import House
from service.counter.shelf import catalogue_in
from service.kit import Conflict, ServiceError
from service.web.deps import BarChanged, BarLooked, KnownHere, LookHere, UnitHere
from service.web.pages.drink_form import drink_asked
from service.web.pages.house import FormHere, build_words, go_to, status_of, texts_of, whole
from service.web.pages.rendering import page_answer
from service.web.pages.spec_form import SpecForm, SpecTyped, bottle_names, form_of

router = APIRouter()


@dataclass(frozen=True, slots=True)
class SpecEditPage:
    """The form, where it goes, and what stood in its way the last time."""

    title: str
    action: str
    version: str
    form: SpecForm
    bottles: tuple[str, ...]
    problem: str
    meanwhile: str
    button: str
    back_address: str


@dataclass(frozen=True, slots=True)
class SpecKeepPage:
    """A drink that wants a name before it is kept."""

    fields: tuple[tuple[str, str], ...]
    name: str
    problem: str
    back_address: str


@router.post("/list", include_in_schema=False)
def keep_drink(
    request: Request, known: KnownHere, bar: BarChanged, unit: UnitHere, form: FormHere
) -> Response:
    """Keep the drink of the drink page as a draft."""
    given = texts_of(form)
    pairs = [(k, v) for k, v in form.multi_items() if isinstance(v, str)]
    asked = drink_asked(bar.known, QueryParams(pairs), bar.house.settings)
    name = given.get("name", "")
    if not name.strip():
        page = SpecKeepPage(
            tuple(asked.fields), name, "it needs a name; any will do for a draft", asked.address
        )
        return page_answer(
            request,
            "spec_keep.html",
            page,
            section="list",
            status=HTTPStatus.UNPROCESSABLE_ENTITY,
        )
    coffee = asked.coffee.coffee if asked.with_coffee else None
    draft = draft_of(name, asked.pours, coffee, list_coffees(unit), asked.seconds)
    kept = add_spec(unit, catalogue_in(unit, known.catalogue), draft)
    return go_to(f"/list/{kept.id}")


@router.get("/list/new", include_in_schema=False)
def new(request: Request, bar: BarLooked, unit: LookHere) -> Response:
    """An empty form."""
    house = bar.house
    form = form_of(house, None, list_coffees(unit, in_use_only=True))
    return page_answer(request, "spec_edit.html", _new_page(house, form), section="list")


@router.post("/list/new", include_in_schema=False)
def add(
    request: Request, known: KnownHere, bar: BarChanged, unit: UnitHere, form: FormHere
) -> Response:
    """A spec written by hand becomes a draft."""
    house = bar.house
    typed = SpecTyped(form, house, list_coffees(unit))
    draft = typed.draft()
    if draft is not None:
        try:
            kept = add_spec(unit, catalogue_in(unit, known.catalogue), draft)
            return go_to(f"/list/{kept.id}")
        except ServiceError as error:
            typed.say(error)
    page = _new_page(house, typed.shown())
    return page_answer(
        request, "spec_edit.html", page, section="list", status=HTTPStatus.UNPROCESSABLE_ENTITY
    )


@router.get("/list/{spec_id:int}/edit", include_in_schema=False)
def edit(request: Request, bar: BarLooked, unit: LookHere, spec_id: int) -> Response:
    """The form of a spec as it is written."""
    house, spec = bar.house, read_spec(unit, spec_id)
    page = _edit_page(house, spec, form_of(house, spec, list_coffees(unit)))
    return page_answer(request, "spec_edit.html", page, section="list")


@router.post("/list/{spec_id:int}/edit", include_in_schema=False)
def rewrite(
    request: Request,
    known: KnownHere,
    bar: BarChanged,
    unit: UnitHere,
    form: FormHere,
    spec_id: int,
) -> Response:
    """A new version; where somebody else was faster, nothing is written and all that was typed
    stays, beside what they changed."""
    house, spec = bar.house, read_spec(unit, spec_id)
    typed = SpecTyped(form, house, list_coffees(unit), spec)
    draft, status, problem = typed.draft(), HTTPStatus.UNPROCESSABLE_ENTITY, ""
    if draft is not None:
        version = whole(texts_of(form).get("version", ""), "version")
        try:
            revise_spec(unit, catalogue_in(unit, known.catalogue), spec_id, version, draft)
            return go_to(f"/list/{spec_id}")
        except Conflict as error:
            problem, status = error.message, status_of(error)
        except ServiceError as error:
            typed.say(error)
    page = _edit_page(house, spec, typed.shown(), problem)
    return page_answer(request, "spec_edit.html", page, section="list", status=status)


def _new_page(house: House, form: SpecForm) -> SpecEditPage:
    return SpecEditPage(
        title="A new spec",
        action="/list/new",
        version="",
        form=form,
        bottles=bottle_names(house),
        problem="",
        meanwhile="",
        button="Keep it as a draft",
        back_address="/list",
    )


def _edit_page(house: House, spec: BarSpec, form: SpecForm, problem: str = "") -> SpecEditPage:
    """After a conflict the form is of the newest version, so that saving again is meant."""
    return SpecEditPage(
        title=f"Edit {spec.name}",
        action=f"/list/{spec.id}/edit",
        version=str(spec.version),
        form=form,
        bottles=bottle_names(house),
        problem=problem,
        meanwhile=_meanwhile(house, spec) if problem else "",
        button="Save mine over it" if problem else "Save",
        back_address=f"/list/{spec.id}",
    )


def _meanwhile(house: House, spec: BarSpec) -> str:
    reason = f" ({spec.reason})" if spec.reason else ""
    return f"Now written, by {spec.written_by}{reason}: {build_words(house, spec.pours)}."
