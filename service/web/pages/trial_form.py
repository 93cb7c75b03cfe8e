"""The form of a trial: numbers that start at the forecast, tastes in large tiles.

A number counts as measured when it was moved, or when it is ticked as just what was foretold; what
nobody touched is left out, so that a forecast never confirms itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from service.bar import TrialDraft, Units
from service.counter.house_readings import SpecAsked
from service.counter.house_trials import SOLIDS, Ahead, conditions_of
from service.kit import BadData, Interval, ServiceError
from service.kit.units import ml_per
from service.web.pages.amounts import UNIT_WORDS
from service.web.pages.house import whole
from service.web.pages.pieces import Option
from service.web.pages.telling import range_words
from service.web.pages.trial_solids import SolidsField, solids_field, solids_g_per_l
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
    """One thing to measure: its field, unit, the step of a tap, and what is possible.

    `per_unit` is what one of its unit is in the unit that is kept.
    """

    name: str
    label: str
    unit: str
    step: float
    low: float
    high: float
    per_unit: float = 1.0


MEASURES: Final = (
    Measure("liquid_out_ml", "Came through", "mL", 2.0, 0.0, 2_000.0),
    Measure("drain_seconds", "Took", "s", 5.0, 5.0, 3_600.0),
    Measure("liquid_in_ml", "Poured on", "mL", 1.0, 1.0, 2_000.0),
    Measure("dose_g", "Coffee", "g", 0.5, 2.0, 100.0),
    Measure("celsius", "In the glass", "°C", 1.0, -20.0, 60.0),
)
FIRST: Final = 2
VOLUMES: Final = frozenset({"liquid_out_ml", "liquid_in_ml"})
# A tap where a bar counts in larger units: 1 mL or 3.
_LARGER_STEP: Final = 0.1


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
    solids: SolidsField | None
    errors: tuple[tuple[str, str], ...]


def measures_in(units: Units) -> tuple[Measure, ...]:
    """What can be measured, volumes in the bar's unit."""
    if units is Units.ML:
        return MEASURES
    per_unit = ml_per(str(units))
    return tuple(
        replace(m, unit=UNIT_WORDS[units], step=_LARGER_STEP, low=m.low / per_unit,
                high=m.high / per_unit, per_unit=per_unit)
        if m.name in VOLUMES
        else m
        for m in MEASURES
    )  # fmt: skip


def foretold(asked: SpecAsked, ahead: Ahead | None, units: Units) -> dict[str, Interval]:
    """What each number is expected to be, in the units of the form."""
    found = _foretold(asked, ahead)
    per_unit = {m.name: m.per_unit for m in measures_in(units)}
    return {name: each.scaled(1.0 / per_unit.get(name, 1.0)) for name, each in found.items()}


def _foretold(asked: SpecAsked, ahead: Ahead | None) -> dict[str, Interval]:
    known = {"celsius": asked.measured().reading.after.celsius}
    if ahead is None:
        return known
    return {
        "liquid_out_ml": ahead.forecast.received_ml.after,
        "drain_seconds": ahead.forecast.drain_seconds.after,
        "liquid_in_ml": Interval.exactly(float(ahead.poured.volume_ml)),
        "dose_g": Interval.exactly(ahead.bed.dose_g),
        SOLIDS: ahead.forecast.solids_g_per_l.after,
        **known,
    }


def trial_form(
    expected: Mapping[str, Interval],
    given: Mapping[str, str],
    errors: Mapping[str, str],
    units: Units,
) -> TrialForm:
    """The form as it was filled in; empty places hold the forecast."""
    fields = [
        _measure_field(m, expected[m.name], given, errors.get(m.name, ""))
        for m in measures_in(units)
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
        solids=solids_field(expected, given, errors.get(SOLIDS, "")),
        errors=tuple(errors.items()),
    )  # fmt: skip


def stepped(
    given: Mapping[str, str], expected: Mapping[str, Interval], units: Units
) -> dict[str, str]:
    """The form after one of its plus and minus buttons, for browsers without a script."""
    name, _, by = given.get("step", "").partition("=")
    wanted = next((m for m in measures_in(units) if m.name == name), None)
    if wanted is None:
        return dict(given)
    try:
        now = number_or_none(given.get(name, ""), name, wanted.low, wanted.high, "", 0.0)
        moved = (expected[name].mid if now is None else now) + float(by)
    except (ServiceError, ValueError, KeyError):
        return dict(given)
    return {**given, name: f"{min(max(moved, wanted.low), wanted.high):g}"}


def draft_of_trial(
    asked: SpecAsked, ahead: Ahead | None, given: Mapping[str, str], taster: str, units: Units
) -> tuple[TrialDraft | None, dict[str, str]]:
    """The trial that was filled in, or what could not be read of it."""
    errors: dict[str, str] = {}
    measured: dict[str, Any] = {}
    for m in measures_in(units):
        try:
            example = 90.0 / m.per_unit
            value = number_or_none(given.get(m.name, ""), m.name, m.low, m.high, m.unit, example)
            taken = value is not None and _was_measured(m.name, given)
            measured[m.name] = value * m.per_unit if taken and value is not None else None
        except ServiceError as error:
            errors[m.name] = error.message
    tasted: dict[str, Any] = {
        name: whole(given[name], name)
        for name in (*(t for t, _ in TASTES), "liking")
        if given.get(name, "").strip()
    }
    solids = None
    try:
        solids = None if ahead is None else solids_g_per_l(ahead, given)
    except ServiceError as error:
        errors[SOLIDS] = error.message
    if errors:
        return None, errors
    conditions = {} if ahead is None else conditions_of(ahead.bed, ahead.poured)
    draft = TrialDraft(
        spec_id=asked.spec.id,
        revision=asked.spec.revision,
        taster=given.get("taster", "") or taster,
        words=given.get("words", ""),
        conditions=conditions if solids is None else {**conditions, SOLIDS: solids},
        **measured,
        **tasted,
    )
    said = [*measured.values(), *tasted.values(), draft.words.strip() or None, solids]
    if all(value is None for value in said):
        raise BadData("move a number or tap a taste first; nothing was kept", field="form")
    if ahead is None or draft.dose_g is not None or not _teaches(draft):
        return draft, {}
    return replace(draft, dose_g=ahead.bed.dose_g), {}


def _teaches(draft: TrialDraft) -> bool:
    """Whether the bed learns from it: then it needs a dose, the spec's where nobody weighed one."""
    measured = (draft.liquid_out_ml, draft.drain_seconds, draft.conditions.get(SOLIDS))
    return any(value is not None for value in measured)


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
