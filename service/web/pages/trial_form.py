"""The form of a trial: numbers that start at the forecast, tastes in large tiles.

A number counts as measured when it was moved, or when it is ticked as just what was foretold; what
nobody touched is left out, so that a forecast never confirms itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from service.bar import TrialDraft
from service.counter.house_readings import SpecAsked
from service.counter.house_trials import Ahead, conditions_of
from service.kit import BadData, Interval, ServiceError
from service.web.pages.house import whole
from service.web.pages.pieces import Option
from service.web.pages.telling import range_words
from service.web.pages.typed_numbers import number_or_none

JUST_RIGHT: Final = (
    ("-2", "much too little"),
    ("-1", "too little"),
    ("0", "just right"),
    ("1", "too much"),
    ("2", "much too much"),
)
TASTES: Final = (
    ("sweetness", "Sweetness"),
    ("bitterness", "Bitterness"),
    ("coffee_strength", "Coffee"),
    ("strength", "Strength of the alcohol"),
)
LIKING: Final = (
    "dislike extremely", "dislike very much", "dislike", "dislike slightly", "neither",
    "like slightly", "like", "like very much", "like extremely",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing to measure: its field, unit, the step of a tap, and what is possible."""

    name: str
    label: str
    unit: str
    step: float
    low: float
    high: float


MEASURES: Final = (
    Measure("liquid_out_ml", "Came through", "mL", 2.0, 0.0, 2_000.0),
    Measure("drain_seconds", "Took", "s", 5.0, 5.0, 3_600.0),
    Measure("liquid_in_ml", "Poured on", "mL", 1.0, 1.0, 2_000.0),
    Measure("dose_g", "Coffee", "g", 0.5, 2.0, 100.0),
    Measure("celsius", "In the glass", "°C", 1.0, -20.0, 60.0),
)
FIRST: Final = 2


@dataclass(frozen=True, slots=True)
class MeasureField:
    """A number with its two buttons."""

    name: str
    label: str
    unit: str
    value: str
    foretold: str
    range: str
    less: str
    more: str
    step: str
    same: bool
    error: str = ""


@dataclass(frozen=True, slots=True)
class TasteField:
    """A taste to tap on."""

    name: str
    label: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class TrialForm:
    """The whole form."""

    first: tuple[MeasureField, ...]
    more: tuple[MeasureField, ...]
    more_open: bool
    tastes: tuple[TasteField, ...]
    liking: tuple[Option, ...]
    words: str
    taster: str
    errors: tuple[tuple[str, str], ...]


def foretold(asked: SpecAsked, ahead: Ahead | None) -> dict[str, Interval]:
    """What each number is expected to be."""
    known = {"celsius": asked.measured().reading.after.celsius}
    if ahead is None:
        return known
    return {
        "liquid_out_ml": ahead.forecast.received_ml.after,
        "drain_seconds": ahead.forecast.drain_seconds.after,
        "liquid_in_ml": Interval.exactly(float(ahead.poured.volume_ml)),
        "dose_g": Interval.exactly(ahead.bed.dose_g),
        **known,
    }


def trial_form(
    expected: Mapping[str, Interval], given: Mapping[str, str], errors: Mapping[str, str]
) -> TrialForm:
    """The form as it was filled in; empty places hold the forecast."""
    fields = [
        _measure_field(m, expected[m.name], given, errors.get(m.name, ""))
        for m in MEASURES
        if m.name in expected
    ]
    return TrialForm(
        first=tuple(f for f in fields if f.name in {m.name for m in MEASURES[:FIRST]}),
        more=tuple(f for f in fields if f.name in {m.name for m in MEASURES[FIRST:]}),
        more_open=any(m.name in errors for m in MEASURES[FIRST:]) or "more" in given,
        tastes=tuple(
            TasteField(name, label, tuple(
                Option(value, words, given.get(name) == value) for value, words in JUST_RIGHT))
            for name, label in TASTES
        ),
        liking=tuple(
            Option(str(n), f"{n} {words}" if n in {1, 5, 9} else str(n),
                   given.get("liking") == str(n))
            for n, words in enumerate(LIKING, start=1)
        ),
        words=given.get("words", ""),
        taster=given.get("taster", ""),
        errors=tuple(errors.items()),
    )  # fmt: skip


def stepped(given: Mapping[str, str], expected: Mapping[str, Interval]) -> dict[str, str]:
    """The form after one of its plus and minus buttons, for browsers without a script."""
    name, _, by = given.get("step", "").partition("=")
    wanted = next((m for m in MEASURES if m.name == name), None)
    if wanted is None:
        return dict(given)
    try:
        now = number_or_none(given.get(name, ""), name, wanted.low, wanted.high, "", 0.0)
        moved = (expected[name].mid if now is None else now) + float(by)
    except (ServiceError, ValueError, KeyError):
        return dict(given)
    return {**given, name: f"{min(max(moved, wanted.low), wanted.high):g}"}


def draft_of_trial(
    asked: SpecAsked, ahead: Ahead | None, given: Mapping[str, str], taster: str
) -> tuple[TrialDraft | None, dict[str, str]]:
    """The trial that was filled in, or what could not be read of it."""
    errors: dict[str, str] = {}
    measured: dict[str, Any] = {}
    for m in MEASURES:
        try:
            value = number_or_none(given.get(m.name, ""), m.name, m.low, m.high, m.unit, 90.0)
            measured[m.name] = value if _was_measured(m.name, given) else None
        except ServiceError as error:
            errors[m.name] = error.message
    tasted: dict[str, Any] = {
        name: whole(given[name], name)
        for name in (*(t for t, _ in TASTES), "liking")
        if given.get(name, "").strip()
    }
    if errors:
        return None, errors
    draft = TrialDraft(
        spec_id=asked.spec.id,
        revision=asked.spec.revision,
        taster=given.get("taster", "") or taster,
        words=given.get("words", ""),
        conditions={} if ahead is None else conditions_of(ahead.bed, ahead.poured),
        **measured,
        **tasted,
    )
    said = [*measured.values(), *tasted.values(), draft.words.strip() or None]
    if all(value is None for value in said):
        raise BadData("move a number or tap a taste first; nothing was kept", field="form")
    if ahead is None or draft.dose_g is not None or not _teaches(draft):
        return draft, {}
    return replace(draft, dose_g=ahead.bed.dose_g), {}


def _teaches(draft: TrialDraft) -> bool:
    """The dose is taken as the spec says, unless somebody weighed another."""
    return draft.liquid_out_ml is not None or draft.drain_seconds is not None


def _was_measured(name: str, given: Mapping[str, str]) -> bool:
    moved = given.get(name, "").strip().replace(",", ".") != given.get(f"foretold_{name}", "")
    return moved or bool(given.get(f"same_{name}"))


def _measure_field(
    m: Measure, expected: Interval, given: Mapping[str, str], error: str
) -> MeasureField:
    shown = f"{_rounded(expected.mid, m.step):g}"
    return MeasureField(
        name=m.name,
        label=m.label,
        unit=m.unit,
        value=given.get(m.name, shown),
        foretold=given.get(f"foretold_{m.name}", shown),
        range=range_words(expected, 3),
        less=f"{m.name}={-m.step:g}",
        more=f"{m.name}={m.step:g}",
        step=f"{m.step:g}",
        same=bool(given.get(f"same_{m.name}")),
        error=error,
    )


def _rounded(value: float, step: float) -> float:
    fine = min(step, 1.0)
    return round(value / fine) * fine
