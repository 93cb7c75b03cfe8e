"""What the house likes: how much each ingredient has added to or taken from liking so far.

Nine-point likings and plain preferences ("this one rather than that") go into one model. A part's
effect starts at nothing and moves no further than the answers carry it; that of a part nobody has
tasted stays at nothing. Tasters differ in how generous they are; that is taken out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from service.kit import BadData, OutOfRange

Vector = NDArray[np.float64]
Matrix = NDArray[np.float64]
LEAST_LIKING, MOST_LIKING = 1.0, 9.0
# A logistic curve this much steeper is the nearest to the normal one (Haley 1952).
LOGISTIC_PER_NORMAL = 1.702
_MOST_STEPS = 100
_SMALL_STEP = 1e-11


@dataclass(frozen=True, slots=True)
class Liked:
    """A nine-point liking of one drink. `parts` says what was in it, as any plain numbers.

    The usual mapping is 1 for each ingredient poured. A pair counts by a name of its own, such as
    "rye+amaro"; a mild pour may count less than 1.
    """

    key: str
    taster: str
    liking: float
    parts: Mapping[str, float]

    def __post_init__(self) -> None:
        if not LEAST_LIKING <= self.liking <= MOST_LIKING:
            raise OutOfRange.of("liking", self.liking, LEAST_LIKING, MOST_LIKING, "points")
        _check_parts(self.parts)


@dataclass(frozen=True, slots=True)
class Preferred:
    """Of two drinks tasted side by side, the parts of the one liked better and of the other."""

    key: str
    better: Mapping[str, float]
    worse: Mapping[str, float]

    def __post_init__(self) -> None:
        _check_parts(self.better)
        _check_parts(self.worse)


_Answer = TypeVar("_Answer", Liked, Preferred)


@dataclass(frozen=True, slots=True)
class LikingSettings:
    """How likings come about, in points of the nine-point scale: estimates throughout.

    usual, usual_apart : a drink nobody knows, and how far houses differ in that
    part_apart : how far one part moves a drink, before any answer
    tasters_apart : how far tasters differ in what they give
    noise : standard deviation of one answer around all that
    """

    usual: float = 6.0
    usual_apart: float = 1.5
    part_apart: float = 0.7
    tasters_apart: float = 0.8
    noise: float = 1.4

    def __post_init__(self) -> None:
        for name in ("usual_apart", "part_apart", "tasters_apart", "noise"):
            if not getattr(self, name) > 0:
                raise OutOfRange("this has to be more than nothing", field=name)


@dataclass(frozen=True, slots=True)
class PartLiking:
    """What one part does to liking.

    points, points_error : posterior mean and standard deviation on the nine-point scale
    liking, error : the same between -1 and 1: how much more often than not a drink with it is
        liked better than the same drink without it
    tasted : in how many answers it made a difference; the prior is always 0
    """

    part: str
    points: float
    points_error: float
    liking: float
    error: float
    tasted: int

    @property
    def words(self) -> str:
        """What was learnt in one line."""
        way = "adds" if self.points >= 0 else "takes"
        return (
            f"{self.part}: {way} {abs(self.points):.1f} ± {self.points_error:.1f} points "
            f"({self.tasted} answers)"
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Problem:
    """Columns: the usual drink, then tasters, then parts; all as standard deviates."""

    parts: tuple[str, ...]
    scale: Vector
    liked: Matrix
    above_usual: Vector
    preferred: Matrix
    tasted: dict[str, int]


def learn_liking(
    liked: Iterable[Liked],
    preferred: Iterable[Preferred] = (),
    settings: LikingSettings | None = None,
) -> dict[str, PartLiking]:
    """How much each part is liked, from all answers; undo one, and its influence is gone exactly.

    Ridge regression on likings and the model of Bradley and Terry (1952) on preferences, with one
    normal prior around nothing; mode and curvature of the posterior (exact without preferences).

    >>> said = [Liked("1", "ab", 8, {"rye": 1, "amaro": 1}), Liked("2", "ab", 4, {"gin": 1})]
    >>> learnt = learn_liking(said)
    >>> learnt["amaro"].liking > 0 > learnt["gin"].liking
    True
    """
    settings = settings or LikingSettings()
    problem = _problem(_in_order(liked), _in_order(preferred), settings)
    mode, curvature = _fit(problem, settings)
    spread = np.sqrt(np.diag(np.linalg.inv(curvature)))
    first = len(problem.scale) - len(problem.parts)
    return {
        part: _told(part, mode[column], spread[column], problem, column, settings)
        for column, part in enumerate(problem.parts, start=first)
    }


def liking_of_each(learnt: Mapping[str, PartLiking]) -> dict[str, float]:
    """Only the likings between -1 and 1, by part: what composing takes."""
    return {part: found.liking for part, found in learnt.items()}


def _told(
    part: str,
    deviate: float,
    spread: float,
    problem: _Problem,
    column: int,
    settings: LikingSettings,
) -> PartLiking:
    from scipy.special import ndtr

    points, error = float(deviate * problem.scale[column]), float(spread * problem.scale[column])
    side_by_side = settings.noise * np.sqrt(2.0)
    slope = 2.0 * np.exp(-0.5 * (points / side_by_side) ** 2) / np.sqrt(2.0 * np.pi) / side_by_side
    return PartLiking(
        part=part,
        points=points,
        points_error=error,
        liking=float(2.0 * ndtr(points / side_by_side) - 1.0),
        error=float(slope * error),
        tasted=problem.tasted[part],
    )


def _problem(
    liked: Sequence[Liked], preferred: Sequence[Preferred], settings: LikingSettings
) -> _Problem:
    tasters = sorted({each.taster for each in liked})
    pairs = [_difference(each) for each in preferred]
    tasted = [each.parts for each in liked] + pairs
    parts = tuple(sorted({part for given in tasted for part in given}))
    place = {("taster", name): 1 + i for i, name in enumerate(tasters)}
    place |= {("part", name): 1 + len(tasters) + i for i, name in enumerate(parts)}
    width = 1 + len(tasters) + len(parts)
    likings, preferences = np.zeros((len(liked), width)), np.zeros((len(pairs), width))
    for row, each in zip(likings, liked, strict=True):
        row[0] = row[place["taster", each.taster]] = 1.0
        _fill(row, each.parts, place)
    for row, difference in zip(preferences, pairs, strict=True):
        _fill(row, difference, place)
    scale = np.full(width, settings.part_apart)
    scale[0], scale[1 : 1 + len(tasters)] = settings.usual_apart, settings.tasters_apart
    return _Problem(
        parts=parts,
        scale=scale,
        liked=likings * scale,
        above_usual=np.array([each.liking for each in liked]) - settings.usual,
        preferred=preferences * scale,
        tasted={part: sum(bool(given.get(part)) for given in tasted) for part in parts},
    )


def _fit(problem: _Problem, settings: LikingSettings) -> tuple[Vector, Matrix]:
    """Mode and curvature of the posterior, by Newton's method; it has one mode only."""
    steep = LOGISTIC_PER_NORMAL / (settings.noise * np.sqrt(2.0))
    likings, preferences = problem.liked / settings.noise, problem.preferred * steep
    aims = problem.above_usual / settings.noise
    prior = np.eye(len(problem.scale))
    mode, curvature = np.zeros(len(problem.scale)), prior

    def misfit(place: Vector) -> float:
        off = aims - likings @ place
        doubt = np.logaddexp(0.0, -preferences @ place)
        return float(0.5 * off @ off + doubt.sum() + 0.5 * place @ place)

    for _ in range(_MOST_STEPS):
        surprise = np.exp(-np.logaddexp(0.0, preferences @ mode))
        uncertain = surprise * (1.0 - surprise)
        curvature = prior + likings.T @ likings + (preferences.T * uncertain) @ preferences
        slope = likings.T @ (aims - likings @ mode) + preferences.T @ surprise - mode
        step = np.linalg.solve(curvature, slope)
        while misfit(mode + step) > misfit(mode) + _SMALL_STEP:
            step = 0.5 * step
        mode = mode + step
        if float(np.abs(step).max(initial=0.0)) < _SMALL_STEP:
            break
    return mode, curvature


def _difference(each: Preferred) -> dict[str, float]:
    parts = sorted({*each.better, *each.worse})
    found = {part: each.better.get(part, 0.0) - each.worse.get(part, 0.0) for part in parts}
    return {part: amount for part, amount in found.items() if amount}


def _fill(row: Vector, parts: Mapping[str, float], place: Mapping[tuple[str, str], int]) -> None:
    for part, amount in parts.items():
        row[place["part", part]] = amount


def _in_order(given: Iterable[_Answer]) -> list[_Answer]:
    """By key, so that the order of telling is of no account; each key once."""
    ordered = sorted(given, key=lambda each: each.key)
    if len({each.key for each in ordered}) < len(ordered):
        raise BadData("two answers have the same key; count each answer once", field="liking")
    return ordered


def _check_parts(parts: Mapping[str, float]) -> None:
    for part, amount in parts.items():
        if not np.isfinite(amount):
            raise BadData(f"{part} needs an amount, such as 1", field="parts")
