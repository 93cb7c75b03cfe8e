"""Blind tests at the counter: drawing the plan, keeping it, and counting what was answered."""

from __future__ import annotations

from secrets import randbits
from typing import Any, Final

from service.bar import BlindKind, BlindTest, Unit, answers, close_blind_test, read_blind_test
from service.bar import plan_blind_test as keep_plan
from service.kit import BadData
from service.taste import (
    BlindPlan,
    BlindResult,
    Glass,
    Method,
    Serving,
    count_answers,
    fewest_correct,
    judge_blind_test,
    plan_blind_test,
)

_METHODS: Final = {
    BlindKind.TRIANGLE: Method.TRIANGLE,
    BlindKind.PAIRED: Method.PAIRED,
    BlindKind.DUO_TRIO: Method.DUO_TRIO,
}
_SEED_BITS: Final = 31


def draw_blind_test(
    unit: Unit,
    *,
    name: str,
    kind: BlindKind,
    assessors: int,
    samples: tuple[str, str] = ("A", "B"),
    attribute: str = "bitterness",
    two_sided: bool = False,
    seed: int | None = None,
) -> BlindTest:
    """Draw a serving plan by lot, and keep it; the same seed draws the same plan."""
    plan = plan_blind_test(
        _METHODS[kind],
        assessors,
        seed=randbits(_SEED_BITS) if seed is None else seed,
        samples=samples,
        attribute=attribute,
    )
    fewest_correct(assessors, plan.method, two_sided=two_sided)  # refuses what cannot be judged
    kept = {
        "samples": list(plan.samples),
        "question": plan.question,
        "seed": plan.seed,
        "two_sided": two_sided,
        "servings": plan.sheet(),
    }
    return keep_plan(unit, name=name, kind=kind, plan=kept)


def plan_of(test: BlindTest) -> BlindPlan:
    """The plan as it was drawn; BadData where it was not drawn here."""
    kept = test.plan
    try:
        first, second = kept["samples"]
        return BlindPlan(
            method=_METHODS[test.kind],
            samples=(first, second),
            question=kept["question"],
            servings=tuple(_serving(test.kind, line) for line in kept["servings"]),
            seed=kept["seed"],
        )
    except (KeyError, TypeError, ValueError):
        raise BadData("this plan was not drawn here; count its answers by hand") from None


def close_and_judge(unit: Unit, test_id: int, version: int) -> BlindTest:
    """Count the answers and write the result down; no answer comes in after that."""
    test = read_blind_test(unit, test_id)
    given = {answer.seat: answer.answer for answer in answers(unit, test_id)}
    count = count_answers(plan_of(test), given)
    two_sided = bool(test.plan.get("two_sided"))
    result = judge_blind_test(
        count.correct, count.assessors, _METHODS[test.kind], two_sided=two_sided
    )
    said = {**result_json(result), "unread_seats": list(count.unread)}
    return close_blind_test(unit, test_id, version, said)


def result_json(result: BlindResult) -> dict[str, Any]:
    """What a blind test says, in figures and in two sentences."""
    return {
        "correct": result.correct,
        "assessors": result.assessors,
        "two_sided": result.two_sided,
        "alpha": result.alpha,
        "p_value": result.p_value,
        "fewest_correct": result.fewest_correct,
        "significant": result.significant,
        "d_prime": [result.d_prime.low, result.d_prime.mid, result.d_prime.high],
        "discriminators": [
            result.discriminators.low,
            result.discriminators.mid,
            result.discriminators.high,
        ],
        "power": result.power,
        "words": result.words,
    }


def _serving(kind: BlindKind, line: dict[str, Any]) -> Serving:
    shown_first = kind is BlindKind.DUO_TRIO
    glasses = tuple(
        Glass(code, sample, is_reference=shown_first and place == 0)
        for place, (code, sample) in enumerate(zip(line["codes"], line["samples"], strict=True))
    )
    return Serving(line["seat"], glasses, line["right"])
