"""One drink: amounts that move, and a balance that moves with them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.counter.explain import explain_poured
from service.counter.known import Known
from service.counter.measure import Measured, measure
from service.counter.this_bar import ThisBar
from service.drink import no_lever_reaches
from service.ingredients.records import Ingredient, Role
from service.web.deps import BarLooked, KnownHere
from service.web.pages.amounts import Jigger, amount_of, ingredient_address, remedy_words
from service.web.pages.bar_words import BarLine, bar_lines
from service.web.pages.coffee_form import CoffeeForm, address, coffee_fields
from service.web.pages.coffee_terms import profile_words, term
from service.web.pages.drink_form import (
    MOST_SECONDS,
    WITHOUT_COFFEE,
    DrinkAsked,
    drink_asked,
    instead_address,
    reach_address,
    remedied,
)
from service.web.pages.drink_shown import DrinkShown, drink_shown
from service.web.pages.pictures import drink_pictures
from service.web.pages.pieces import PictureView, RemedyLine
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed

router = APIRouter()
# What asks for another drink than the address says: it is answered with that drink's own address.
_MOVES: Final = ("change", "add", "base", "modifier", "bitters")
_SECONDS_STEP: Final = 5.0
_POURABLE: Final = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.SEASONING)
_REMEDIES_SHOWN: Final = 4


@dataclass(frozen=True, slots=True)
class StepLine:
    """One amount that can be moved: its name, how much, and what the two buttons send."""

    id: str
    name: str
    value: str
    unit: str
    less: str
    more: str
    address: str = ""
    note: str = ""
    out: bool = False


@dataclass(frozen=True, slots=True)
class BottleGroup:
    """Bottles of one role, to be added."""

    role: str
    bottles: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class OutLine:
    """A bottle that may be out, and the address of its rescue in this drink."""

    name: str
    address: str


@dataclass(frozen=True, slots=True)
class DrinkPage:
    """A drink with all that is foretold of it."""

    title: str
    coffee_words: str
    fields: tuple[tuple[str, str], ...]
    pours: tuple[StepLine, ...]
    steps: tuple[StepLine, ...]
    shown: DrinkShown
    learnt: tuple[BarLine, ...]
    remedies: tuple[RemedyLine, ...]
    no_remedy: bool
    guest: str
    staff: tuple[str, ...]
    out: tuple[OutLine, ...]
    bottles: tuple[BottleGroup, ...]
    coffee: CoffeeForm
    coffee_misread: bool
    pour_fields: tuple[tuple[str, str], ...]
    coffee_switch: str
    reach_address: str
    back_address: str
    plane: PictureView
    pictures: tuple[PictureView, ...]


@router.get("/drink", include_in_schema=False)
def one_drink(request: Request, known: KnownHere, bar: BarLooked) -> Response:
    """The drink of the address; a button's answer leads to the address of the drink it makes."""
    asked = drink_asked(bar.known, request.query_params, bar.house.settings)
    misread = bool(asked.coffee.errors)
    if not misread and any(name in request.query_params for name in _MOVES):
        return RedirectResponse(asked.address, HTTPStatus.SEE_OTHER)
    page = drink_page(bar, asked, known)
    status = HTTPStatus.UNPROCESSABLE_ENTITY if misread else HTTPStatus.OK
    return page_answer(request, "drink.html", page, section="coffee", status=status)


def drink_page(bar: ThisBar, asked: DrinkAsked, base: Known) -> DrinkPage:
    """Everything that the page says. `base` is the dataset, as its classics are drawn."""
    coffee, units = asked.coffee.coffee, bar.house.settings.units
    known = bar.known_of(asked.brewed)
    measured = measure(known, asked.measure)
    reading, ingredients = measured.reading, known.catalogue.ingredients
    shown = [r for r in reading.remedies if r.reaches or no_lever_reaches(reading.remedies)]
    told = explain_poured(known, asked.poured, reading)
    plane, *others = drink_pictures(known, asked, reading, base)
    return DrinkPage(
        title=_title(measured),
        coffee_words=profile_words(coffee),
        fields=tuple(asked.fields),
        pours=tuple(_pour_line(bar, p.ingredient, p.volume_ml) for p in measured.drink.pours),
        steps=tuple(_other_steps(asked)),
        shown=drink_shown(known, measured, units),
        learnt=bar_lines(bar, asked.brewed),
        remedies=tuple(
            RemedyLine(remedy_words(r, ingredients, units), r.reaches, remedied(asked, r).address)
            for r in shown[:_REMEDIES_SHOWN]
        ),
        no_remedy=bool(reading.remedies) and no_lever_reaches(reading.remedies),
        guest=" ".join(sentence.text for sentence in told.guest),
        staff=tuple(sentence.text for sentence in told.staff),
        out=tuple(
            OutLine(p.ingredient.name, instead_address(asked, p.ingredient.id))
            for p in measured.drink.pours
        ),
        bottles=tuple(_bottles(bar, asked)),
        coffee=asked.coffee.form,
        coffee_misread=bool(asked.coffee.errors),
        pour_fields=tuple(f for f in asked.fields if f[0] in {"pour", "seconds"}),
        coffee_switch=_switched(asked),
        reach_address=reach_address(asked),
        back_address=address("/pairings", coffee_fields(coffee)),
        plane=plane,
        pictures=tuple(others),
    )


def _title(measured: Measured) -> str:
    """The two largest pours name the drink until somebody gives it a name."""
    largest = sorted(measured.drink.pours, key=lambda p: -p.volume_ml)[:2]
    text = listed(p.ingredient.name for p in largest)
    return text[:1].upper() + text[1:]


def _pour_line(bar: ThisBar, ingredient: Ingredient, volume_ml: float) -> StepLine:
    amount = amount_of(ingredient, volume_ml, Jigger.of(bar.house.settings))
    return StepLine(
        id=ingredient.id,
        name=ingredient.name,
        value=amount.value,
        unit=amount.unit,
        less=f"{ingredient.id}={amount.less_ml:.6g}",
        more=f"{ingredient.id}={amount.more_ml:.6g}",
        address=ingredient_address(ingredient),
        out=ingredient.id in bar.house.lacking,
    )


def _other_steps(asked: DrinkAsked) -> list[StepLine]:
    dose, seconds = asked.coffee.coffee.dose_g, asked.seconds
    lines = []
    if asked.with_coffee:
        note = f"{profile_words(asked.coffee.coffee)}, {term(asked.coffee.coffee.grind)} grind"
        less, more = max(dose - 1.0, LEAST_DOSE_G), min(dose + 1.0, MOST_DOSE_G)
        lines.append(
            StepLine(
                "dose_g",
                "coffee",
                f"{dose:g}",
                "g",
                f"dose_g={less:g}",
                f"dose_g={more:g}",
                note=note,
            )
        )
    shorter = max(seconds - _SECONDS_STEP, 0.0)
    longer = min(seconds + _SECONDS_STEP, MOST_SECONDS)
    lines.append(
        StepLine(
            "seconds",
            "stirred", f"{seconds:g}", "s", f"seconds={shorter:g}", f"seconds={longer:g}",
            note="on wet cubes",
        )
    )  # fmt: skip
    return lines


def _bottles(bar: ThisBar, asked: DrinkAsked) -> Iterator[BottleGroup]:
    """What can be added: what stands on the shelf first, then what is out or was never there."""
    there, catalogue = dict(asked.pours), bar.known.catalogue
    for standing in (True, False) if bar.standing else (False,):
        where = "" if not bar.standing else ", on the shelf" if standing else ", not on the shelf"
        for role in _POURABLE:
            found = tuple(
                (i.id, f"{i.name} (out)" if i.id in bar.house.lacking else i.name)
                for i in catalogue.of_role(role)
                if i.id not in there and (i.id in bar.standing) is standing
            )
            if found:
                yield BottleGroup(f"{role}{where}", found)


def _switched(asked: DrinkAsked) -> str:
    """The same drink without the coffee, or with it again."""
    fields = [f for f in asked.fields if f[0] != "coffee"]
    return address("/drink", [*fields, ("coffee", WITHOUT_COFFEE)] if asked.with_coffee else fields)
