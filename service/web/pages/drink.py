"""One drink: amounts that move, and a balance that moves with them."""

from __future__ import annotations

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
from service.drink import Level, Reading, State, no_lever_reaches
from service.ingredients.records import Ingredient, Role
from service.kit import Interval
from service.taste import AXES
from service.web.deps import KnownHere
from service.web.pages.amounts import amount_of
from service.web.pages.coffee_form import CoffeeForm, address, coffee_fields
from service.web.pages.drink_form import (
    MOST_SECONDS,
    WITHOUT_COFFEE,
    DrinkAsked,
    drink_asked,
    instead_address,
    remedied,
)
from service.web.pages.pictures import drink_pictures
from service.web.pages.pieces import (
    CautionLine,
    Figure,
    PictureView,
    RemedyLine,
    TasteCheck,
    VerdictMark,
)
from service.web.pages.read_back import profile_words
from service.web.pages.rendering import page_answer
from service.web.pages.telling import (
    caution_lines,
    figure,
    listed,
    minutes,
    number,
    percent_figure,
    range_words,
    remedy_line,
    taste_check,
    verdict_mark,
)

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
class MomentRow:
    """One property before and after the coffee."""

    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class DrinkPage:
    """A drink with all that is foretold of it."""

    title: str
    coffee_words: str
    fields: tuple[tuple[str, str], ...]
    pours: tuple[StepLine, ...]
    steps: tuple[StepLine, ...]
    verdict: VerdictMark
    verdict_before: VerdictMark
    warning: str
    sweetness: TasteCheck
    bitterness: TasteCheck
    figures: tuple[Figure, ...]
    moments: tuple[MomentRow, ...]
    remedies: tuple[RemedyLine, ...]
    no_remedy: bool
    cautions: tuple[CautionLine, ...]
    notes: tuple[CautionLine, ...]
    guest: str
    staff: tuple[str, ...]
    out: tuple[OutLine, ...]
    bottles: tuple[BottleGroup, ...]
    coffee: CoffeeForm
    coffee_misread: bool
    pour_fields: tuple[tuple[str, str], ...]
    with_coffee: bool
    coffee_switch: str
    back_address: str
    plane: PictureView
    pictures: tuple[PictureView, ...]


@router.get("/drink", include_in_schema=False)
async def one_drink(request: Request, known: KnownHere) -> Response:
    """The drink of the address; a button's answer leads to the address of the drink it makes."""
    asked = drink_asked(known, request.query_params)
    misread = bool(asked.coffee.errors)
    if not misread and any(name in request.query_params for name in _MOVES):
        return RedirectResponse(asked.address, HTTPStatus.SEE_OTHER)
    page = drink_page(known, asked, measure(known, asked.measure))
    status = HTTPStatus.UNPROCESSABLE_ENTITY if misread else HTTPStatus.OK
    return page_answer(request, "drink.html", page, section="coffee", status=status)


def drink_page(known: Known, asked: DrinkAsked, measured: Measured) -> DrinkPage:
    """Everything that the page says."""
    reading, coffee = measured.reading, asked.coffee.coffee
    spread = dict(zip(AXES, known.band.spread.tolist(), strict=True))
    shown = [r for r in reading.remedies if r.reaches or no_lever_reaches(reading.remedies)]
    catalogue = known.catalogue
    loud = [c for c in reading.cautions if c.level is not Level.NOTE]
    quiet = [c for c in reading.cautions if c.level is Level.NOTE]
    told = explain_poured(known, asked.poured)
    plane, *others = drink_pictures(known, asked, reading)
    pours = tuple(_pour_line(p.ingredient, p.volume_ml) for p in measured.drink.pours)
    return DrinkPage(
        title=_title(measured),
        coffee_words=profile_words(coffee),
        fields=tuple(asked.fields),
        pours=pours,
        steps=tuple(_other_steps(asked)),
        verdict=verdict_mark(reading.balance_after),
        verdict_before=verdict_mark(reading.balance_before),
        warning=reading.balance_after.warning,
        sweetness=taste_check(measured.sweetness, spread["sweet"]),
        bitterness=taste_check(measured.bitterness, spread["bitter"]),
        figures=tuple(figures_of(reading, with_coffee=asked.with_coffee)),
        moments=tuple(moments_of(reading.before, reading.after)),
        remedies=tuple(remedy_line(r, remedied(asked, r).address) for r in shown[:_REMEDIES_SHOWN]),
        no_remedy=bool(reading.remedies) and no_lever_reaches(reading.remedies),
        cautions=caution_lines(catalogue, loud),
        notes=caution_lines(catalogue, quiet),
        guest=" ".join(sentence.text for sentence in told.guest),
        staff=tuple(sentence.text for sentence in told.staff),
        out=tuple(
            OutLine(p.ingredient.name, instead_address(asked, p.ingredient.id))
            for p in measured.drink.pours
        ),
        bottles=_bottles(known, asked),
        coffee=asked.coffee.form,
        coffee_misread=bool(asked.coffee.errors),
        pour_fields=tuple(f for f in asked.fields if f[0] in {"pour", "seconds"}),
        with_coffee=asked.with_coffee,
        coffee_switch=_switched(asked),
        back_address=address("/pairings", coffee_fields(coffee)),
        plane=plane,
        pictures=tuple(others),
    )


def _title(measured: Measured) -> str:
    """The two largest pours name the drink until somebody gives it a name."""
    largest = sorted(measured.drink.pours, key=lambda p: -p.volume_ml)[:2]
    text = listed(p.ingredient.name for p in largest)
    return text[:1].upper() + text[1:]


def _pour_line(ingredient: Ingredient, volume_ml: float) -> StepLine:
    amount = amount_of(ingredient, volume_ml)
    return StepLine(
        id=ingredient.id,
        name=ingredient.name,
        value=amount.value,
        unit=amount.unit,
        less=f"{ingredient.id}={amount.less_ml:.6g}",
        more=f"{ingredient.id}={amount.more_ml:.6g}",
        address=f"/ingredients/{ingredient.id}",
    )


def _other_steps(asked: DrinkAsked) -> list[StepLine]:
    dose, seconds = asked.coffee.coffee.dose_g, asked.seconds
    lines = []
    if asked.with_coffee:
        note = f"{profile_words(asked.coffee.coffee)}, {asked.coffee.coffee.grind} grind"
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


def figures_of(reading: Reading, *, with_coffee: bool) -> list[Figure]:
    after = reading.after
    found = [
        figure("in the glass", after.volume_ml, "mL"),
        percent_figure("strength", after.abv, "% vol"),
    ]
    if with_coffee:
        found += [
            minutes("drains in", reading.drain_seconds),
            figure("caffeine", after.caffeine_mg, "mg"),
            figure("the bed keeps", reading.kept_ml, "mL"),
        ]
    return [*found, figure("served at", _whole_degrees(after.celsius), "°C")]


def _whole_degrees(celsius: Interval) -> Interval:
    """No thermometer of a bar tells more."""
    return Interval(*(float(round(t)) for t in (celsius.low, celsius.mid, celsius.high)))


def moments_of(before: State, after: State) -> list[MomentRow]:
    def row(name: str, unit: str, field: str, factor: float = 1.0) -> MomentRow:
        return MomentRow(
            name,
            *(_told(getattr(state, field).scaled(factor), unit) for state in (before, after)),
        )

    return [
        row("volume", "mL", "volume_ml"),
        row("strength", "% vol", "abv", 100.0),
        row("alcohol", "g", "ethanol_g"),
        row("sugar", "g/L", "sugar_g_per_l"),
        row("acid, as tartaric", "g/L", "acid_g_per_l"),
        row("bitterness, as quinine", "mg/L", "qhe_mg_per_l"),
        row("salt", "g/L", "salt_g_per_l"),
        row("caffeine", "mg", "caffeine_mg"),
        row("coffee solids", "g/L", "coffee_solids_g_per_l"),
        row("sharpness, of 15", "", "sour"),
        row("heat, of 100", "", "heat"),
    ]


def _told(interval: Interval, unit: str) -> str:
    between = range_words(interval)
    return f"{number(interval.mid)} {unit}".strip() + (f" ({between})" if between else "")


def _bottles(known: Known, asked: DrinkAsked) -> tuple[BottleGroup, ...]:
    there = dict(asked.pours)
    return tuple(
        BottleGroup(
            str(role),
            tuple((i.id, i.name) for i in known.catalogue.of_role(role) if i.id not in there),
        )
        for role in _POURABLE
    )


def _switched(asked: DrinkAsked) -> str:
    """The same drink without the coffee, or with it again."""
    fields = [f for f in asked.fields if f[0] != "coffee"]
    return address("/drink", [*fields, ("coffee", WITHOUT_COFFEE)] if asked.with_coffee else fields)
