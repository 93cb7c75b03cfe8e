"""What moves the coffee's bitterness most: what nobody knows, and what a hand can turn."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import Final

from service.bed import Swing
from service.counter.pictures.look import (
    AFTER,
    BEFORE,
    LINE,
    SOFT,
    amount,
    layer,
    picture_of,
    place,
)
from service.counter.pictures.picture import Picture
from service.counter.shapes import significant

UNKNOWN_SHOWN: Final = 4
TURNED_SHOWN: Final = 3
UNKNOWN, TURNED = "not known", "yours to turn"
# Where a label goes on in the next line: no label holds it.
BREAK: Final = "|"
_ROW: Final = 44
_LONGEST_LINE: Final = 20


def swings_picture(unknown: Sequence[Swing], turned: Sequence[Swing]) -> Picture:
    """The widest swings of the bitterness that the coffee gives; the middle is the forecast."""
    rows = [
        *((swing, UNKNOWN) for swing in unknown[:UNKNOWN_SHOWN]),
        *((swing, TURNED) for swing in turned[:TURNED_SHOWN]),
    ]
    data = [
        {
            "what": BREAK.join(wrap(swing.label, _LONGEST_LINE)),
            "low": min(swing.at_low, swing.at_high),
            "high": max(swing.at_low, swing.at_high),
            "kind": kind,
        }
        for swing, kind in rows
    ]
    y = {
        "field": "what", "type": "ordinal", "sort": [row["what"] for row in data],
        "axis": {"title": None, "ticks": False, "domain": False, "labelLimit": 170,
                 "labelExpr": f"split(datum.label, '{BREAK}')"},
        "scale": {"paddingInner": 0.5, "paddingOuter": 0.3},
    }  # fmt: skip
    kind = {
        "field": "kind", "type": "nominal",
        "scale": {"domain": [UNKNOWN, TURNED], "range": [BEFORE, AFTER]},
        "legend": {"title": None, "orient": "top", "labelColor": SOFT, "labelFontSize": 13},
    }  # fmt: skip
    # Hollow against filled, so that grey paper tells them apart as well.
    filled = {"field": "kind", "type": "nominal", "legend": None,
              "scale": {"domain": [UNKNOWN, TURNED], "range": [0.15, 1.0]}}  # fmt: skip
    middle = [{"at": rows[0][0].middle}] if rows else []
    x = amount("low", "bitterness from the coffee, mg QHE", scale={"zero": True})
    return picture_of(
        "What moves the coffee's bitterness most",
        [_words(rows)],
        [
            layer(
                data,
                {"type": "bar", "strokeWidth": 2},
                x=x,
                x2={"field": "high"},
                y=y,
                stroke=kind,
                fill=kind,
                fillOpacity=filled,
            ),
            layer(middle, {"type": "rule", "color": LINE, "strokeWidth": 2}, x=place("at")),
        ],
        height=_ROW * len(data) + 90,
    )


def _words(rows: Sequence[tuple[Swing, str]]) -> str:
    said = "; ".join(
        f"{swing.label} ({kind}): {significant(swing.at_low, 2):g} to "
        f"{significant(swing.at_high, 2):g}"
        for swing, kind in rows
    )
    middle = significant(rows[0][0].middle, 2) if rows else 0.0
    return f"Forecast {middle:g} mg QHE; one input at a time from its low to its high: {said}."
