"""A drink as it was read, for every page that shows one: balance, figures, cautions, numbers."""

from __future__ import annotations

from dataclasses import dataclass

from service.bar import Units
from service.counter.known import Known
from service.counter.measure import Measured
from service.drink import Level, Reading, State
from service.kit import Interval
from service.kit.units import ml_per
from service.taste import AXES
from service.web.pages.amounts import UNIT_WORDS, volume_figure
from service.web.pages.pieces import CautionLine, Figure, TasteCheck, VerdictMark
from service.web.pages.telling import (
    caution_lines,
    figure,
    middle_words,
    minutes,
    number,
    percent_figure,
    range_words,
    taste_check,
    verdict_mark,
)


@dataclass(frozen=True, slots=True)
class MomentRow:
    """One property before and after the coffee."""

    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class DrinkShown:
    """What is foretold of a drink, as `parts/_drink.html` shows it."""

    with_coffee: bool
    verdict: VerdictMark
    verdict_before: VerdictMark
    warning: str
    sweetness: TasteCheck
    bitterness: TasteCheck
    middle: str
    figures: tuple[Figure, ...]
    moments: tuple[MomentRow, ...]
    cautions: tuple[CautionLine, ...]
    notes: tuple[CautionLine, ...]


def drink_shown(known: Known, measured: Measured, units: Units) -> DrinkShown:
    """Everything that the part says; volumes in the bar's unit."""
    reading, with_coffee = measured.reading, measured.drink.bed is not None
    spread = dict(zip(AXES, known.band.spread.tolist(), strict=True))
    loud = [c for c in reading.cautions if c.level is not Level.NOTE]
    quiet = [c for c in reading.cautions if c.level is Level.NOTE]
    return DrinkShown(
        with_coffee=with_coffee,
        verdict=verdict_mark(reading.balance_after),
        verdict_before=verdict_mark(reading.balance_before),
        warning=reading.balance_after.warning,
        sweetness=taste_check(measured.sweetness, spread["sweet"]),
        bitterness=taste_check(measured.bitterness, spread["bitter"]),
        middle=middle_words(known.band),
        figures=tuple(figures_of(reading, units, with_coffee=with_coffee)),
        moments=tuple(moments_of(reading.before, reading.after, units)),
        cautions=caution_lines(known.catalogue, loud),
        notes=caution_lines(known.catalogue, quiet),
    )


def figures_of(reading: Reading, units: Units, *, with_coffee: bool) -> list[Figure]:
    """What stands in the glass, the bed and the clock, as large numbers."""
    after = reading.after
    found = [
        volume_figure("in the glass", after.volume_ml, units),
        percent_figure("strength", after.abv, "% vol"),
    ]
    if with_coffee:
        found += [
            minutes("drains in", reading.drain_seconds),
            figure("caffeine", after.caffeine_mg, "mg"),
            volume_figure("the bed keeps", reading.kept_ml, units),
        ]
    return [*found, figure("served at", _whole_degrees(after.celsius), "°C")]


def _whole_degrees(celsius: Interval) -> Interval:
    """No thermometer of a bar tells more."""
    return Interval(*(float(round(t)) for t in (celsius.low, celsius.mid, celsius.high)))


def moments_of(before: State, after: State, units: Units) -> list[MomentRow]:
    """Every number before and after the coffee."""

    def row(name: str, unit: str, field: str, factor: float = 1.0) -> MomentRow:
        return MomentRow(
            name,
            *(_told(getattr(state, field).scaled(factor), unit) for state in (before, after)),
        )

    return [
        row("volume", UNIT_WORDS[units], "volume_ml", 1.0 / ml_per(str(units))),
        row("strength", "% vol", "abv", 100.0),
        row("alcohol", "g", "ethanol_g"),
        row("sugar", "g/L", "sugar_g_per_l"),
        row("acid, as tartaric", "g/L", "acid_g_per_l"),
        row("bitterness, as quinine", "mg/L", "qhe_mg_per_l"),
        row("salt", "g/L", "salt_g_per_l"),
        row("caffeine", "mg", "caffeine_mg"),
        row("coffee solids", "g/L", "coffee_solids_g_per_l"),
        row("sharpness, of 15", "", "sour"),
        row("heat, of 100", "", "heat"),
    ]


def _told(interval: Interval, unit: str) -> str:
    between = range_words(interval)
    return f"{number(interval.mid)} {unit}".strip() + (f" ({between})" if between else "")
