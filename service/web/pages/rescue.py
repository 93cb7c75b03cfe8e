"""What is out: tap a bottle of the shelf, and every drink that suffers comes with its ways out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus
from typing import Annotated, Final

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    Unit,
    bottles_on_shelf,
    set_out,
    substitute,
    substitutions_of,
    undo_substitution,
)
from service.counter.house_known import House
from service.counter.measure import parse_pours
from service.counter.naming import pours_named
from service.counter.run_out import harm_of, run_out
from service.counter.shelf import catalogue_in
from service.counter.swap import bottle_named
from service.kit import NotFound
from service.web.deps import BarChanged, BarLooked, KnownHere, LookHere, UnitHere
from service.web.pages.coffee_form import address
from service.web.pages.house import ROLE_TITLES, FormHere, every_text, go_to, texts_of, whole
from service.web.pages.rendering import page_answer
from service.web.pages.run_out import run_out_page
from service.web.pages.telling import listed

router = APIRouter()
LONGEST_NAME: Final = 200


@dataclass(frozen=True, slots=True)
class BottleTile:
    """A bottle to tap."""

    name: str
    address: str
    aside: str
    out: bool


@dataclass(frozen=True, slots=True)
class TileGroup:
    """Bottles of one kind; folded up where few will look for them."""

    title: str
    tiles: tuple[BottleTile, ...]
    folded: bool


@dataclass(frozen=True, slots=True)
class RescuePage:
    """What could be out: what the list pours first, then the rest of the shelf."""

    text: str
    problem: str
    groups: tuple[TileGroup, ...]


@router.get("/rescue", include_in_schema=False)
def what_is_out(
    request: Request,
    bar: BarLooked,
    unit: LookHere,
    bottle: Annotated[str, Query(max_length=LONGEST_NAME)] = "",
    spec: Annotated[int | None, Query()] = None,
) -> Response:
    """The shelf to tap on; or, where it is said what is out, all that follows from it."""
    house = bar.house
    if not bottle.strip():
        page = _page(house, harm_of(unit))
        return page_answer(request, "rescue.html", page, section="rescue")
    try:
        missing = bottle_named(house.known, bottle)
    except NotFound as error:
        page = _page(house, harm_of(unit), bottle, error.message)
        return page_answer(
            request, "rescue.html", page, section="rescue", status=HTTPStatus.NOT_FOUND
        )
    if missing.id != bottle:
        return go_to(out_address(missing.id, spec))
    page_of_bottle = run_out_page(house, run_out(unit, bar, missing.id, spec), missing)
    return page_answer(request, "run_out.html", page_of_bottle, section="rescue")


@router.post("/rescue/mark", include_in_schema=False)
def mark(unit: UnitHere, form: FormHere) -> Response:
    """Every bottle of an ingredient is out, or back in."""
    given = texts_of(form)
    missing = given.get("bottle", "")
    _set_out(unit, missing, given.get("now") == "out")
    return go_to(out_address(missing))


@router.post("/rescue/accept", include_in_schema=False)
def accept(known: KnownHere, bar: BarChanged, unit: UnitHere, form: FormHere) -> Response:
    """These pours stand on tonight's sheet; the spec stays as it is, and the bottle is out."""
    given = texts_of(form)
    missing, spec_id = given.get("bottle", ""), whole(given.get("spec", ""), "spec")
    version = given.get("version", "")
    _set_out(unit, missing, True)
    kept = catalogue_in(unit, known.catalogue)
    substitute(
        unit,
        kept,
        spec_id,
        night=bar.house.night,
        ingredient_out=missing,
        pours=pours_named(kept, parse_pours(every_text(form, "pour"))),
        remarks=given.get("remarks", ""),
        version=whole(version, "version") if version else None,
    )
    return go_to(f"{out_address(missing)}#spec-{spec_id}")


@router.post("/rescue/undo", include_in_schema=False)
def undo(bar: BarChanged, unit: UnitHere, form: FormHere) -> Response:
    """Back to the spec as it is written."""
    given = texts_of(form)
    number = whole(given.get("substitution", ""), "substitution")
    there = {each.id: each for each in substitutions_of(unit, bar.house.night)}
    undo_substitution(unit, number, whole(given.get("version", ""), "version"))
    gone = there.get(number)
    if gone is None or given.get("back") == "spec":
        return go_to("/list" if gone is None else f"/list/{gone.spec_id}")
    return go_to(f"{out_address(gone.ingredient_out)}#spec-{gone.spec_id}")


def out_address(ingredient_id: str, spec_id: int | None = None) -> str:
    """Where it is said what to pour instead of an ingredient."""
    fields = [("bottle", ingredient_id)]
    return address("/rescue", fields if spec_id is None else [*fields, ("spec", str(spec_id))])


def _set_out(unit: Unit, ingredient_id: str, out: bool) -> None:
    for bottle in bottles_on_shelf(unit):
        if bottle.ingredient == ingredient_id and bottle.out is not out:
            set_out(unit, bottle.id, out)


def _page(
    house: House, harm: dict[str, tuple[str, ...]], text: str = "", problem: str = ""
) -> RescuePage:
    return RescuePage(text=text, problem=problem, groups=tuple(_groups(house, harm)))


def _groups(house: House, harm: dict[str, tuple[str, ...]]) -> Iterator[TileGroup]:
    """Poured by the list first, what is out already at its head; then the shelf by role."""
    poured = sorted(harm, key=lambda i: (i not in house.lacking, house.name_of(i).casefold()))
    if poured:
        tiles = (_tile(house, each, f"in {listed(harm[each])}") for each in poured)
        yield TileGroup("On the list", tuple(tiles), folded=False)
    ingredients = house.known.catalogue.ingredients
    rest = {b.ingredient for b in house.bottles if b.ingredient in ingredients} - set(harm)
    for role, title in ROLE_TITLES.items():
        here = (i for i in rest if ingredients[i].role is role)
        names = sorted(here, key=lambda i: house.name_of(i).casefold())
        if names:
            yield TileGroup(
                f"{title} that no listed drink pours" if poured else title,
                tuple(_tile(house, each, "") for each in names),
                folded=bool(poured),
            )


def _tile(house: House, ingredient_id: str, aside: str) -> BottleTile:
    out = ingredient_id in house.lacking
    return BottleTile(house.name_of(ingredient_id), out_address(ingredient_id), aside, out)
