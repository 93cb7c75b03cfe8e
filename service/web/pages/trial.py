"""Trials: log one with a thumb in twenty seconds, see what it taught, undo it without a trace."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Trial, Unit, Units, add_trial, read_trial, redo_trial, undo_trial
from service.bed import BedLearning
from service.counter.house_readings import SpecAsked, spec_asked
from service.counter.house_trials import Ahead, ahead_of, bed_trials, learnt
from service.counter.this_bar import ThisBar
from service.kit import Interval, NotFound, ServiceError
from service.web.deps import BarChanged, BarLooked, LookHere, UnitHere
from service.web.pages.amounts import UNIT_WORDS, in_unit
from service.web.pages.bar_words import counted
from service.web.pages.house import FormHere, go_to, status_of, texts_of
from service.web.pages.learning import LearntLine, learnt_lines, retention_view
from service.web.pages.pieces import PictureView
from service.web.pages.rendering import page_answer
from service.web.pages.spec import trial_words
from service.web.pages.telling import number, range_words
from service.web.pages.trial_form import (
    TrialForm,
    draft_of_trial,
    foretold,
    stepped,
    trial_form,
)
from service.web.security import visit_of

router = APIRouter()


@dataclass(frozen=True, slots=True)
class TrialPage:
    """The form, and what stood in its way the last time."""

    id: int
    name: str
    tonight: bool
    form: TrialForm
    problem: str
    learnt: str


@dataclass(frozen=True, slots=True)
class ForecastLine:
    """One forecast without a trial and with it."""

    name: str
    without: str
    with_it: str


@dataclass(frozen=True, slots=True)
class TrialKeptPage:
    """One trial that was kept: what it said, and how it moved the next forecast."""

    spec_id: int
    trial_id: int
    name: str
    when: str
    words: str
    notes: str
    undone: bool
    teaches: bool
    forecasts: tuple[ForecastLine, ...]
    lines: tuple[LearntLine, ...]
    doubt: str
    picture: PictureView | None


@router.get("/list/{spec_id:int}/trial", include_in_schema=False)
def ask(request: Request, bar: BarLooked, unit: LookHere, spec_id: int) -> Response:
    """The form, its numbers at the forecast."""
    asked = spec_asked(unit, bar, spec_id)
    return _form_answer(request, bar, asked, _ahead(asked), {"taster": _taster(request)})


@router.post("/list/{spec_id:int}/trial", include_in_schema=False)
def keep(
    request: Request, bar: BarChanged, unit: UnitHere, form: FormHere, spec_id: int
) -> Response:
    """Keep a trial; or move a number, where the browser has no script to do so."""
    asked = spec_asked(unit, bar, spec_id)
    ahead, given, units = _ahead(asked), texts_of(form), bar.house.settings.units
    if "step" in given:
        moved = stepped(given, foretold(asked, ahead, units), units)
        return _form_answer(request, bar, asked, ahead, moved)
    try:
        draft, errors = draft_of_trial(asked, ahead, given, _taster(request), units)
        if draft is not None:
            kept = add_trial(unit, draft)
            return go_to(f"/list/{spec_id}/trial/{kept.id}")
        status = HTTPStatus.UNPROCESSABLE_ENTITY
    except ServiceError as error:
        errors, status = {error.field or "form": error.message}, status_of(error)
    return _form_answer(request, bar, asked, ahead, given, errors, status)


@router.get("/list/{spec_id:int}/trial/{trial_id:int}", include_in_schema=False)
def kept_trial(
    request: Request, bar: BarLooked, unit: LookHere, spec_id: int, trial_id: int
) -> Response:
    """What a trial said, and what it moved."""
    trial = _trial_of(unit, spec_id, trial_id)
    asked = spec_asked(unit, bar, spec_id)
    page = trial_kept_page(unit, bar, asked, trial)
    return page_answer(request, "trial_kept.html", page, section="list")


@router.post("/list/{spec_id:int}/trial/{trial_id:int}", include_in_schema=False)
def count_or_not(unit: UnitHere, form: FormHere, spec_id: int, trial_id: int) -> Response:
    """Undo a trial, or count it again."""
    _trial_of(unit, spec_id, trial_id)
    if texts_of(form).get("count") == "again":
        redo_trial(unit, trial_id)
    else:
        undo_trial(unit, trial_id)
    return go_to(f"/list/{spec_id}/trial/{trial_id}")


def trial_kept_page(unit: Unit, bar: ThisBar, asked: SpecAsked, trial: Trial) -> TrialKeptPage:
    """Everything that the page says."""
    every, key = bed_trials(unit), f"{trial.id:09d}"
    coffee = "" if trial.coffee_id is None else str(trial.coffee_id)
    with_it = learnt(every, coffee)
    without = learnt(tuple(t for t in every if t.key != key), coffee)
    teaches = any(t.key == key for t in every)
    doubts = [d for each in (with_it.retention, with_it.drain) for d in each.doubts if d.key == key]
    return TrialKeptPage(
        spec_id=trial.spec_id,
        trial_id=trial.id,
        name=asked.spec.name,
        when="" if trial.made_at is None else f"{trial.made_at:%-d %B %Y %H:%M}",
        words=trial_words(trial, bar.house.settings.units),
        notes=trial.words,
        undone=not trial.counts,
        teaches=teaches,
        forecasts=_forecasts(asked, without, with_it, bar.house.settings.units),
        lines=learnt_lines(with_it),
        doubt=f"It looks like a slip ({doubts[0].probability:.0%} likely): it is weighed down for "
        "that, not thrown out. Was a cup mixed up, or the clock late?"
        if doubts
        else "",
        picture=retention_view(unit, trial.coffee_id),
    )


def _forecasts(
    asked: SpecAsked, without: BedLearning, with_it: BedLearning, units: Units
) -> tuple[ForecastLine, ...]:
    pairs = [ahead_of(asked.known, asked.asked, each) for each in (without, with_it)]
    before, after = pairs
    if before is None or after is None:
        return ()
    was, now = before.forecast, after.forecast
    rows = (
        ("comes through", UNIT_WORDS[units], in_unit(was.received_ml.after, units),
         in_unit(now.received_ml.after, units)),
        ("takes", "s", was.drain_seconds.after, now.drain_seconds.after),
        ("has dissolved coffee of", "g/L", was.solids_g_per_l.after, now.solids_g_per_l.after),
    )  # fmt: skip
    return tuple(ForecastLine(n, _told(b, unit), _told(a, unit)) for n, unit, b, a in rows)


def _told(interval: Interval, unit: str) -> str:
    return f"{number(interval.mid)} {unit} ({range_words(interval, 3)})"


def _ahead(asked: SpecAsked) -> Ahead | None:
    return ahead_of(asked.known, asked.asked, asked.learning)


def _taster(request: Request) -> str:
    visit = visit_of(request)
    return (visit.staff or "") if visit is not None else ""


def _trial_of(unit: Unit, spec_id: int, trial_id: int) -> Trial:
    trial = read_trial(unit, trial_id)
    if trial.spec_id != spec_id:
        raise NotFound("that trial is of another drink; open it from its own page")
    return trial


def _form_answer(
    request: Request,
    bar: ThisBar,
    asked: SpecAsked,
    ahead: Ahead | None,
    given: Mapping[str, str],
    errors: Mapping[str, str] | None = None,
    status: HTTPStatus = HTTPStatus.OK,
) -> Response:
    problems, units = dict(errors or {}), bar.house.settings.units
    page = TrialPage(
        id=asked.spec.id,
        name=asked.spec.name,
        tonight=asked.sheet.substitution is not None,
        form=trial_form(foretold(asked, ahead, units), given, problems, units),
        problem=next(iter(problems.values()), ""),
        learnt="" if ahead is None else _learnt(bar),
    )
    return page_answer(request, "trial.html", page, section="list", status=status)


def _learnt(bar: ThisBar) -> str:
    trials = len(bar.lessons.trials)
    if not trials:
        return "Foretold from common practice; no trial of this bar has been measured yet."
    return f"Foretold from {counted(trials, 'trial')} of this bar."
