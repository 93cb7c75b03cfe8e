"""How far apart two drinks are felt to be, from the share of right answers (Thurstone's model)."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from service.kit import BadData, Interval, OutOfRange, find_root
from service.taste.parameters import Quantity, check_range

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Method(StrEnum):
    """The three tests, as the standards name them."""

    TRIANGLE = "triangle"
    DUO_TRIO = "duo-trio"
    PAIRED = "paired"


# Share right by chance: ISO 4120, ISO 10399, ISO 5495.
_GUESS: Final = {Method.TRIANGLE: 1.0 / 3.0, Method.DUO_TRIO: 0.5, Method.PAIRED: 0.5}
MOST_ASSESSORS: Final = 10_000
# Beyond this a test of a few dozen cannot tell how large a difference is: nobody is ever wrong.
MOST_D_PRIME: Final = 6.0


def guess_share(method: Method) -> float:
    """Share of right answers by chance alone [share, 0-1].

    Parameters
    ----------
    method : Method
        The test

    Valid for: the three tests.
    Source: ISO 4120 (1/3), ISO 10399 and ISO 5495 (1/2).

    >>> guess_share(Method.DUO_TRIO)
    0.5
    """
    return _GUESS[method]


def share_correct(d_prime: Quantity, method: Method) -> Quantity:
    """Share of right answers where two samples differ by d-prime [share, 0-1].

    Parameters
    ----------
    d_prime : float
        Difference in standard deviations of what one sample is felt to be [1]
    method : Method
        The test

    Valid for: 0 to 20; OutOfRange outside.
    Source: Ennis 1993, J. Sensory Studies 8, 353 (Thurstonian models): paired Φ(d/√2); duo-trio
    1 - Φ(d/√2) - Φ(d/√6) + 2 Φ(d/√2) Φ(d/√6); triangle by its integral over z above 0.

    >>> [round(float(share_correct(1.0, method)), 4) for method in Method]
    [0.418, 0.5825, 0.7602]
    """
    from scipy.special import ndtr

    check_range("d_prime", d_prime, 0.0, 20.0, "standard deviations")
    between, beyond = ndtr(d_prime / np.sqrt(2.0)), ndtr(d_prime / np.sqrt(6.0))
    if method is Method.PAIRED:
        return np.asarray(between)[()]
    if method is Method.DUO_TRIO:
        return np.asarray(1.0 - between - beyond + 2.0 * between * beyond)[()]
    z, weight = _half_normal()
    apart = np.asarray(d_prime)[..., None] * np.sqrt(2.0 / 3.0)
    inside = ndtr(-z * np.sqrt(3.0) + apart) + ndtr(-z * np.sqrt(3.0) - apart)
    return np.asarray(2.0 * (inside * weight).sum(axis=-1))[()]


def d_prime(correct: int, assessors: int, method: Method) -> Interval:
    """How far apart two samples are felt to be, with its 80 % interval [standard deviations].

    0 where no more are right than by guessing; `MOST_D_PRIME` stands for that or more. Where all
    are right, half an answer is taken for a wrong one, or the difference would have no end.

    Parameters
    ----------
    correct : int
        Right answers [answers]
    assessors : int
        All answers [answers]
    method : Method
        The test

    Valid for: 1 to 10 000 assessors; OutOfRange outside.
    Source: Ennis 1993 (see `share_correct`); interval by Clopper & Pearson 1934; all right as
    Macmillan & Kaplan 1985, Psychol. Bull. 98, 185.

    >>> round(d_prime(19, 30, Method.TRIANGLE).mid, 4)
    2.1462
    """
    low, middle, high = (
        _d_prime_of(share, method) for share in _shares(correct, assessors, method)
    )
    return Interval(low, middle, high)


def discriminators(correct: int, assessors: int, method: Method) -> Interval:
    """Share of people who really tell two samples apart, with its 80 % interval [share, 0-1].

    Parameters
    ----------
    correct : int
        Right answers [answers]
    assessors : int
        All answers [answers]
    method : Method
        The test

    Valid for: 1 to 10 000 assessors; OutOfRange outside. One answer of each person; several of the
    same people do not count as more for a claim of likeness (ISO 4120).
    Source: (share right - guess) / (1 - guess), ISO 4120, annex; interval by Clopper & Pearson
    1934.

    >>> round(discriminators(19, 30, Method.TRIANGLE).mid, 2)
    0.45
    """
    guess = _GUESS[method]
    low, middle, high = (
        max((share - guess) / (1.0 - guess), 0.0) for share in _shares(correct, assessors, method)
    )
    return Interval(low, middle, high)


def check_counts(correct: int, assessors: int, method: Method, two_sided: bool) -> None:
    """Raise where no test could have had these answers."""
    if not 0 <= assessors <= MOST_ASSESSORS:
        raise OutOfRange.of("assessors", assessors, 0, MOST_ASSESSORS, "assessors")
    if not 0 <= correct <= assessors:
        raise OutOfRange.of("correct", correct, 0, assessors, "answers")
    if two_sided and method is not Method.PAIRED:
        raise BadData(
            f"a {method} test has one right answer; only a paired test can be two-sided",
            field="two_sided",
        )


def _shares(correct: int, assessors: int, method: Method) -> tuple[float, float, float]:
    """Low, usual and high share of right answers."""
    from scipy.stats import beta

    check_counts(correct, assessors, method, two_sided=False)
    if not assessors:
        raise OutOfRange("nobody has answered yet", field="assessors")
    wrong = assessors - correct
    low = float(beta.ppf(0.1, correct, wrong + 1)) if correct else 0.0
    high = float(beta.ppf(0.9, correct + 1, wrong)) if wrong else 1.0
    return low, correct / assessors if wrong else 1.0 - 0.5 / assessors, high


def _d_prime_of(share: float, method: Method) -> float:
    if share <= _GUESS[method]:
        return 0.0
    root = find_root(lambda d: float(share_correct(d, method)) - share, 0.0, MOST_D_PRIME)
    return MOST_D_PRIME if root is None else root


@lru_cache(maxsize=1)
def _half_normal() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Places and weights of a normal density above 0, by Gauss and Legendre."""
    z, weight = np.polynomial.legendre.leggauss(96)
    z = 4.5 * (z + 1.0)
    return z, 4.5 * weight * np.exp(-0.5 * z**2) / np.sqrt(2.0 * np.pi)
