"""What the trials have taught: the bar's own bed, and what the house finds just about right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from service.bar import Unit, list_coffees
from service.bed import DEFAULT, BedLearning, BedTrial, Learnt
from service.counter.house_taste import TasteLearnt
from service.counter.house_trials import bed_trials, learnt
from service.counter.pictures import Picture, learning_picture
from service.taste import HouseShift, Penalty
from service.web.deps import BarLooked, LookHere
from service.web.pages.pieces import Option, PictureView
from service.web.pages.rendering import page_answer
from service.web.pages.spec_pictures import picture_answer, view_of
from service.web.pages.telling import number, range_words

router = APIRouter()
STEPS_SHOWN: Final = 24
_QUANTITIES: Final = {
    "retention_ml_per_g": "The grounds keep, mL per g",
    "drain_factor": "Draining, against common practice",
    "extraction_factor": "Extraction, against the prior",
}
_HOUSE: Final = {
    "sweet": "Sweetness wanted, against the classics",
    "bitter": "Bitterness wanted, against the classics",
    "strength": "Strength wanted, against the classics",
    "coffee_bitterness": "How bitter its coffee is, against the forecast",
    "coffee_strength": "Coffee wanted, against what is usual",
}


@dataclass(frozen=True, slots=True)
class LearntLine:
    """One quantity: prior, what the trials say, and what is believed now."""

    name: str
    prior: str
    data: str
    now: str
    trials: str


@dataclass(frozen=True, slots=True)
class PenaltyLine:
    """What being off costs in liking."""

    name: str
    share: str
    drop: str
    act: bool


@dataclass(frozen=True, slots=True)
class LearningPage:
    """All that was learnt, of one coffee or of the bar as a whole."""

    coffees: tuple[Option, ...]
    trials: str
    lines: tuple[LearntLine, ...]
    pictures: tuple[PictureView, ...]
    tastings: str
    house: tuple[LearntLine, ...]
    penalties: tuple[PenaltyLine, ...]


@router.get("/learning", include_in_schema=False)
def what_was_learnt(
    request: Request,
    bar: BarLooked,
    unit: LookHere,
    coffee: Annotated[int | None, Query()] = None,
) -> Response:
    """The page, for the whole bar or one of its coffees."""
    lessons = bar.lessons
    trials, taste, learning = lessons.trials, lessons.taste, lessons.bed(coffee)
    every = [("", "all coffees"), *((str(c.id), c.name) for c in list_coffees(unit))]
    pictures = [retention_view(unit, coffee), drain_view(unit, coffee)]
    page = LearningPage(
        coffees=tuple(Option(v, n, v == ("" if coffee is None else str(coffee))) for v, n in every),
        trials=_counted(len(trials), "measured trial"),
        lines=learnt_lines(learning),
        pictures=tuple(view for view in pictures if view is not None),
        tastings=_counted(len(taste.tastings), "tasting"),
        house=tuple(_house_lines(taste)),
        penalties=tuple(_penalty_line(p) for p in taste.penalties if p.people),
    )
    return page_answer(request, "learning.html", page, section="list")


@router.get("/learning/{quantity}/{name}.{kind}", include_in_schema=False)
def one_picture(
    unit: LookHere,
    quantity: str,
    name: str,
    kind: str,
    coffee: Annotated[int | None, Query()] = None,
) -> Response:
    """One of the pictures."""
    picture = _picture(unit, quantity, coffee)
    return picture_answer(picture, name, kind, f"/learning/{quantity}")


def learnt_lines(learning: BedLearning) -> tuple[LearntLine, ...]:
    """Prior, data and posterior of the bed."""
    return tuple(
        _line(_QUANTITIES[each.quantity], each)
        for each in (learning.retention, learning.drain, learning.extraction)
    )


def retention_view(unit: Unit, coffee: int | None) -> PictureView | None:
    """How the belief about retention narrowed; None before the first trial."""
    return _view(unit, "retention", coffee)


def drain_view(unit: Unit, coffee: int | None) -> PictureView | None:
    """How the belief about draining narrowed; None before the first trial."""
    return _view(unit, "drain", coffee)


def _view(unit: Unit, quantity: str, coffee: int | None) -> PictureView | None:
    if not bed_trials(unit):
        return None
    view = view_of(_picture(unit, quantity, coffee), f"/learning/{quantity}", quantity)
    if coffee is None:
        return view
    query = f"?coffee={coffee}"
    return PictureView(
        view.id, view.title, view.words, view.svg_address + query, view.spec_address + query,
        view.width, view.height,
    )  # fmt: skip


def _picture(unit: Unit, quantity: str, coffee: int | None) -> Picture:
    trials = bed_trials(unit)
    of = "" if coffee is None else str(coffee)
    stride = max(1, -(-len(trials) // STEPS_SHOWN))
    counts = sorted({*range(0, len(trials), stride), len(trials)})
    steps = [learnt(trials[:many], of) for many in counts]
    if quantity == "drain":
        return learning_picture(
            _growing([s.drain for s in steps]),
            [],
            title="Draining against common practice, trial by trial",
            axis="factor on the time to drain",
        )
    return learning_picture(
        _growing([s.retention for s in steps]),
        _kept(trials),
        title="What the grounds keep, trial by trial",
        axis="mL kept per g of coffee",
    )


def _growing(steps: Sequence[Learnt]) -> list[Learnt]:
    """One step for each number of trials that measured it, the last one of each."""
    return list({step.trials: step for step in steps}.values())


def _kept(trials: Sequence[BedTrial]) -> list[tuple[int, float]]:
    """What the grounds of each trial kept, by itself; the rinsed paper's water put right [mL/g]."""
    paper_ml = DEFAULT.paper_water_ml.median
    found = [
        (float(t.poured.volume_ml) - t.received_ml + paper_ml) / float(t.poured.dose_g)
        for t in trials
        if t.received_ml is not None
    ]
    return list(enumerate(found, start=1))


def _line(name: str, each: Learnt) -> LearntLine:
    return LearntLine(
        name,
        f"{number(each.prior.mid)} ({range_words(each.prior)})",
        "" if each.data_mean is None else number(each.data_mean),
        f"{number(each.posterior.mid)} ({range_words(each.posterior)})",
        _counted(each.trials, "trial"),
    )


def _house_lines(taste: TasteLearnt) -> list[LearntLine]:
    return [_house_line(words, getattr(taste.house, name)) for name, words in _HOUSE.items()]


def _house_line(name: str, shift: HouseShift) -> LearntLine:
    unit = "" if shift.unit == "1" else f" {shift.unit}"
    return LearntLine(
        f"{name}{unit and ','}{unit}",
        f"{number(shift.prior.mid, 2)} ({range_words(shift.prior)})",
        "" if shift.answers_mean is None else number(shift.answers_mean, 2),
        f"{number(shift.posterior.mid, 2)} ({range_words(shift.posterior)})",
        _counted(shift.answers, "answer"),
    )


def _penalty_line(penalty: Penalty) -> PenaltyLine:
    side = "too much" if penalty.too_much else "too little"
    drop = "" if penalty.drop is None else f"{number(penalty.drop, 2)} points"
    return PenaltyLine(
        f"{str(penalty.attribute).capitalize()}, {side}",
        f"{penalty.share:.0%} ({penalty.people})",
        drop,
        penalty.worth_acting,
    )


def _counted(many: int, noun: str) -> str:
    return f"{many or 'no'} {noun}{'' if many == 1 else 's'}"
