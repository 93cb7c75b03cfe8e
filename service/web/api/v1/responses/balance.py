"""Answers about one drink before and after the coffee: checks, remedies, cautions."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from service.drink import Level
from service.ingredients.records import Grind, Roast
from service.taste import Verdict
from service.web.api.v1.responses.common import Answer, Interval

Method = Literal["stirred", "on-a-cube", "pre-diluted", "none"]


class Check(Answer):
    """One taste before and after the coffee bed."""

    before: Interval = Field(description="points of 0 to 15")
    after: Interval
    leaning_before: float = Field(description="standard spreads of the classics; above 0 too much")
    leaning_after: float
    words: str = Field(examples=["in balance"])


class Remedy(Answer):
    """The smallest change on one lever that helps."""

    lever: str
    ingredient: str | None
    now: float
    then: float
    unit: str
    reaches: bool = Field(description="whether it brings the drink inside; checked again")
    words: str


class Caution(Answer):
    """What must be told or heeded, with its source. Guidance only: local law comes first."""

    code: str = Field(description="for programs; new codes may come")
    level: Level
    message: str
    source: str
    value: float | None
    unit: str | None


class DrinkPour(Answer):
    """One line of a drink."""

    ingredient: str
    name: str
    volume_ml: float
    mass_g: float = Field(description="the same by the scale: the usual bottle at 20 °C")


class DrinkPreparation(Answer):
    """How it is chilled; the numbers depend on the method."""

    method: Method
    seconds: float | None = None
    ice_g: float | None = None
    cube_mm: float | None = None
    ice_celsius: float | None = None
    surface_water_g: float | None = None
    vessel_j_per_k: float | None = None
    vessel_celsius: float | None = None
    start_celsius: float | None = None
    turns_per_second: float | None = None
    dilution: float | None = None
    celsius: float | None = None


class DrinkCoffee(Answer):
    """What is in the filter."""

    dose_g: float
    grind: Grind
    roast: Roast
    canephora_share: float = Field(ge=0, le=1)
    decaf: bool


class AskedDrink(Answer):
    """The drink as it was understood."""

    name: str
    pours: list[DrinkPour]
    preparation: DrinkPreparation
    coffee: DrinkCoffee | None


class Taste(Answer):
    """Perceived intensities, points of 0 to 15."""

    sweet: Interval
    bitter: Interval
    sour: Interval
    salt: Interval
    heat: Interval


class State(Answer):
    """Every number of one moment."""

    volume_ml: Interval
    abv_percent: Interval
    ethanol_g: Interval
    sugar_g_per_l: Interval
    acid_g_per_l: Interval
    qhe_mg_per_l: Interval
    caffeine_mg: Interval
    salt_g_per_l: Interval
    coffee_solids_g_per_l: Interval
    celsius: Interval
    taste: Taste


class VerdictProbability(Answer):
    """How likely each verdict is; they sum to 1."""

    inside: float = Field(ge=0, le=1)
    edge: float = Field(ge=0, le=1)
    outside: float = Field(ge=0, le=1)


class Standing(Answer):
    """Where a drink stands against the band of balance."""

    verdict: Verdict
    words: str = Field(description="empty where nothing leans")
    distance: Interval = Field(description="from the band's border; below 0 is inside")
    probability: VerdictProbability
    style: str
    warning: str | None


class Moment(Standing):
    """The drink at one moment: its state, and where it stands against the band."""

    state: State


class ThroughBed(Answer):
    """What the coffee bed does to the drink."""

    kept_ml: Interval = Field(description="stays in grounds and paper")
    yield_share: Interval
    drain_seconds: Interval
    caffeine_ceiling_mg: float = Field(description="were all the caffeine to come out")


class Measured(Answer):
    """One drink, read before and after the coffee."""

    drink: AskedDrink
    verdict: Verdict
    sweetness: Check
    bitterness: Check
    before: Moment
    after: Moment
    bed: ThroughBed | None
    remedies: list[Remedy] = Field(description="smallest first; empty where none is needed")
    no_lever_reaches: bool
    cautions: list[Caution]
