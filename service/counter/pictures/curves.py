"""Two curves against time: a stir in the glass, and what comes out of the coffee."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed import ExtractionCurve
from service.counter.pictures.look import (
    AFTER,
    BEFORE,
    INK,
    RIM,
    SOFT,
    amount,
    layer,
    picture_of,
    place,
    text_at,
)
from service.counter.pictures.picture import Picture, Spec
from service.kit import Interval
from service.liquid import StirCurve

HEIGHT: Final = 270
_DASHED: Final = [6, 4]
_DOTTED: Final = [2, 3]
# Where a curve is named: from here on it bends away from its name.
_LABELLED: Final = 0.6
_ON_COFFEE: Final = "minutes on the coffee"
Numbers = NDArray[np.float64]


def stirring_picture(curve: StirCurve, seconds: float) -> Picture:
    """Temperature and dilution while a drink is stirred; `seconds` is when it is strained."""
    times, end = curve.seconds, float(curve.seconds[-1])
    cold, floor = curve.celsius, curve.freezing_celsius
    gained = curve.dilution * 100.0
    at = float(np.interp(seconds, times, cold)), float(np.interp(seconds, times, gained))
    beside = _LABELLED * end
    left: Spec = {
        "layer": [
            _line(times, cold, BEFORE, title="temperature, °C"),
            _line(times, floor, SOFT, dash=_DOTTED),
            text_at(end, float(floor[-1]), "freezing point", align="right", dy=12, color=SOFT),
            text_at(beside, float(np.interp(beside, times, cold)), "temperature", dy=-10),
        ]
    }
    right: Spec = {
        "layer": [
            _line(times, gained, AFTER, dash=_DASHED, title="water gained, %", orient="right"),
            text_at(end, float(gained[-1]), "water", align="right", dy=-9),
        ]
    }
    mark = [_moment(seconds, "strained")] if 0 < seconds < end else []
    return picture_of(
        "Colder and thinner while it is stirred",
        [
            f"After {seconds:.0f} s of stirring it is at {at[0]:.1f} °C and has gained "
            f"{at[1]:.0f} % of its volume as water.",
            f"After {end:.0f} s it would be at {float(cold[-1]):.1f} °C, with "
            f"{float(gained[-1]):.0f} % of water; it freezes at {float(floor[-1]):.1f} °C.",
        ],
        [*mark, left, right],
        height=HEIGHT,
        resolve={"scale": {"y": "independent"}},
    )


def contact_picture(curve: ExtractionCurve, drain: Interval) -> Picture:
    """Caffeine and dissolved coffee against contact time; `drain` is how long it is foretold."""
    times = curve.contact_seconds / 60.0
    end = float(times[-1])
    low, mid, high = curve.caffeine_mg
    share_low, share, share_high = curve.extracted_share * 100.0
    minutes = [t / 60.0 for t in (drain.low, drain.mid, drain.high)]
    at = [float(np.interp(minutes[1], times, row)) for row in (low, mid, high, share)]
    beside = _LABELLED * end
    left: Spec = {
        "layer": [
            _area(times, low, high, BEFORE),
            _line(times, mid, BEFORE, title="caffeine, mg", x_title=_ON_COFFEE),
            text_at(beside, float(np.interp(beside, times, mid)), "caffeine", dy=16),
        ]
    }
    right: Spec = {
        "layer": [
            _line(
                times,
                share,
                AFTER,
                dash=_DASHED,
                title="dissolved, % of the coffee",
                orient="right",
                x_title=_ON_COFFEE,
            ),
            text_at(end, float(share[-1]), "dissolved", align="right", dy=-10),
        ]
    }
    return picture_of(
        "What the coffee gives, minute by minute",
        [
            f"It is foretold to drain in {minutes[1]:.1f} minutes ({minutes[0]:.1f} to "
            f"{minutes[2]:.1f}). By then {at[1]:.0f} mg of caffeine ({at[0]:.0f} to {at[2]:.0f}) "
            f"and {at[3]:.1f} % of the coffee are in the glass.",
            f"After {end:.0f} minutes it would be {float(mid[-1]):.0f} mg ({float(low[-1]):.0f} to "
            f"{float(high[-1]):.0f}) and {float(share[-1]):.1f} % ({float(share_low[-1]):.1f} to "
            f"{float(share_high[-1]):.1f}).",
        ],
        [*_drain(minutes, end), left, right],
        height=HEIGHT,
        resolve={"scale": {"y": "independent"}},
    )


def _line(
    times: Numbers,
    values: Numbers,
    colour: str,
    *,
    dash: Sequence[int] = (),
    title: str | None = None,
    orient: str = "left",
    x_title: str = "seconds",
) -> Spec:
    rows = [
        {"t": round(float(t), 3), "v": round(float(v), 3)}
        for t, v in zip(times, values, strict=True)
    ]
    mark: Spec = {"type": "line", "color": colour, "strokeWidth": 2.5}
    if dash:
        mark["strokeDash"] = list(dash)
    y = amount("v", title, axis={"orient": orient, "tickCount": 5}) if title else place("v")
    x = amount("t", x_title, scale={"nice": False}, axis={"tickCount": 6})
    return layer(rows, mark, x=x, y=y)


def _area(times: Numbers, low: Numbers, high: Numbers, colour: str) -> Spec:
    rows = [
        {"t": round(float(t), 3), "low": round(float(a), 3), "high": round(float(b), 3)}
        for t, a, b in zip(times, low, high, strict=True)
    ]
    mark = {"type": "area", "color": colour, "opacity": 0.25}
    return layer(rows, mark, x=place("t"), y=place("low"), y2={"field": "high"})


def _moment(at: float, name: str) -> Spec:
    """A moment as a line over the whole height, with its name at the top."""
    rule = layer([{"t": at}], {"type": "rule", "color": INK, "strokeDash": [1, 2]}, x=place("t"))
    words = layer(
        [{"t": at, "text": name}],
        {"type": "text", "align": "left", "baseline": "top", "dx": 4, "y": 0},
        x=place("t"), text={"field": "text"},
    )  # fmt: skip
    return {"layer": [rule, words]}


def _drain(minutes: Sequence[float], end: float) -> Iterator[Spec]:
    """When the bed is foretold to have drained: its range as ground, the middle as a line."""
    low, mid, high = (min(m, end) for m in minutes)
    yield layer(
        [{"t": low, "t2": high}], {"type": "rect", "color": RIM},
        x=place("t"), x2={"field": "t2"},
    )  # fmt: skip
    yield _moment(mid, "drained")
