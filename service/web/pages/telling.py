"""Readings told to a person: verdicts, checks, figures, remedies and cautions as pieces."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from service.counter.shapes import FAIR, FIRM
from service.counter.standard import IN_BALANCE, Check
from service.drink import Balance, Caution
from service.ingredients import Catalogue
from service.kit import Interval, clamp
from service.taste import Band, Verdict
from service.web.pages.pieces import (
    CautionLine,
    ConfidenceMark,
    Figure,
    GradeMark,
    TasteCheck,
    TasteTrack,
    VerdictMark,
)

# A taste's track: its middle, the length of one standard spread, and how much of it is shown.
TRACK_MIDDLE: Final = 100.0
TRACK_SPREAD: Final = 26.0
_TRACK_ENDS: Final = (6.0, 194.0)
_NOUNS: Final = {
    "sweet": "sweetness",
    "bitter": "bitterness",
    "sour": "sharpness",
    "salt": "saltiness",
    "heat": "heat",
}
_LEVELS: Final = {"note": "To know", "warn": "Mind", "stop": "Stop"}
_GRADES: Final = {
    "measured": "measured in such a bottle or brew",
    "derived": "worked out from measured raw material",
    "recalled": "recalled, still to be confirmed in its source",
    "estimate": "an estimate",
}


def number(value: float, digits: int = 3) -> str:
    """A number as a person writes it: so many digits that count, no exponent.

    >>> number(0.01234), number(96.4), number(123.4), number(-2.0)
    ('0.0123', '96.4', '123', '−2')
    """
    rounded = float(f"{value:.{digits}g}")
    text = f"{rounded:,.10f}".rstrip("0").rstrip(".").replace(",", "\u202f")
    return text.replace("-", "\u2212") if rounded else "0"


def range_words(interval: Interval, digits: int = 2) -> str:
    """The 80 % range as words, or nothing where there is none."""
    low, high = number(interval.low, digits), number(interval.high, digits)
    return "" if low == high else f"{low} to {high}"


def percent_figure(label: str, share: Interval, unit: str = "%") -> Figure:
    """A share as per cent."""
    percent = share.scaled(100.0)
    return Figure(label, number(percent.mid), unit, range_words(percent))


def figure(label: str, interval: Interval, unit: str, *, digits: int = 2, note: str = "") -> Figure:
    """An interval as a large number with its range."""
    return Figure(label, number(interval.mid, digits), unit, range_words(interval, digits), note)


def minutes(label: str, seconds: Interval, note: str = "") -> Figure:
    """A time of minutes and seconds."""
    low, mid, high = (_clock(s) for s in (seconds.low, seconds.mid, seconds.high))
    return Figure(label, mid, "min", "" if low == high else f"{low} to {high}", note)


def verdict_mark(balance: Balance) -> VerdictMark:
    """The verdict of one moment, which way it is off, and how sure that is."""
    words = {
        Verdict.INSIDE: "In balance",
        Verdict.EDGE: "On the edge",
        Verdict.OUTSIDE: "Out of balance",
    }[balance.verdict]
    off = f": {balance.words}" if balance.words else ""
    return VerdictMark(str(balance.verdict), words + off, _chances(balance))


def taste_check(check: Check, points_per_spread: float) -> TasteCheck:
    """A check as a track and words; the range after the coffee as long as it is in spreads."""
    before, after = number(check.before.mid, 2), number(check.after.mid, 2)
    below = (check.after.mid - check.after.low) / points_per_spread
    above = (check.after.high - check.after.mid) / points_per_spread
    noun = _NOUNS[check.taste]
    saying = check.words
    moved = "stays at" if before == after else f"goes from {before} to"
    return TasteCheck(
        name=noun.capitalize(),
        saying=saying,
        off=check.verdict is not Verdict.INSIDE and saying != IN_BALANCE,
        points=f"{before} \u2192 {after}",
        told=f"{noun} {moved} {after} of 15 points through the coffee; {saying}",
        track=TasteTrack(
            was=_place(check.leaning_before),
            now=_place(check.leaning_after),
            low=_place(check.leaning_after - below),
            high=_place(check.leaning_after + above),
        ),
    )


def middle_words(band: Band) -> str:
    """What a taste is held against: the classics, or where this bar's own tastings moved them."""
    return "what this bar likes" if band.moved & {"sweet", "bitter"} else "the classics"


def confidence_mark(confidence: float) -> ConfidenceMark:
    """How well a score is known."""
    if confidence >= FIRM:
        return ConfidenceMark(3, "firm evidence")
    if confidence >= FAIR:
        return ConfidenceMark(2, "fair evidence")
    return ConfidenceMark(1, "thin evidence")


def grade_mark(grade: str) -> GradeMark:
    """A grade in words."""
    return GradeMark(grade, _GRADES[grade])


def caution_lines(catalogue: Catalogue, cautions: Iterable[Caution]) -> tuple[CautionLine, ...]:
    """Cautions, the loudest first, each with the citation of its source."""
    loudness = {"stop": 0, "warn": 1, "note": 2}
    ordered = sorted(cautions, key=lambda c: loudness[str(c.level)])
    return tuple(
        CautionLine(str(c.level), _LEVELS[str(c.level)], c.message, _citation(catalogue, c.source))
        for c in ordered
    )


def _citation(catalogue: Catalogue, source: str) -> str:
    return catalogue.sources[source].citation if source in catalogue.sources else source


def listed(names: Iterable[str]) -> str:
    """Words joined as in a sentence.

    >>> listed(["smoke", "cherry", "fig"])
    'smoke, cherry and fig'
    """
    every = list(names)
    return " and ".join(filter(None, [", ".join(every[:-1]), *every[-1:]]))


def _chances(balance: Balance) -> str:
    return f"the chance that it is in balance is {balance.inside_probability * 100:.0f} %"


def _place(leaning: float) -> float:
    return round(clamp(TRACK_MIDDLE + TRACK_SPREAD * leaning, *_TRACK_ENDS), 1)


def _clock(seconds: float) -> str:
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"
