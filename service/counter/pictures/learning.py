"""What a bar's trials teach of its bed: the belief after each trial, narrowing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from service.bed import Learnt
from service.counter.pictures.look import (
    AFTER,
    BAND,
    BEFORE,
    INK,
    SOFT,
    amount,
    layer,
    picture_of,
    place,
    text_at,
)
from service.counter.pictures.picture import Picture

HEIGHT: Final = 250
MOST_TICKS: Final = 8
_PLUS: Final = "M-1,0H1M0,-1V1"


def learning_picture(
    steps: Sequence[Learnt],
    measured: Sequence[tuple[int, float]],
    *,
    title: str,
    axis: str,
) -> Picture:
    """The belief after no trial, one, two ... with its 80 % range; `measured` are trials, each
    with its number and what it found by itself."""
    last = steps[-1]
    rows = [
        {"n": float(step.trials), "low": step.posterior.low, "mid": step.posterior.mid,
         "high": step.posterior.high}
        for step in steps
    ]  # fmt: skip
    x = amount(
        "n", "trials", scale={"nice": False}, axis={"values": _whole(last.trials), "format": "d"}
    )
    y = amount("mid", axis, scale={"zero": False})
    band = {"type": "area", "color": BAND}
    line = {"type": "line", "color": AFTER, "strokeWidth": 2.5, "point": {"color": AFTER}}
    edge = {"type": "line", "color": SOFT, "strokeDash": [2, 3]}
    dots = [{"n": float(number), "v": value} for number, value in measured]
    found = {"type": "point", "shape": _PLUS, "color": BEFORE, "size": 90, "strokeWidth": 2}
    layers = [
        layer(rows, band, x=x, y=place("low"), y2={"field": "high"}),
        layer(rows, edge, x=place("n"), y=place("low")),
        layer(rows, edge, x=place("n"), y=place("high")),
        layer(dots, found, x=place("n"), y=place("v")),
        layer(rows, line, x=place("n"), y=y),
        text_at(float(last.trials), last.posterior.mid, "now", align="right", dy=-10, color=INK),
    ]
    low, high = last.posterior.low, last.posterior.high
    return picture_of(
        title,
        [
            f"{title}: {last.words}.",
            f"After {last.trials} trials four in five beds lie between {low:.2g} and {high:.2g} "
            f"{last.unit}; the crosses are what single trials found.",
        ],
        layers,
        height=HEIGHT,
    )


def _whole(trials: int) -> list[int]:
    """Whole numbers along the axis: there is no half of a trial."""
    return list(range(0, trials + 1, -(-trials // MOST_TICKS) or 1))
