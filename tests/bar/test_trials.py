"""Trials, and blind tests as records."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.bar import (
    Bar,
    BlindKind,
    TrialDraft,
    add_trial,
    answers,
    close_blind_test,
    give_answer,
    list_blind_tests,
    list_trials,
    plan_blind_test,
    redo_trial,
    remove_coffee,
    revise_spec,
    take_back_answer,
    undo_trial,
)
from service.ingredients import Catalogue
from service.kit import BadData, Conflict, NotFound, OutOfRange
from tests.bar.drafts import POURS, SPEC, WHO, a_coffee, a_spec

TRIAL = TrialDraft(
    spec_id=1, taster="ZK", dose_g=15.0, liquid_in_ml=90.0, liquid_out_ml=71.5,
    drain_seconds=150.0, celsius=-1.5, sweetness=-1, bitterness=0, coffee_strength=2, strength=0,
    liking=8, words="fig first, then cedar", conditions={"grind": "medium-fine", "abv": 0.21},
)  # fmt: skip


def test_a_trial_comes_back_as_it_was_made(bar: Bar, catalogue: Catalogue) -> None:
    coffee = a_coffee(bar)
    spec = a_spec(bar, catalogue, replace(SPEC, coffee_id=coffee))
    with bar.unit(WHO) as unit:
        kept = add_trial(unit, replace(TRIAL, spec_id=spec.id))
        assert list_trials(unit) == (kept,)
    assert (kept.revision, kept.coffee_id) == (1, coffee)
    assert kept.made_at.tzinfo is not None
    assert (kept.sweetness, kept.liking, kept.words) == (-1, 8, TRIAL.words)
    assert kept.conditions == TRIAL.conditions


def test_a_trial_stays_with_the_revision_it_was_made_of(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        first = add_trial(unit, TRIAL)
        revise_spec(unit, catalogue, spec.id, 1, replace(SPEC, pours=POURS[:2]))
        second = add_trial(unit, TRIAL)
        late = add_trial(unit, replace(TRIAL, revision=1))
        assert [t.revision for t in (first, second, late)] == [1, 2, 1]
        with pytest.raises(NotFound):
            add_trial(unit, replace(TRIAL, revision=3))


def test_undoing_a_trial_leaves_what_there_was_before_it(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        add_trial(unit, TRIAL)
        before = list_trials(unit, spec_id=spec.id)
        slip = add_trial(unit, replace(TRIAL, liking=1))
        undone = undo_trial(unit, slip.id)
        assert undo_trial(unit, slip.id) == undone
        assert list_trials(unit, spec_id=spec.id) == before
        assert len(list_trials(unit, counting_only=False)) == 2
        assert redo_trial(unit, slip.id).counts
        assert len(list_trials(unit)) == 2


@pytest.mark.parametrize(
    ("field", "value"),
    [("liking", 0), ("liking", 10), ("sweetness", 3), ("strength", -3), ("dose_g", 1.0),
     ("liquid_in_ml", 0.0), ("drain_seconds", 0.0), ("celsius", 140.0),
     ("drain_seconds", float("nan"))],
)  # fmt: skip
def test_numbers_that_no_trial_gives_are_refused(
    bar: Bar, catalogue: Catalogue, field: str, value: float
) -> None:
    a_spec(bar, catalogue)
    with pytest.raises(OutOfRange) as caught, bar.unit(WHO) as unit:
        add_trial(unit, replace(TRIAL, **{field: value}))
    assert caught.value.field == field


@pytest.mark.parametrize(
    "draft",
    [TrialDraft(spec_id=1, taster="ZK"), replace(TRIAL, liquid_out_ml=91.0),
     replace(TRIAL, taster="a whole name and more")],
)  # fmt: skip
def test_a_trial_without_sense_is_refused(
    bar: Bar, catalogue: Catalogue, draft: TrialDraft
) -> None:
    a_spec(bar, catalogue)
    with pytest.raises(BadData), bar.unit(WHO) as unit:
        add_trial(unit, draft)


def test_a_coffee_that_trials_were_made_with_stays(bar: Bar, catalogue: Catalogue) -> None:
    coffee, spare = a_coffee(bar), a_coffee(bar)
    a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        add_trial(unit, replace(TRIAL, coffee_id=coffee))
        remove_coffee(unit, spare, 1)
    with pytest.raises(Conflict, match="out of use"), bar.unit(WHO) as unit:
        remove_coffee(unit, coffee, 1)


PLAN = {"orders": [["A", "B", "A"], ["B", "A", "A"]], "odd": ["B", "B"], "seed": 20261120}


def test_a_blind_test_keeps_plan_answers_and_result(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        test = plan_blind_test(unit, name="ice", kind=BlindKind.TRIANGLE, plan=PLAN)
        assert (test.plan, test.closed_at) == (PLAN, None)
        give_answer(unit, test.id, seat=2, answer="first", taster="ZK")
        slip = give_answer(unit, test.id, seat=1, answer="third", words="warmer")
        take_back_answer(unit, slip.id, slip.version)
        give_answer(unit, test.id, seat=1, answer="second")
        closed = close_blind_test(unit, test.id, test.version, {"correct": 2, "of": 2})
        assert [(a.seat, a.answer) for a in answers(unit, test.id)] == [(1, "second"), (2, "first")]
        assert list_blind_tests(unit) == (closed,)
        assert closed.result == {"correct": 2, "of": 2}


def test_a_seat_answers_once_and_only_while_the_test_is_open(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        test = plan_blind_test(unit, name="ice", kind=BlindKind.PAIRED, plan={})
        given = give_answer(unit, test.id, seat=1, answer="A")
    with pytest.raises(Conflict), bar.unit(WHO) as unit:
        give_answer(unit, test.id, seat=1, answer="B")
    with bar.unit(WHO) as unit:
        close_blind_test(unit, test.id, test.version, {})
    for act in (
        lambda unit: give_answer(unit, test.id, seat=2, answer="B"),
        lambda unit: take_back_answer(unit, given.id, given.version),
        lambda unit: close_blind_test(unit, test.id, test.version + 1, {}),
    ):
        with pytest.raises(Conflict, match="closed"), bar.unit(WHO) as unit:
            act(unit)


@pytest.mark.parametrize("plan", [{"x": float("nan")}, {"x": object()}, {"x": "a" * 300_000},
                                  {"x": "\ud83d"}])  # fmt: skip
def test_a_plan_has_to_be_plain_json(bar: Bar, plan: dict[str, object]) -> None:
    with pytest.raises(BadData), bar.unit(WHO) as unit:
        plan_blind_test(unit, name="ice", kind=BlindKind.PAIRED, plan=plan)
