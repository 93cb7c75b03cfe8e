"""Blind tests: the plan, each taster's answer, and the result. Counting them is not done here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from sqlalchemy import select

from service.bar.checks import LONGEST_NOTES, check_json, check_whole, clean_line, clean_text
from service.bar.keeping import add, change, locked, one, record, remove
from service.bar.tables import blind_answers, blind_tests
from service.bar.trials import LONGEST_INITIALS
from service.bar.unit import Unit
from service.bar.words import BlindKind
from service.kit import Conflict

MOST_SEATS: Final = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class BlindTest:
    """A planned test. `plan` holds the serving orders as they were drawn, `result` what came out;
    both are plain JSON of whoever draws and counts."""

    id: int
    version: int
    name: str
    kind: BlindKind
    planned_at: datetime
    plan: Mapping[str, Any]
    closed_at: datetime | None
    result: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class BlindAnswer:
    """What the taster at one seat said."""

    id: int
    version: int
    test_id: int
    seat: int
    taster: str
    answer: str
    words: str


def plan_blind_test(
    unit: Unit, *, name: str, kind: BlindKind, plan: Mapping[str, Any]
) -> BlindTest:
    """Keep a plan; answers can come in from then on."""
    values = {
        "name": clean_line("name", name, needed=True),
        "kind": kind,
        "planned_at": unit.at,
        "plan": check_json("plan", plan),
        "closed_at": None,
        "result": {},
    }
    return record(BlindTest, add(unit, blind_tests, values))


def give_answer(
    unit: Unit, test_id: int, *, seat: int, answer: str, taster: str = "", words: str = ""
) -> BlindAnswer:
    """Keep what a seat answered; a seat answers once."""
    _open_test(unit, test_id)
    values = {
        "test_id": test_id,
        "seat": check_whole("seat", seat, 1, MOST_SEATS, "seats"),
        "taster": clean_line("taster", taster, LONGEST_INITIALS),
        "answer": clean_line("answer", answer, needed=True),
        "words": clean_text("words", words, LONGEST_NOTES),
    }
    if any(each.seat == seat for each in answers(unit, test_id)):
        raise Conflict(f"seat {seat} has answered; take that answer back first", field="seat")
    return record(BlindAnswer, add(unit, blind_answers, values))


def take_back_answer(unit: Unit, answer_id: int, version: int) -> None:
    """A slip of the thumb; only while the test is open."""
    _open_test(unit, one(unit, blind_answers, answer_id)["test_id"])
    remove(unit, blind_answers, answer_id, version)


def close_blind_test(
    unit: Unit, test_id: int, version: int, result: Mapping[str, Any]
) -> BlindTest:
    """Write down the result; no answer comes in after that."""
    _open_test(unit, test_id)
    values = {"closed_at": unit.at, "result": check_json("result", result)}
    return record(BlindTest, change(unit, blind_tests, test_id, version, values))


def read_blind_test(unit: Unit, test_id: int) -> BlindTest:
    return record(BlindTest, one(unit, blind_tests, test_id))


def list_blind_tests(unit: Unit) -> tuple[BlindTest, ...]:
    """All of them, the latest first."""
    rows = unit.connection.execute(select(blind_tests).order_by(blind_tests.c.id.desc()))
    return tuple(record(BlindTest, row) for row in rows.mappings())


def answers(unit: Unit, test_id: int) -> tuple[BlindAnswer, ...]:
    """The answers to a test, by seat."""
    query = select(blind_answers).where(blind_answers.c.test_id == test_id)
    rows = unit.connection.execute(query.order_by(blind_answers.c.seat)).mappings()
    return tuple(record(BlindAnswer, row) for row in rows)


def _open_test(unit: Unit, test_id: int) -> None:
    """Held until the unit ends, so that no answer slips in while the result is written."""
    if locked(unit, blind_tests, test_id)["closed_at"] is not None:
        raise Conflict("this test is closed; plan another one", field="test_id")
