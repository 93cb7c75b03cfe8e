"""The question answered: the best drinks of a shelf for a coffee, in order, with the proof."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from service.ingredients.records import Ingredient
from service.kit import OutOfRange
from service.recommend.compose.answer import Composed, Composition, composition_of
from service.recommend.compose.exhaust import every_drink
from service.recommend.compose.problem import MOST_DRINKS, MOST_GROUPS, Problem, Stop
from service.recommend.compose.rack import build_rack
from service.recommend.compose.refusal import refusal
from service.recommend.compose.search import bench_for, best_first
from service.recommend.compose.space import build_space


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a long run has come: drinks certain so far, and the share of all candidates done.

    A search does not know how much it will have to open; then `share` is None.
    """

    certain: int
    share: float | None


Tell: TypeAlias = Callable[[Progress], None]


def compose(
    problem: Problem,
    *,
    limit: int = 10,
    every: bool = False,
    tell: Tell | None = None,
    stop: Stop | None = None,
    beyond: Sequence[Ingredient] = (),
) -> Composition:
    """The best drinks of a problem, best first; CannotCompose where there is none.

    `every` works out every candidate instead of searching. `tell` hears of progress, `stop` is
    asked between steps whether to give up: what is certain by then is returned. `beyond` are
    bottles that could be bought, for the advice where nothing fits.
    """
    if not 1 <= limit <= MOST_DRINKS:
        raise OutOfRange.of("limit", limit, 1, MOST_DRINKS, "drinks")
    tell, stop = tell or _silently, stop or _never
    found = _answer(problem, limit, every, tell, stop)
    if found is not None and (found.drinks or not found.certificate.proved):
        return found
    raise refusal(problem, _best_of, beyond)


def _answer(
    problem: Problem, limit: int, every: bool, tell: Tell, stop: Stop
) -> Composition | None:
    """The composition, without drinks where none fits; None where there is nothing to search."""
    space = build_space(problem, build_rack(problem))
    if not space.size:
        return None
    if space.groups > MOST_GROUPS:
        raise OutOfRange(
            f"{space.groups:,} sets of bottles are more than can be searched at once "
            f"({MOST_GROUPS:,}); name fewer syrups, or allow one modifier",
            field="shelf",
        )
    bench = bench_for(problem, space)
    if every:
        found = every_drink(bench, limit, lambda done, total: tell(Progress(0, done / total)), stop)
    else:
        found = best_first(bench, limit, lambda certain, _: tell(Progress(certain, None)), stop)
    return composition_of(bench, found, by_enumeration=every)


def _best_of(problem: Problem) -> Composed | None:
    found = _answer(problem, 1, False, _silently, _never)
    return found.drinks[0] if found is not None and found.drinks else None


def _silently(_: Progress) -> None:
    return None


def _never() -> bool:
    return False
