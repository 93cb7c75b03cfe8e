"""What an answer owes to this bar: its trials, its tasters, its labels; and from what it chose."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from starlette.datastructures import QueryParams

from service.counter.coffees import Coffee
from service.counter.this_bar import ThisBar
from service.taste import HARDLY_A_SHIFT, HouseShift
from service.web.pages.coffee_form import address
from service.web.pages.telling import listed, number

FROM: Final = "from"
EVERYTHING: Final = "everything"
# Each shift of the house: its name, and the words for more and for less of it.
_SHIFTS: Final = (
    ("sweet", "sweeter", "drier"),
    ("bitter", "more bitter", "milder"),
    ("strength", "stronger", "lighter"),
)
Fields = list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class BarLine:
    """One thing that this bar taught, and the page where it is told in full."""

    words: str
    address: str
    link: str


@dataclass(frozen=True, slots=True)
class ShelfSwitch:
    """From what is chosen, and the addresses of the same question of the other."""

    on_shelf: bool
    shelf_address: str
    everything_address: str


def wants_shelf(bar: ThisBar, query: QueryParams) -> bool:
    """The shelf where there is one, unless somebody asks for everything."""
    return bool(bar.standing) and query.get(FROM) != EVERYTHING


def shelf_switch(bar: ThisBar, path: str, fields: Fields, *, on_shelf: bool) -> ShelfSwitch | None:
    """The switch; None where there is no shelf to choose from."""
    if not bar.standing:
        return None
    return ShelfSwitch(
        on_shelf, address(path, fields), address(path, [*fields, (FROM, EVERYTHING)])
    )


def bar_lines(
    bar: ThisBar, coffee: Coffee | None, *, coffee_id: int | None = None, ranked: bool = False
) -> tuple[BarLine, ...]:
    """What was learnt here and counts in this answer; nothing for a bar that has no trials.

    `coffee_id` names the bar's coffee where it is known; `ranked` says that an order was made.
    """
    kept = bar.kept(coffee)
    number_of = coffee_id if kept is None else kept.id
    lines = [*_bed(bar, number_of, with_coffee=coffee is not None), *_taste(bar)]
    if ranked:
        lines += _liking(bar)
    return tuple(lines)


def _bed(bar: ThisBar, coffee_id: int | None, *, with_coffee: bool) -> Iterator[BarLine]:
    many = len(bar.lessons.trials)
    if not many or not with_coffee:
        return
    own = bar.lessons.trials_of(coffee_id)
    of_them = f", {own} of them of this coffee" if own else ""
    where = f"/learning?coffee={coffee_id}" if own else "/learning"
    yield BarLine(
        "The bed is foretold from", where, f"{counted(many, 'trial')} of this bar{of_them}"
    )


def _taste(bar: ThisBar) -> Iterator[BarLine]:
    taste = bar.lessons.taste
    if not taste.tastings:
        return
    moved = [
        f"{_points(abs(shift.posterior.mid))} {more if shift.posterior.mid > 0 else less}"
        for name, more, less in _SHIFTS
        if _is_a_shift(shift := getattr(taste.house, name))
    ]
    said = f"{listed(moved)} than the classics" if moved else "as the classics have it"
    words = f"Balance is judged as this house likes it, {said}, after"
    yield BarLine(words, "/learning", counted(len(taste.tastings), "tasting"))


def _points(shift: float) -> str:
    said = number(shift, 1)
    return f"{said} point" if said == "1" else f"{said} points"


def _is_a_shift(shift: HouseShift) -> bool:
    return bool(shift.answers) and abs(shift.posterior.mid) >= HARDLY_A_SHIFT


def _liking(bar: ThisBar) -> Iterator[BarLine]:
    if bar.lessons.liked:
        many = counted(bar.lessons.liked, "trial")
        yield BarLine("The order counts what this house liked in", "/learning", many)


def counted(many: int, noun: str) -> str:
    """`1 trial`, `12 trials`."""
    return f"{many} {noun}" if many == 1 else f"{many} {noun}s"
