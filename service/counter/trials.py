"""Trials and blind tests: keeping what was made, measured and tasted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from service.bar import (
    Bar,
    BlindAnswer,
    BlindKind,
    BlindTest,
    Trial,
    TrialDraft,
    add_trial,
    answers,
    close_blind_test,
    give_answer,
    list_blind_tests,
    list_trials,
    plan_blind_test,
    read_blind_test,
    redo_trial,
    take_back_answer,
    undo_trial,
)


def trials(
    bar: Bar,
    *,
    spec_id: int | None = None,
    coffee_id: int | None = None,
    counting_only: bool = True,
) -> tuple[Trial, ...]:
    """Trials in the order they were made; those undone only where asked for."""
    with bar.look() as unit:
        return list_trials(unit, spec_id=spec_id, coffee_id=coffee_id, counting_only=counting_only)


def keep_trial(bar: Bar, who: str, draft: TrialDraft) -> Trial:
    """Keep a trial of a spec's revision."""
    with bar.unit(who) as unit:
        return add_trial(unit, draft)


def discount_trial(bar: Bar, who: str, trial_id: int) -> Trial:
    """Undo a trial: it counts no longer."""
    with bar.unit(who) as unit:
        return undo_trial(unit, trial_id)


def count_trial_again(bar: Bar, who: str, trial_id: int) -> Trial:
    """Undo the undoing."""
    with bar.unit(who) as unit:
        return redo_trial(unit, trial_id)


def blind_tests(bar: Bar) -> tuple[BlindTest, ...]:
    """All blind tests, the latest first."""
    with bar.look() as unit:
        return list_blind_tests(unit)


def blind_test(bar: Bar, test_id: int) -> tuple[BlindTest, tuple[BlindAnswer, ...]]:
    """One blind test with its answers by seat."""
    with bar.look() as unit:
        return read_blind_test(unit, test_id), answers(unit, test_id)


def keep_plan(
    bar: Bar, who: str, *, name: str, kind: BlindKind, plan: Mapping[str, Any]
) -> BlindTest:
    """Keep the plan of a blind test as it was drawn."""
    with bar.unit(who) as unit:
        return plan_blind_test(unit, name=name, kind=kind, plan=plan)


def keep_answer(
    bar: Bar,
    who: str,
    test_id: int,
    *,
    seat: int,
    answer: str,
    taster: str = "",
    words: str = "",
) -> BlindAnswer:
    """Keep what a seat answered."""
    with bar.unit(who) as unit:
        return give_answer(unit, test_id, seat=seat, answer=answer, taster=taster, words=words)


def take_answer_back(bar: Bar, who: str, answer_id: int, version: int) -> None:
    """Take back an answer while the test is open."""
    with bar.unit(who) as unit:
        take_back_answer(unit, answer_id, version)


def close_test(
    bar: Bar, who: str, test_id: int, version: int, result: Mapping[str, Any]
) -> BlindTest:
    """Write down the result; no answer comes in after it."""
    with bar.unit(who) as unit:
        return close_blind_test(unit, test_id, version, result)
