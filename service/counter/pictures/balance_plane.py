"""The balance plane: sweet against bitter, the classics' band, the way through the coffee."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import atan2, degrees, hypot
from typing import Any, Final

import numpy as np

from service.counter.known import Known
from service.counter.pictures.look import (
    AFTER,
    BAND,
    BEFORE,
    GROUND,
    INK,
    RIM,
    STRONG,
    amount,
    layer,
    picture_of,
    place,
    text_at,
)
from service.counter.pictures.picture import Picture, Spec
from service.drink import Reading, State, reference_drinks, references_of
from service.ingredients import Catalogue
from service.taste import Band, Percept, Reference, Verdict, judge

Shown = tuple[float, ...]
HEIGHT: Final = 330
_CELLS: Final = 96
_PLUS: Final = "M-1,0H1M0,-1V1"
_LEAST_SHOWN: Final = 5.0
_MOST_SHOWN: Final = 15.0
# An arrow shorter than this [points] has no room for its head.
_HEADED_FROM: Final = 0.35


def balance_plane(
    known: Known, reading: Reading, *, with_coffee: bool, classics: Known | None = None
) -> Picture:
    """Where a drink lies before and after the coffee, in the band of `known`, among the classics
    (as `classics` has them, where a bar's labels shall not move them)."""
    references = _references((classics or known).catalogue)
    before, after = reading.before, reading.after
    most = tuple(_shown(references, (before, after), taste) for taste in ("sweet", "bitter"))
    side = 1 if after.sweet.mid >= before.sweet.mid else -1
    layers = [
        *_band_layers(known.band, after, most),
        _classics_layer(references, most),
        *(_whiskers(before, BEFORE, most) if with_coffee else ()),
        *_whiskers(after, AFTER, most),
        *(_arrow(before, after) if with_coffee else ()),
        *(_point(before, "before", filled=False, side=-side) if with_coffee else ()),
        *_point(after, "after" if with_coffee else "the drink", filled=True, side=side),
    ]
    return picture_of(
        "Sweet against bitter, among the classics",
        _words(known.band, references, reading, with_coffee=with_coffee),
        layers,
        height=HEIGHT,
    )


@lru_cache(maxsize=2)
def _references(catalogue: Catalogue) -> tuple[Reference, ...]:
    return tuple(references_of(reference_drinks(catalogue.ingredients, catalogue.specs)))


def _shown(references: Sequence[Reference], states: Sequence[State], taste: str) -> float:
    """How many points of a taste the plane shows: nearly all classics, and the whole drink."""
    usual = float(np.quantile([float(getattr(r.percept, taste)) for r in references], 0.97))
    farthest = max(usual, *(getattr(state, taste).high for state in states))
    return float(min(max(_LEAST_SHOWN, np.ceil(farthest + 0.25)), _MOST_SHOWN))


def _band_layers(band: Band, state: State, most: Shown) -> Iterator[Spec]:
    """The band cut through at this drink's sharpness, salt and strength: edge, then inside."""
    cells = (most[0] / _CELLS, most[1] / _CELLS)
    sweet, bitter = np.meshgrid(*((np.arange(_CELLS) + 0.5) * cell for cell in cells))
    rest = (np.full(sweet.shape, getattr(state, taste).mid) for taste in ("sour", "salt", "heat"))
    percept = Percept(sweet, bitter, *rest)
    distance = judge(band, percept).distance
    for limit, colour in ((band.edge_width, RIM), (0.0, BAND)):
        rows = list(_runs(distance <= limit, cells))
        yield layer(
            rows, {"type": "rect", "color": colour, "strokeWidth": 0},
            x=place("x"), x2={"field": "x2"}, y=place("y"), y2={"field": "y2"},
        )  # fmt: skip


def _runs(inside: np.ndarray[Any, Any], cells: tuple[float, float]) -> Iterator[dict[str, float]]:
    """Each row's stretches that are inside, as rectangles that overlap a little."""
    wide, high = cells
    for row, along in enumerate(inside):
        edges = np.flatnonzero(np.diff(np.concatenate([[False], along, [False]]).astype(int)))
        for start, end in edges.reshape(-1, 2):
            yield {
                "x": round(start * wide, 3),
                "x2": round(end * wide, 3),
                "y": round(row * high, 3),
                "y2": round((row + 1.15) * high, 3),
            }


def _classics_layer(references: Sequence[Reference], most: Shown) -> Spec:
    rows = [
        {"sweet": round(float(r.percept.sweet), 2), "bitter": round(float(r.percept.bitter), 2)}
        for r in references
        if r.percept.sweet <= most[0] and r.percept.bitter <= most[1]
    ]
    x, y = ({"domain": [0, end], "nice": False} for end in most)
    return layer(
        rows,
        {"type": "point", "shape": _PLUS, "size": 20, "stroke": STRONG, "strokeWidth": 1},
        x=amount("sweet", "sweet, points of 15", scale=x, axis={"tickCount": 5}),
        y=amount("bitter", "bitter, points of 15", scale=y, axis={"tickCount": 5}),
    )


def _whiskers(state: State, colour: str, most: Shown) -> list[Spec]:
    """The 80 % ranges of both tastes, as a cross through the point."""
    sweet, bitter = state.sweet, state.bitter
    row = {
        "x": sweet.mid, "low": sweet.low, "high": min(sweet.high, most[0]),
        "y": bitter.mid, "down": bitter.low, "up": min(bitter.high, most[1]),
    }  # fmt: skip
    mark = {"type": "rule", "color": colour, "strokeWidth": 2, "opacity": 0.6}
    return [
        layer([row], mark, x=place("low"), x2={"field": "high"}, y=place("y")),
        layer([row], mark, x=place("x"), y=place("down"), y2={"field": "up"}),
    ]


def _arrow(before: State, after: State) -> list[Spec]:
    run, rise = after.sweet.mid - before.sweet.mid, after.bitter.mid - before.bitter.mid
    row = {
        "x": before.sweet.mid, "y": before.bitter.mid,
        "x2": after.sweet.mid, "y2": after.bitter.mid,
        "middle": before.sweet.mid + 0.55 * run, "height": before.bitter.mid + 0.55 * rise,
    }  # fmt: skip
    line = layer(
        [row], {"type": "rule", "color": INK, "strokeWidth": 2},
        x=place("x"), y=place("y"), x2={"field": "x2"}, y2={"field": "y2"},
    )  # fmt: skip
    if hypot(run, rise) < _HEADED_FROM:
        return [line]
    head = layer(
        [row],
        {"type": "point", "shape": "triangle-right", "size": 90, "filled": True, "color": INK,
         "opacity": 1, "angle": round(-degrees(atan2(rise, run)), 1)},
        x=place("middle"), y=place("height"),
    )  # fmt: skip
    return [line, head]


def _point(state: State, name: str, *, filled: bool, side: int) -> list[Spec]:
    """A full disc after the coffee, a ring before it; the name where the arrow is not."""
    x, y = state.sweet.mid, state.bitter.mid
    look: Spec = {"type": "point", "shape": "circle", "size": 130, "opacity": 1, "strokeWidth": 2.5}
    look |= {"filled": filled, "color": AFTER} if filled else {"stroke": BEFORE, "fill": GROUND}
    words = text_at(
        x, y, name, align="left" if side > 0 else "right", dx=11 * side,
        dy=-12 if filled else 14, fontWeight="bold",
    )  # fmt: skip
    return [layer([{"x": x, "y": y}], look, x=place("x"), y=place("y")), words]


def _words(
    band: Band, references: Sequence[Reference], reading: Reading, *, with_coffee: bool
) -> list[str]:
    before, after = reading.before, reading.after
    whose = "this bar" if band.moved else "the classics"
    verdict = {
        Verdict.INSIDE: f"inside the band of {whose}",
        Verdict.EDGE: "on the edge of the band",
        Verdict.OUTSIDE: "outside the band",
    }[reading.verdict]
    balance = reading.balance_after
    told = (
        f"It is {after.sweet.mid:.1f} points sweet ({after.sweet.low:.1f} to "
        f"{after.sweet.high:.1f}) and {after.bitter.mid:.1f} points bitter "
        f"({after.bitter.low:.1f} to {after.bitter.high:.1f}), {verdict}"
        f"{': ' + balance.words if balance.words else ''}."
    )
    was = (
        f"Before the coffee: {before.sweet.mid:.1f} points sweet and "
        f"{before.bitter.mid:.1f} points bitter."
    )
    sweet = np.quantile([float(r.percept.sweet) for r in references], (0.1, 0.9))
    bitter = np.quantile([float(r.percept.bitter) for r in references], (0.1, 0.9))
    return [
        *([was] if with_coffee else []),
        told,
        f"Eight in ten of the {len(references)} classics (crosses) are {sweet[0]:.1f} to "
        f"{sweet[1]:.1f} points sweet and at most {bitter[1]:.1f} points bitter, before any "
        "coffee. The shaded ground is the band for a drink as strong and as sharp as this one, so "
        "that many classics, which are stronger or milder, lie beside it; its paler rim is the "
        "edge.",
    ]
