"""Answers about curves: through the stir, and through the coffee."""

from __future__ import annotations

from pydantic import Field

from service.web.api.v1.responses.common import Answer, Curve, Interval


class StirCurve(Answer):
    """One drink followed through its stir; every list has one number per moment."""

    seconds: list[float]
    celsius: list[float]
    melt_g: list[float] = Field(description="water that came with or from the ice")
    dilution: list[float] = Field(description="mL water per mL of drink before")
    abv_percent: list[float]
    volume_ml: list[float]
    freezing_celsius: list[float]


class TensionFigure(Answer):
    """One side of a disagreement."""

    label: str
    value: Interval
    unit: str
    source: str


class Tension(Answer):
    """Where published figures disagree: both sides, not averaged away."""

    title: str
    figures: list[TensionFigure]
    text: str


class BedCurve(Answer):
    """What the coffee gives to a drink against contact time."""

    contact_seconds: list[float]
    caffeine_mg: Curve
    solids_g: Curve
    qhe_mg: Curve
    tensions: list[Tension]
