"""One spec: amounts, balance before and after the coffee, and everything that is done with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import SpecStatus, Trial, Unit, Units, list_trials, set_status
from service.counter.coffees import Coffee
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked, spec_asked
from service.counter.house_trials import SOLIDS
from service.counter.known import Known
from service.counter.this_bar import ThisBar
from service.ingredients.records import SpecPour
from service.kit import BadData
from service.web.deps import BarLooked, KnownHere, LookHere, UnitHere
from service.web.pages.bar_words import BarLine, bar_lines
from service.web.pages.coffee_form import CoffeeAsked
from service.web.pages.coffee_terms import profile_words, term
from service.web.pages.drink_form import USUAL_SECONDS, DrinkAsked
from service.web.pages.drink_shown import DrinkShown, drink_shown
from service.web.pages.house import FormHere, go_to, poured_words, texts_of, volume_words, whole
from service.web.pages.pieces import Option, PictureView
from service.web.pages.rendering import page_answer
from service.web.pages.run_out import TonightLine
from service.web.pages.spec_pictures import balance_view
from service.web.pages.telling import listed, number

router = APIRouter()
TRIALS_SHOWN: Final = 6
_ACTS: Final = {
    SpecStatus.DRAFT: "Make it a draft again",
    SpecStatus.LISTED: "Put it on the list",
    SpecStatus.RETIRED: "Retire it",
}


@dataclass(frozen=True, slots=True)
class PourLine:
    """One line of the build."""

    amount: str
    name: str
    address: str


@dataclass(frozen=True, slots=True)
class TrialLine:
    """One trial in a line."""

    address: str
    when: str
    words: str
    undone: bool


@dataclass(frozen=True, slots=True)
class SpecPage:
    """A spec with all that is foretold of it."""

    id: int
    name: str
    status: str
    version: int
    revision: str
    coffee: str
    coffee_aside: str
    out: tuple[PourLine, ...]
    tonight: TonightLine | None
    pours: tuple[PourLine, ...]
    method: str
    glass: str
    garnish: str
    shown: DrinkShown
    plane: PictureView
    trials: tuple[TrialLine, ...]
    learnt: tuple[BarLine, ...]
    acts: tuple[Option, ...]
    try_address: str


@router.get("/list/{spec_id:int}", include_in_schema=False)
def one_spec(
    request: Request, known: KnownHere, bar: BarLooked, unit: LookHere, spec_id: int
) -> Response:
    """The spec as it is poured tonight."""
    asked = spec_asked(unit, bar, spec_id)
    page = spec_page(unit, bar, asked, known)
    return page_answer(request, "spec.html", page, section="list")


@router.post("/list/{spec_id:int}/status", include_in_schema=False)
def change_status(unit: UnitHere, form: FormHere, spec_id: int) -> Response:
    """Put it on the list, take it off, or make it a draft again."""
    given = texts_of(form)
    if given.get("status") not in set(SpecStatus):
        raise BadData("choose draft, on the list or retired", field="status")
    version = whole(given.get("version", ""), "version")
    set_status(unit, spec_id, version, SpecStatus(given["status"]))
    return go_to(f"/list/{spec_id}")


def spec_page(unit: Unit, bar: ThisBar, asked: SpecAsked, base: Known) -> SpecPage:
    """Everything that the page says."""
    house = bar.house
    measured, spec = asked.measured(), asked.spec
    tonight = asked.sheet.substitution
    return SpecPage(
        id=spec.id,
        name=spec.name,
        status=str(spec.status),
        version=spec.version,
        revision=_revision_words(asked),
        coffee=_coffee_words(asked),
        coffee_aside=""
        if asked.coffee is None
        else f"{asked.coffee.dose_g:g} g, {term(asked.coffee.grind)} grind",
        out=tuple(_pour_line(house, p) for p in asked.sheet.pours if p.ingredient in house.lacking),
        tonight=None
        if tonight is None
        else TonightLine(house.name_of(tonight.ingredient_out), tonight.id, tonight.version),
        pours=tuple(_pour_line(house, pour) for pour in asked.sheet.pours),
        method=spec.method,
        glass=spec.glass,
        garnish=spec.garnish,
        shown=drink_shown(asked.known, measured, house.settings.units),
        plane=balance_view(base, asked, measured.reading),
        trials=tuple(_trials(list_trials(unit, spec_id=spec.id, counting_only=False), house)),
        learnt=bar_lines(bar, asked.coffee, coffee_id=spec.coffee_id),
        acts=tuple(Option(str(s), act) for s, act in _ACTS.items() if s is not spec.status),
        try_address=_try_address(asked),
    )


def trial_words(trial: Trial, units: Units) -> str:
    """What was measured and tasted, in short."""
    out_ml, seconds = trial.liquid_out_ml, trial.drain_seconds
    measured = [] if out_ml is None else [f"{volume_words(out_ml, units)} out"]
    measured += [] if seconds is None else [f"{number(seconds)} s"]
    solids = trial.conditions.get(SOLIDS)
    measured += [] if solids is None else [f"{number(solids)} g/L of dissolved coffee"]
    off = [
        f"{'too little' if said < 0 else 'too much'} {name}"
        for name, said in (
            ("sweetness", trial.sweetness),
            ("bitterness", trial.bitterness),
            ("coffee", trial.coffee_strength),
            ("strength", trial.strength),
        )
        if said
    ]
    liked = [] if trial.liking is None else [f"liked {trial.liking} of 9"]
    by = [trial.taster] if trial.taster else []
    return ", ".join([*measured, *off, *liked, *by]) or "words only"


def _trials(every: tuple[Trial, ...], house: House) -> list[TrialLine]:
    return [
        TrialLine(
            f"/list/{trial.spec_id}/trial/{trial.id}",
            "" if trial.made_at is None else f"{trial.made_at:%-d %b %H:%M}",
            trial_words(trial, house.settings.units),
            not trial.counts,
        )
        for trial in reversed(every[-TRIALS_SHOWN:])
    ]


def _try_address(asked: SpecAsked) -> str:
    """The same drink where its amounts can be moved, without touching the spec."""
    seconds = asked.spec.preparation.get("seconds", USUAL_SECONDS)
    return DrinkAsked(
        tuple((p.ingredient, p.volume_ml) for p in asked.sheet.pours),
        CoffeeAsked(asked.coffee or Coffee(), {}),
        asked.coffee is not None,
        float(seconds),
    ).address


def _revision_words(asked: SpecAsked) -> str:
    spec = asked.spec
    return f"version {spec.latest} of {spec.written_at:%-d %B %Y}, by {spec.written_by}"


def _coffee_words(asked: SpecAsked) -> str:
    if asked.coffee is None:
        return ""
    words = profile_words(asked.coffee)
    return words if asked.kept is None else listed([f"{asked.kept.name} ({words})"])


def _pour_line(house: House, pour: SpecPour) -> PourLine:
    return PourLine(
        poured_words(house, pour),
        house.name_of(pour.ingredient),
        f"/rescue?bottle={pour.ingredient}",
    )
