"""Blind tests: drawn by lot, poured from a sheet, answered by seat, judged by the standards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import (
    BlindAnswer,
    BlindKind,
    BlindTest,
    answers,
    give_answer,
    list_blind_tests,
    read_blind_test,
    take_back_answer,
)
from service.counter.blind import close_and_judge, draw_blind_test, plan_of
from service.kit import BadData, ServiceError
from service.web.deps import LookHere, UnitHere
from service.web.pages.house import FormHere, go_to, status_of, texts_of, whole
from service.web.pages.pieces import Option
from service.web.pages.rendering import page_answer
from service.web.pages.telling import number
from service.web.pages.typed_numbers import number_or_none

router = APIRouter()
_USUAL_SEATS: Final = "12"
_ASKS: Final = {
    BlindKind.TRIANGLE: "Which of the three is the odd one?",
    BlindKind.PAIRED: "Which of the two has more of it?",
    BlindKind.DUO_TRIO: "Which of the two is like the first?",
}


@dataclass(frozen=True, slots=True)
class BlindLine:
    """One test in the list."""

    name: str
    address: str
    words: str


@dataclass(frozen=True, slots=True)
class BlindTestsPage:
    """All tests, and the form for a new one."""

    tests: tuple[BlindLine, ...]
    kinds: tuple[Option, ...]
    name: str
    assessors: str
    first: str
    second: str
    attribute: str
    two_sided: bool
    problem: str


@dataclass(frozen=True, slots=True)
class SeatLine:
    """One seat: its glasses in order, what is in them, and what was answered."""

    seat: str
    codes: tuple[str, ...]
    samples: str
    options: tuple[str, ...]
    answer: str
    answer_id: int
    answer_version: int


@dataclass(frozen=True, slots=True)
class BlindTestPage:
    """One test: the pourer's sheet, the answers, the result."""

    id: int
    name: str
    kind: str
    asks: str
    question: str
    version: int
    seats: tuple[SeatLine, ...]
    open: bool
    answered: str
    result: str
    figures: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]


@router.get("/blind-tests", include_in_schema=False)
def every_test(request: Request, unit: LookHere) -> Response:
    """The list and the form."""
    page = _list_page(list_blind_tests(unit), {"kind": str(BlindKind.TRIANGLE)}, "")
    return page_answer(request, "blind_tests.html", page, section="list")


@router.post("/blind-tests", include_in_schema=False)
def draw(request: Request, unit: UnitHere, form: FormHere) -> Response:
    """Draw a plan by lot and keep it."""
    given = texts_of(form)
    try:
        if given.get("kind") not in {str(kind) for kind in BlindKind}:
            raise BadData("choose triangle, paired or duo-trio", field="kind")
        seats = number_or_none(given.get("assessors", ""), "assessors", 1, 1_000, "seats", 12)
        kept = draw_blind_test(
            unit,
            name=given.get("name", ""),
            kind=BlindKind(given["kind"]),
            assessors=round(seats or 12),
            samples=(given.get("first") or "A", given.get("second") or "B"),
            attribute=given.get("attribute") or "bitterness",
            two_sided="two_sided" in given,
        )
        return go_to(f"/blind-tests/{kept.id}")
    except ServiceError as error:
        page = _list_page(list_blind_tests(unit), given, error.message)
        return page_answer(
            request, "blind_tests.html", page, section="list", status=status_of(error)
        )


@router.get("/blind-tests/{test_id:int}", include_in_schema=False)
def one_test(request: Request, unit: LookHere, test_id: int) -> Response:
    """One test."""
    page = _test_page(read_blind_test(unit, test_id), answers(unit, test_id))
    return page_answer(request, "blind_test.html", page, section="list", status=HTTPStatus.OK)


@router.post("/blind-tests/{test_id:int}", include_in_schema=False)
def act(unit: UnitHere, form: FormHere, test_id: int) -> Response:
    """Keep what a seat answered, take it back, or close the test and count."""
    given = texts_of(form)
    if "close" in given:
        close_and_judge(unit, test_id, whole(given["close"], "close"))
    elif "back" in given:
        answer_id, _, version = given["back"].partition(".")
        take_back_answer(unit, whole(answer_id, "back"), whole(version, "version"))
    elif "answer" in given:
        seat, _, code = given["answer"].partition("=")
        give_answer(unit, test_id, seat=whole(seat, "seat"), answer=code)
        return go_to(f"/blind-tests/{test_id}#seat-{seat}")
    return go_to(f"/blind-tests/{test_id}")


def _list_page(
    every: tuple[BlindTest, ...], given: Mapping[str, str], problem: str
) -> BlindTestsPage:
    return BlindTestsPage(
        tests=tuple(
            BlindLine(
                test.name,
                f"/blind-tests/{test.id}",
                f"{test.kind}, {test.planned_at:%-d %B %Y}"
                + (f": {test.result.get('words', 'closed')}" if test.closed_at else ", open"),
            )
            for test in every
        ),
        kinds=tuple(Option(str(k), str(k), str(k) == given.get("kind")) for k in BlindKind),
        name=given.get("name", ""),
        assessors=given.get("assessors", _USUAL_SEATS),
        first=given.get("first", ""),
        second=given.get("second", ""),
        attribute=given.get("attribute", ""),
        two_sided="two_sided" in given,
        problem=problem,
    )


def _test_page(test: BlindTest, given: tuple[BlindAnswer, ...]) -> BlindTestPage:
    plan, said = plan_of(test), {answer.seat: answer for answer in given}
    glasses = sum(plan.glasses.values()) / max(len(plan.servings), 1)
    seats = []
    for serving in plan.servings:
        answer = said.get(serving.seat)
        seats.append(
            SeatLine(
                seat=str(serving.seat),
                codes=tuple(glass.code for glass in serving.glasses),
                samples=", ".join(glass.sample for glass in serving.glasses),
                options=tuple(g.code for g in serving.glasses if not g.is_reference),
                answer="" if answer is None else answer.answer,
                answer_id=0 if answer is None else answer.id,
                answer_version=0 if answer is None else answer.version,
            )
        )
    return BlindTestPage(
        id=test.id,
        name=test.name,
        kind=str(test.kind),
        asks=_ASKS[test.kind],
        question=plan.question,
        version=test.version,
        seats=tuple(seats),
        open=test.closed_at is None,
        answered=f"{len(said)} of {len(seats)} seats have answered",
        result=str(test.result.get("words", "")),
        figures=tuple(_figures(test.result)),
        cautions=(
            f"Each taster gets {glasses:.0f} glasses. Pour tastes of 15 mL, let them spit, and "
            "count what is swallowed towards the evening's drinks.",
            "Bitterness carries over: water and plain bread between glasses, a minute's rest, and "
            "not more than one such test a session.",
            "Nobody who drives, is pregnant or has an allergy to what is in it tastes.",
        ),
    )


def _figures(result: Mapping[str, object]) -> list[tuple[str, str]]:
    """The figures of the result, as far as they are there."""
    found = []
    for name, words in (
        ("p_value", "chance of so many by guessing (p)"),
        ("fewest_correct", "right answers needed"),
        ("power", "chance to have found a clear difference (power)"),
    ):
        value = result.get(name)
        if isinstance(value, int | float):
            found.append((words, number(float(value))))
    for name, words in (("d_prime", "d′"), ("discriminators", "share who tell them apart")):
        value = result.get(name)
        if isinstance(value, list) and len(value) == 3:
            low, mid, high = (number(float(each), 2) for each in value)
            found.append((words, f"{mid} ({low} to {high})"))
    return found
