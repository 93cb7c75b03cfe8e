"""Blind tests of difference: triangle, duo-trio and paired, with exact binomial figures.

A triangle asks which of three is the odd one, a duo-trio which of two is the reference, a paired
test which of two has more of something. Who tells no difference still guesses right by chance:
a third, a half and a half of the time.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.kit import BadData, Interval, OutOfRange
from service.taste.parameters import check_range
from service.taste.thurstone import Method, check_counts, d_prime, discriminators, guess_share

USUAL_ALPHA: Final = 0.05
# Share of people who should really tell, for a difference that matters: the middle of what ISO
# 4120 calls medium (0.25 to 0.35).
USUAL_DISCRIMINATORS: Final = 0.3
_MOST_SEARCHED: Final = 2_000
_STEADY_FOR: Final = 60  # assessors over which the saw-tooth of power is looked at


@dataclass(frozen=True, slots=True)
class BlindResult:
    """What a blind test says.

    `fewest_correct` is None where so few assessors can never be enough. `discriminators` is the
    share of people who really tell the two apart: its high end is what a claim of likeness has to
    look at. `power` is the chance that a difference which `USUAL_DISCRIMINATORS` notice would
    have been found.
    """

    method: Method
    two_sided: bool
    correct: int
    assessors: int
    alpha: float
    p_value: float
    fewest_correct: int | None
    significant: bool
    d_prime: Interval
    discriminators: Interval
    power: float

    @property
    def words(self) -> str:
        """The result in two sentences that claim no more than it shows."""
        told = f"{self.correct} of {self.assessors} (p = {self.p_value:.3g})"
        if self.significant:
            return f"A difference was found: {told}, at the {self.alpha:.0%} level."
        return (
            f"No difference was found: {told}. That does not show that there is none: up to "
            f"{max(self.discriminators.high, 0.0):.0%} of people may tell, and a test of this size "
            f"finds what {USUAL_DISCRIMINATORS:.0%} notice {self.power:.0%} of the time."
        )


def p_value(correct: int, assessors: int, method: Method, *, two_sided: bool = False) -> float:
    """Chance of so many right answers, or more, by guessing alone [probability].

    Parameters
    ----------
    correct : int
        Right answers, or those for the sample more often named [answers]
    assessors : int
        All answers [answers]
    method : Method
        The test
    two_sided : bool
        Whether either sample could have been named (paired test only)

    Valid for: 0 to 10 000 assessors; OutOfRange outside, BadData for a two-sided test that is not
    paired.
    Source: exact binomial, as ISO 4120, ISO 10399 and ISO 5495.

    >>> round(p_value(15, 30, Method.TRIANGLE), 4)
    0.0435
    """
    from scipy.stats import binom

    check_counts(correct, assessors, method, two_sided)
    if not two_sided:
        return float(binom.sf(correct - 1, assessors, guess_share(method)))
    more = max(correct, assessors - correct)
    return min(2.0 * float(binom.sf(more - 1, assessors, 0.5)), 1.0)


def fewest_correct(
    assessors: int, method: Method, *, alpha: float = USUAL_ALPHA, two_sided: bool = False
) -> int | None:
    """Fewest right answers that show a difference [answers]; None where all would be too few.

    Parameters
    ----------
    assessors : int
        All answers [answers]
    method : Method
        The test
    alpha : float
        Accepted chance of finding a difference that is none [probability]
    two_sided : bool
        Whether either sample could be named (paired test only)

    Valid for: 0 to 10 000 assessors, alpha above 0 and below 1; OutOfRange outside.
    Source: ISO 4120, ISO 10399 and ISO 5495, tables of critical numbers: the smallest k with
    P(X >= k) at most alpha, or half of it on either side.

    >>> fewest_correct(30, Method.TRIANGLE), fewest_correct(2, Method.TRIANGLE)
    (15, None)
    """
    from scipy.stats import binom

    check_counts(0, assessors, method, two_sided)
    if not 0.0 < alpha < 1.0:
        raise OutOfRange("the level lies above 0 and below 1; 0.05 is usual", field="alpha")
    correct = np.arange(assessors + 1)
    enough = binom.sf(correct - 1, assessors, guess_share(method)) <= alpha / (
        2 if two_sided else 1
    )
    return int(correct[enough][0]) if enough.any() else None


def power(
    assessors: int,
    method: Method,
    *,
    discriminators: float = USUAL_DISCRIMINATORS,
    alpha: float = USUAL_ALPHA,
    two_sided: bool = False,
) -> float:
    """Chance that a test finds a difference that some people really notice [probability].

    Parameters
    ----------
    assessors : int
        All answers [answers]
    method : Method
        The test
    discriminators : float
        Share of people who really tell the two apart [share, 0-1]
    alpha : float
        Accepted chance of finding a difference that is none [probability]
    two_sided : bool
        Whether either sample could be named (paired test only)

    Valid for: as `fewest_correct`; discriminators 0 to 1.
    Source: exact binomial; share right = guess + (1 - guess) × discriminators (ISO 4120, annex).

    >>> round(power(30, Method.TRIANGLE, discriminators=0.5), 4)
    0.9812
    """
    from scipy.stats import binom

    check_range("discriminators", float(discriminators), 0.0, 1.0, "share")
    needed = fewest_correct(assessors, method, alpha=alpha, two_sided=two_sided)
    if needed is None:
        return 0.0
    guess = guess_share(method)
    right = guess + (1.0 - guess) * discriminators
    found = float(binom.sf(needed - 1, assessors, right))
    if two_sided:
        found += float(binom.cdf(assessors - needed, assessors, right))
    return min(found, 1.0)


def assessors_needed(
    method: Method,
    *,
    discriminators: float = USUAL_DISCRIMINATORS,
    target_power: float = 0.8,
    alpha: float = USUAL_ALPHA,
    two_sided: bool = False,
    steady: bool = True,
) -> int:
    """Fewest assessors for a wanted power [assessors].

    Power is saw-toothed: one assessor more can lower it. Where `steady`, no number above falls
    short of the target either.

    Parameters
    ----------
    method : Method
        The test
    discriminators : float
        Share of people who really tell the two apart [share, 0-1]
    target_power : float
        Wanted chance of finding that difference [probability]
    alpha : float
        Accepted chance of finding a difference that is none [probability]
    two_sided : bool
        Whether either sample could be named (paired test only)
    steady : bool
        Whether every larger number has to reach the target, too

    Valid for: up to 2 000 assessors; BadData where more would be needed.
    Source: `power`; the numbers of ISO 4120's table are of this kind.

    >>> assessors_needed(Method.TRIANGLE), assessors_needed(Method.TRIANGLE, steady=False)
    (42, 40)
    """
    check_range("target_power", float(target_power), 0.0, 0.999999, "probability")
    found, since = 0, 0
    for assessors in range(1, _MOST_SEARCHED + 1):
        reached = power(
            assessors, method, discriminators=discriminators, alpha=alpha, two_sided=two_sided
        )
        if reached < target_power:
            found = 0
            continue
        if not found:
            found, since = assessors, assessors
        if not steady or assessors - since >= _STEADY_FOR:
            return found
    raise BadData(
        f"more than {_MOST_SEARCHED} assessors would be needed; look for a larger difference or "
        "accept a lower power",
        field="discriminators",
    )


def judge_blind_test(
    correct: int,
    assessors: int,
    method: Method,
    *,
    alpha: float = USUAL_ALPHA,
    two_sided: bool = False,
) -> BlindResult:
    """All that a blind test says: p [probability], d-prime [standard deviations], power.

    Parameters
    ----------
    correct : int
        Right answers; two-sided, those for the first sample [answers]
    assessors : int
        All answers [answers]
    method : Method
        The test
    alpha : float
        Accepted chance of finding a difference that is none [probability]
    two_sided : bool
        Whether either sample could be named (paired test only)

    Valid for: 1 to 10 000 assessors; OutOfRange outside.
    Source: the functions above.

    >>> judge_blind_test(19, 30, Method.TRIANGLE).words
    'A difference was found: 19 of 30 (p = 0.000737), at the 5% level.'
    """
    chance = p_value(correct, assessors, method, two_sided=two_sided)
    needed = fewest_correct(assessors, method, alpha=alpha, two_sided=two_sided)
    named = max(correct, assessors - correct) if two_sided else correct
    return BlindResult(
        method=method,
        two_sided=two_sided,
        correct=correct,
        assessors=assessors,
        alpha=alpha,
        p_value=chance,
        fewest_correct=needed,
        significant=needed is not None and named >= needed,
        d_prime=d_prime(named, assessors, method),
        discriminators=discriminators(named, assessors, method),
        power=power(assessors, method, alpha=alpha, two_sided=two_sided),
    )
