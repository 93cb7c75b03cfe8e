"""The answer to a question asked backwards."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from service.web.api.v1.responses.balance import AskedDrink, Caution, DrinkPour
from service.web.api.v1.responses.common import Answer, Interval


class ReachTarget(Answer):
    """What the glass shall be."""

    abv_percent: float | None
    glass_ml: float | None


class GlassRead(Answer):
    """A drink in the guest's glass: its middle is of the usual bottles, hand and bed."""

    abv_percent: Interval
    volume_ml: Interval
    celsius: Interval


class ReachMade(Answer):
    """What to do, and what the glass then is, read forward again."""

    factor: float = Field(description="on every pour, before it is measured")
    seconds: float | None = Field(description="null where no ice touches it")
    water_ml: float = Field(description="from the ice, or measured, per serve")
    kept_celsius: float | None = Field(description="how cold it is kept with its water")
    pours: list[DrinkPour]
    glass: GlassRead


class Reachable(Answer):
    """What a way does reach; null at an end that was not looked for."""

    low: float | None
    high: float | None
    unit: Literal["% vol", "mL"]


class ReachWay(Answer):
    """One way: to the last digit, and as a bar measures it; null where it does not lead there."""

    way: Literal["stirring", "water", "amounts"]
    reaches: bool
    words: str
    exact: ReachMade | None
    measured: ReachMade | None
    reachable: Reachable | None


class Reach(Answer):
    """Every way to the glass that is wanted."""

    target: ReachTarget
    drink: AskedDrink
    now: GlassRead
    ways: list[ReachWay]
    cautions: list[Caution] = Field(description="what to mind on any way, each once")
