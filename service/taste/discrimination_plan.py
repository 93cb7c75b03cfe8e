"""Plans of blind tests: who gets which glass in which order, under which code, and how many.

Every order is poured as often as any other, as far as the number of tasters allows, and who gets
which is drawn by lot. Codes are three different digits that mean nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import permutations
from typing import Any, Final

import numpy as np

from service.kit import BadData, OutOfRange
from service.taste.parameters import check_range
from service.taste.thurstone import Method

MOST_SEATS: Final = 1_000
REFERENCE_CODE: Final = "R"
# Estimates of what one sitting bears; local law, licensed practice and the taster come first.
# Alcohol: 10 g, one standard drink as the World Health Organization counts. Bitter, strong and
# sweet drinks linger, for which ISO 4120 calls the triangle of limited use: six glasses.
SITTING_ETHANOL_G: Final = 10.0
SITTING_GLASSES: Final = 6
SITTING_CAFFEINE_MG: Final = 200.0  # single dose, EFSA 2015
_CODES: Final = tuple(
    "".join(digits) for digits in permutations("0123456789", 3) if digits[0] != "0"
)


class ReferenceGlass(StrEnum):
    """Which sample a duo-trio test hands over as the reference."""

    BALANCED = "each sample in turn"
    FIRST = "the first sample"


@dataclass(frozen=True, slots=True)
class Glass:
    """One glass: its code, what is in it, and whether it is shown as the reference."""

    code: str
    sample: str
    is_reference: bool = False


@dataclass(frozen=True, slots=True)
class Serving:
    """The glasses of one seat in the order of tasting, and the code of the right answer.

    In a two-sided paired test no answer is right; `right` is then the code of the first sample.
    """

    seat: int
    glasses: tuple[Glass, ...]
    right: str


@dataclass(frozen=True, slots=True)
class BlindPlan:
    """A whole plan; the same seed gives the same plan."""

    method: Method
    samples: tuple[str, str]
    question: str
    servings: tuple[Serving, ...]
    seed: int

    @property
    def glasses(self) -> dict[str, int]:
        """How many glasses of each sample to pour."""
        return dict(Counter(g.sample for serving in self.servings for g in serving.glasses))

    def sheet(self) -> list[dict[str, Any]]:
        """The pourer's sheet as plain records; keep it from the tasters."""
        return [
            {
                "seat": serving.seat,
                "codes": [glass.code for glass in serving.glasses],
                "samples": [glass.sample for glass in serving.glasses],
                "right": serving.right,
            }
            for serving in self.servings
        ]

    def slips(self) -> list[dict[str, Any]]:
        """What each taster gets to see: codes in order, and the question."""
        return [
            {
                "seat": serving.seat,
                "codes": [glass.code for glass in serving.glasses],
                "question": self.question,
            }
            for serving in self.servings
        ]


@dataclass(frozen=True, slots=True)
class Count:
    """Right answers of all that could be read; `unread` are seats whose answer is no code there."""

    correct: int
    assessors: int
    unread: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Sitting:
    """What one taster can be asked in one sitting; `tests` may be 0."""

    glasses: int
    tests: int
    ethanol_g: float
    caffeine_mg: float
    cautions: tuple[str, ...]


_QUESTIONS: Final = {
    Method.TRIANGLE: "Taste from left to right. Which one is different from the other two?",
    Method.DUO_TRIO: "Taste the reference R first. Which of the other two is the same as R?",
    Method.PAIRED: "Taste from left to right. Which one has more {attribute}?",
}


def plan_blind_test(
    method: Method,
    assessors: int,
    *,
    seed: int,
    samples: tuple[str, str] = ("A", "B"),
    attribute: str = "bitterness",
    reference: ReferenceGlass = ReferenceGlass.BALANCED,
) -> BlindPlan:
    """A serving plan with balanced orders and blind codes [no unit].

    Parameters
    ----------
    method : Method
        The test
    assessors : int
        Seats to pour for [seats]
    seed : int
        The same seed gives the same plan
    samples : tuple[str, str]
        What the two drinks are called on the pourer's sheet; in a paired test the first is the
        one expected to have more
    attribute : str
        What a paired test asks for
    reference : ReferenceGlass
        Which sample a duo-trio test shows as the reference

    Valid for: 1 to 1 000 seats; OutOfRange outside. BadData where both samples have one name.
    Source: ISO 4120 (six orders), ISO 10399 (two or four), ISO 5495 (two): each equally often,
    drawn by lot.

    >>> plan = plan_blind_test(Method.TRIANGLE, 12, seed=7)
    >>> plan.glasses
    {'B': 18, 'A': 18}
    """
    if not 1 <= assessors <= MOST_SEATS:
        raise OutOfRange.of("assessors", assessors, 1, MOST_SEATS, "seats")
    if samples[0] == samples[1] or not all(name.strip() for name in samples):
        raise BadData("give the two drinks two names", field="samples")
    rng = np.random.default_rng(seed)
    orders = _drawn_orders(_orders(method, samples, reference), assessors, rng)
    sizes = [len(order) - (method is Method.DUO_TRIO) for order in orders]
    servings = tuple(
        _serving(seat, order, codes, method, samples)
        for seat, (order, codes) in enumerate(zip(orders, _codes(sizes, rng), strict=True), start=1)
    )
    question = _QUESTIONS[method].format(attribute=attribute)
    return BlindPlan(method, samples, question, servings, seed)


def count_answers(plan: BlindPlan, answers: Mapping[int, str]) -> Count:
    """How many seats answered, and how many were right [answers].

    Parameters
    ----------
    plan : BlindPlan
        The plan that was served
    answers : Mapping[int, str]
        The code that each seat named; seats without an answer are left out [codes]

    Valid for: seats of the plan; BadData for others. A code that was not in front of a seat is not
    counted and named as unread.
    Source: none needed; a comparison.

    >>> plan = plan_blind_test(Method.PAIRED, 2, seed=1)
    >>> count_answers(plan, {1: plan.servings[0].right, 2: "000"})
    Count(correct=1, assessors=1, unread=(2,))
    """
    seats = {serving.seat: serving for serving in plan.servings}
    if strange := sorted(set(answers) - set(seats)):
        raise BadData(f"seat {strange[0]} is not in the plan", field="answers")
    correct, read, unread = 0, 0, []
    for seat, answer in sorted(answers.items()):
        code = answer.strip()
        if code not in {glass.code for glass in seats[seat].glasses if not glass.is_reference}:
            unread.append(seat)
            continue
        read += 1
        correct += code == seats[seat].right
    return Count(correct, read, tuple(unread))


def sitting(
    method: Method,
    *,
    ethanol_g_per_glass: float,
    caffeine_mg_per_glass: float = 0.0,
    most_ethanol_g: float = SITTING_ETHANOL_G,
    most_glasses: int = SITTING_GLASSES,
) -> Sitting:
    """How many glasses and tests one taster can be given in one sitting [glasses, tests].

    Parameters
    ----------
    method : Method
        The test; a duo-trio's reference is a glass, too
    ethanol_g_per_glass : float
        Alcohol in one tasting glass if it is swallowed [g]
    caffeine_mg_per_glass : float
        Caffeine in one tasting glass [mg]
    most_ethanol_g : float
        What one taster may take in one sitting [g]
    most_glasses : int
        What a palate bears of drinks that linger [glasses]

    Valid for: up to 100 g and 1 000 mg in a glass; OutOfRange outside. No promise that any amount
    is safe: local law, licensed practice and the taster's own limits come first.
    Source: our estimate, because no standard sets these limits for strong bitter drinks: 10 g is
    one standard drink of the World Health Organization; six glasses is common practice, no source;
    200 mg of caffeine by EFSA 2015.

    >>> allowed = sitting(Method.TRIANGLE, ethanol_g_per_glass=2.8, caffeine_mg_per_glass=8.0)
    >>> allowed.glasses, allowed.tests
    (3, 1)
    """
    check_range("ethanol_g_per_glass", float(ethanol_g_per_glass), 0.0, 100.0, "g")
    check_range("caffeine_mg_per_glass", float(caffeine_mg_per_glass), 0.0, 1000.0, "mg")
    check_range("most_ethanol_g", float(most_ethanol_g), 0.0, 100.0, "g")
    glasses = min(
        most_glasses,
        _fits(most_ethanol_g, ethanol_g_per_glass, most_glasses),
        _fits(SITTING_CAFFEINE_MG, caffeine_mg_per_glass, most_glasses),
    )
    needed = 2 if method is Method.PAIRED else 3
    tests = glasses // needed
    return Sitting(
        glasses=tests * needed,
        tests=tests,
        ethanol_g=tests * needed * ethanol_g_per_glass,
        caffeine_mg=tests * needed * caffeine_mg_per_glass,
        cautions=_cautions(method, tests, ethanol_g_per_glass, caffeine_mg_per_glass),
    )


def _fits(most: float, each: float, otherwise: int) -> int:
    return int(min(most / each + 1e-9, otherwise)) if each > 0 else otherwise


def _cautions(method: Method, tests: int, ethanol_g: float, caffeine_mg: float) -> tuple[str, ...]:
    said = [
        "Bitter, strong and sweet drinks linger: rinse with water and rest two minutes or more "
        "between glasses.",
        "Tasters may spit, and may stop at any time. Local law and licensed practice come first.",
    ]
    if ethanol_g > 0:
        said += [
            "Adults of legal age only; nobody who drives, is pregnant, or takes medicines that do "
            "not go with alcohol; staff on duty only as far as the house's licence lets them.",
        ]
    if caffeine_mg > 0:
        said.append("Coffee does not sober anybody up; it only hides how much was drunk.")
    if not tests:
        said.append(f"One {method} test is too much for one sitting at this size: pour less.")
    if method is Method.TRIANGLE:
        said.append(
            "Triangle tests are of limited use where tastes linger (ISO 4120); a paired test asks "
            "less of the palate where you know what differs."
        )
    return tuple(said)


def _orders(
    method: Method, samples: tuple[str, str], reference: ReferenceGlass
) -> list[list[tuple[str, ...]]]:
    """All orders of a test, in groups that share what is odd or shown first."""
    a, b = samples
    if method is Method.TRIANGLE:
        return [
            [(odd, two, two), (two, odd, two), (two, two, odd)] for odd, two in ((a, b), (b, a))
        ]
    if method is Method.PAIRED:
        return [[(a, b)], [(b, a)]]
    shown = samples if reference is ReferenceGlass.BALANCED else (a,)
    return [[(first, a, b), (first, b, a)] for first in shown]


def _drawn_orders(
    groups: list[list[tuple[str, ...]]], assessors: int, rng: np.random.Generator
) -> list[tuple[str, ...]]:
    """Every order equally often; what is left over taken from each group in turn, by lot."""
    every = [order for group in groups for order in group]
    rounds, left = divmod(assessors, len(every))
    mixed = [[group[i] for i in rng.permutation(len(group))] for group in groups]
    mixed = [mixed[i] for i in rng.permutation(len(mixed))]
    in_turn = [order for row in zip(*mixed, strict=True) for order in row]
    drawn = every * rounds + in_turn[:left]
    return [drawn[i] for i in rng.permutation(len(drawn))]


def _codes(sizes: Sequence[int], rng: np.random.Generator) -> list[list[str]]:
    """Codes for each seat: none twice in the test while they last, never twice at a seat."""
    stock: list[str] = []
    found = []
    for size in sizes:
        if len(stock) < size:
            stock = [_CODES[i] for i in rng.permutation(len(_CODES))]
        found.append([stock.pop() for _ in range(size)])
    return found


def _serving(
    seat: int,
    order: tuple[str, ...],
    codes: Sequence[str],
    method: Method,
    samples: tuple[str, str],
) -> Serving:
    if method is Method.DUO_TRIO:
        shown, *pair = order
        glasses = tuple(Glass(code, sample) for code, sample in zip(codes, pair, strict=True))
        right = codes[pair.index(shown)]
        return Serving(seat, (Glass(REFERENCE_CODE, shown, is_reference=True), *glasses), right)
    glasses = tuple(Glass(code, sample) for code, sample in zip(codes, order, strict=True))
    if method is Method.TRIANGLE:
        odd = next(sample for sample in order if order.count(sample) == 1)
        return Serving(seat, glasses, codes[order.index(odd)])
    return Serving(seat, glasses, codes[order.index(samples[0])])
