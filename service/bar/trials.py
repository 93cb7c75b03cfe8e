"""Trials: one making and tasting of a spec's revision, measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Final

from sqlalchemy import select

from service.bar.checks import LONGEST_NOTES, check_flat, check_whole, clean_line, clean_text
from service.bar.checks import check_optional as optional
from service.bar.coffees import read_bar_coffee
from service.bar.keeping import add, change, one, record, values_of
from service.bar.specs import read_spec
from service.bar.tables import trials
from service.bar.unit import Unit
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.kit import BadData

# Just about right is 0; -2 is much too little, 2 much too much.
LEAST_RIGHT, MOST_RIGHT = -2, 2
# The nine-point hedonic scale (Peryam and Pilgrim 1957): 1 dislike extremely, 9 like extremely.
LEAST_LIKING, MOST_LIKING = 1, 9
LONGEST_INITIALS: Final = 12
JUST_RIGHT: Final = ("sweetness", "bitterness", "coffee_strength", "strength")
MEASURED: Final = ("dose_g", "liquid_in_ml", "liquid_out_ml", "drain_seconds", "celsius")


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialDraft:
    """What was measured and tasted; whatever nobody looked at stays None.

    liquid_in_ml, liquid_out_ml : poured onto the bed, and received below it
    sweetness ... strength : just about right is 0, from -2 (much too little) to 2 (too much)
    liking : 1 to 9
    taster : initials
    conditions : what else a forecast needs of the bed and the liquid as they were (named numbers
        and words), so that later edits of the coffee do not reach back
    """

    spec_id: int
    revision: int | None = None
    coffee_id: int | None = None
    made_at: datetime | None = None
    taster: str = ""
    dose_g: float | None = None
    liquid_in_ml: float | None = None
    liquid_out_ml: float | None = None
    drain_seconds: float | None = None
    celsius: float | None = None
    sweetness: int | None = None
    bitterness: int | None = None
    coffee_strength: int | None = None
    strength: int | None = None
    liking: int | None = None
    words: str = ""
    conditions: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial(TrialDraft):
    """A trial that was kept; `undone_at` says since when it does not count."""

    id: int
    version: int
    undone_at: datetime | None

    @property
    def counts(self) -> bool:
        return self.undone_at is None


def check_trial(draft: TrialDraft) -> TrialDraft:
    """The draft as it can be kept, its numbers held to what can happen at a bar."""
    checked = replace(
        draft,
        taster=clean_line("taster", draft.taster, LONGEST_INITIALS),
        dose_g=optional("dose_g", draft.dose_g, LEAST_DOSE_G, MOST_DOSE_G, "g"),
        liquid_in_ml=optional("liquid_in_ml", draft.liquid_in_ml, 1, 100_000, "mL"),
        liquid_out_ml=optional("liquid_out_ml", draft.liquid_out_ml, 0, 100_000, "mL"),
        drain_seconds=optional("drain_seconds", draft.drain_seconds, 1, 86_400, "s"),
        celsius=optional("celsius", draft.celsius, -25, 100, "°C"),
        sweetness=_just_right("sweetness", draft),
        bitterness=_just_right("bitterness", draft),
        coffee_strength=_just_right("coffee_strength", draft),
        strength=_just_right("strength", draft),
        liking=check_whole("liking", draft.liking, LEAST_LIKING, MOST_LIKING, "points"),
        words=clean_text("words", draft.words, LONGEST_NOTES),
        conditions=check_flat("conditions", draft.conditions),
    )
    if checked.liquid_in_ml is not None and (checked.liquid_out_ml or 0) > checked.liquid_in_ml:
        raise BadData("more came out than went in; are the two mixed up?", field="liquid_out_ml")
    said = (*MEASURED, *JUST_RIGHT, "liking", "words")
    if all(getattr(checked, name) in (None, "") for name in said):
        raise BadData("measure or taste at least one thing", field="liquid_out_ml")
    return checked


def add_trial(unit: Unit, draft: TrialDraft) -> Trial:
    """Keep a trial. Without a revision or coffee named, it is of the spec's latest one and its
    own coffee; without a moment, of now."""
    values = values_of(TrialDraft, check_trial(draft))
    spec = read_spec(unit, draft.spec_id, draft.revision)
    values["revision"] = spec.revision
    values["made_at"] = draft.made_at or unit.at
    if draft.coffee_id is None:
        values["coffee_id"] = spec.coffee_id
    else:
        read_bar_coffee(unit, draft.coffee_id, field="coffee_id")
    return record(Trial, add(unit, trials, values))


def undo_trial(unit: Unit, trial_id: int) -> Trial:
    """The trial counts no longer, as if it had never been; its line stays to be seen."""
    seen = read_trial(unit, trial_id)
    if not seen.counts:
        return seen
    return record(Trial, change(unit, trials, trial_id, None, {"undone_at": unit.at}))


def redo_trial(unit: Unit, trial_id: int) -> Trial:
    """The trial counts again."""
    return record(Trial, change(unit, trials, trial_id, None, {"undone_at": None}))


def read_trial(unit: Unit, trial_id: int) -> Trial:
    return record(Trial, one(unit, trials, trial_id))


def list_trials(
    unit: Unit,
    *,
    spec_id: int | None = None,
    coffee_id: int | None = None,
    counting_only: bool = True,
) -> tuple[Trial, ...]:
    """Trials in the order they were made: what learning rests on."""
    query = select(trials).order_by(trials.c.made_at, trials.c.id)
    if spec_id is not None:
        query = query.where(trials.c.spec_id == spec_id)
    if coffee_id is not None:
        query = query.where(trials.c.coffee_id == coffee_id)
    if counting_only:
        query = query.where(trials.c.undone_at.is_(None))
    return tuple(record(Trial, row) for row in unit.connection.execute(query).mappings())


def _just_right(field: str, draft: TrialDraft) -> int | None:
    return check_whole(field, getattr(draft, field), LEAST_RIGHT, MOST_RIGHT, "steps")
