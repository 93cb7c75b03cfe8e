"""How all pictures look: sizes for a phone, and colours that a page may put its own in place of.

A specification carries the colours of daylight, so that it can be drawn anywhere. In the SVG each
becomes a variable of the page (`--ink` ...), which dark pages and paper set anew. No two things
that must be told apart differ in colour alone: shape, dash or fill differs as well.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from service.counter.pictures.picture import Picture, Spec

SCHEMA: Final = "https://vega.github.io/schema/vega-lite/v6.json"
WIDTH: Final = 360
# Role of a colour to its value in daylight and in the dark; the names are those of the pages.
COLOURS: Final[Mapping[str, tuple[str, str]]] = {
    "ink": ("#1d1813", "#f5eee3"),
    "ink-soft": ("#544a40", "#cfc4b5"),
    "line": ("#d5c9b9", "#4a4139"),
    "line-strong": ("#85776a", "#8a7c6d"),
    "ground": ("#faf6ee", "#14110f"),
    "before": ("#3b4f6b", "#b9c8dc"),
    "after": ("#8f4408", "#f0a768"),
    "band": ("#dccfb8", "#4a4138"),
    "rim": ("#ede4d3", "#2d2722"),
}
INK, SOFT, LINE, STRONG, GROUND, BEFORE, AFTER, BAND, RIM = (
    COLOURS[role][0]
    for role in (
        "ink", "ink-soft", "line", "line-strong", "ground", "before", "after", "band", "rim",
    )
)  # fmt: skip
_TEXT: Final = 13
# Letters of the same widths on nearly every device, so that words end where they were laid out.
FACE: Final = "Liberation Sans, Arial, Helvetica, sans-serif"

CONFIG: Final[Spec] = {
    "aria": False,
    "font": FACE,
    "view": {"stroke": None},
    "axis": {
        "labelColor": SOFT, "labelFontSize": _TEXT, "titleColor": SOFT, "titleFontSize": _TEXT,
        "titleFontWeight": "normal", "grid": False, "gridColor": LINE, "domainColor": STRONG,
        "tickColor": STRONG, "labelPadding": 5, "titlePadding": 7,
    },
    "text": {"color": INK, "fontSize": _TEXT},
}  # fmt: skip


def picture_of(
    title: str, words: Sequence[str], layers: Sequence[Spec], *, height: int, **more: Any
) -> Picture:
    """A picture of layers in one view, as wide as a phone."""
    spec: Spec = {
        "$schema": SCHEMA,
        "description": " ".join([title, *words]),
        "width": WIDTH,
        "height": height,
        "autosize": {"type": "fit", "contains": "padding"},
        "padding": 4,
        "background": None,
        "config": CONFIG,
        "layer": list(layers),
        **more,
    }
    return Picture(title, tuple(words), spec, WIDTH, height)


def layer(rows: Sequence[Mapping[str, Any]], mark: Spec, **encoding: Any) -> Spec:
    """One layer with its own rows."""
    return {"data": {"values": list(rows)}, "mark": mark, "encoding": encoding}


def amount(field: str, title: str | None = None, **more: Any) -> Spec:
    """A quantitative channel. Without a title the axis is that of another layer."""
    axis = more.pop("axis", {})
    if axis is not None:
        axis = {"title": title, **axis}
    return {"field": field, "type": "quantitative", "axis": axis, **more}


def place(field: str) -> Spec:
    """A quantitative channel without an axis of its own."""
    return {"field": field, "type": "quantitative"}


def bare(field: str, **more: Any) -> Spec:
    """A quantitative channel in a view that has no axis at all."""
    return {"field": field, "type": "quantitative", "axis": None, **more}


def text_at(x: float, y: float, text: str, *, align: str = "left", **more: Any) -> Spec:
    """Words at a place of the plane."""
    row = {"x": x, "y": y, "text": text}
    mark = {"type": "text", "align": align, **more}
    return layer([row], mark, x=place("x"), y=place("y"), text={"field": "text"})
