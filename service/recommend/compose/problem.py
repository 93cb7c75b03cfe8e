"""The question that `compose` answers: what may be poured, what is wanted, what must be kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from service.aroma import Aroma
from service.bed import DEFAULT, Bed, BedPriors
from service.ingredients.records import Ingredient
from service.kit import BadData, OutOfRange
from service.liquid import BuiltOnCube, Stirring
from service.recommend.affinity import Knowledge
from service.recommend.compose.measures import Measures
from service.recommend.compose.weights import ComposeWeights
from service.recommend.weights import Weights
from service.taste import Band

MOST_DRINKS: Final = 50
MOST_OF_A_KIND: Final = 2
# A search keeps some 150 bytes of each set of jigger bottles: so many are 90 MB.
MOST_GROUPS: Final = 600_000
LEAST_DOSE_G, MOST_DOSE_G = 10, 20
FREE_DOSES_G: Final = tuple(float(g) for g in range(LEAST_DOSE_G, MOST_DOSE_G + 1))

Stop: TypeAlias = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Bottle:
    """One thing on the shelf: its price and stock where known, and how the house likes it.

    `liking` runs from -1 (never again) to 1 (always well liked); 0 is unknown.
    """

    ingredient: Ingredient
    price_per_ml: float | None = None
    stock_ml: float | None = None
    liking: float = 0.0

    def __post_init__(self) -> None:
        if not -1.0 <= self.liking <= 1.0:
            raise OutOfRange.of("liking", self.liking, -1.0, 1.0, "(disliked to liked)")
        for name in ("price_per_ml", "stock_ml"):
            value = getattr(self, name)
            if value is not None and value < 0:
                raise BadData(f"{name} cannot be below nothing", field=name)


@dataclass(frozen=True, slots=True)
class Shape:
    """How many bottles of a kind a drink may hold."""

    modifiers: tuple[int, int] = (1, 2)
    bitters: tuple[int, int] = (0, 2)
    sweetener: bool = True
    saline: bool = True

    def __post_init__(self) -> None:
        if not 1 <= self.modifiers[0] <= self.modifiers[1] <= MOST_OF_A_KIND:
            raise BadData("a drink takes one or two modifiers", field="modifiers")
        if not 0 <= self.bitters[0] <= self.bitters[1] <= MOST_OF_A_KIND:
            raise BadData("a drink takes none to two bitters", field="bitters")


@dataclass(frozen=True, slots=True)
class Limits:
    """What every drink must keep. Strength, volume, balance and caffeine are those in the glass.

    `most_caffeine_mg` holds for the high end of the forecast, not for its middle. Unpriced bottles
    cost what the shelf's others of their role do in the middle.
    """

    must: frozenset[str] = frozenset()
    must_not: frozenset[str] = frozenset()
    without_allergens: frozenset[str] = frozenset()
    least_abv: float = 0.0
    most_abv: float = 1.0
    most_caffeine_mg: float | None = None
    most_cost: float | None = None
    least_glass_ml: float = 60.0
    most_glass_ml: float = 140.0
    least_balance: float = 0.0

    def __post_init__(self) -> None:
        if both := self.must & self.must_not:
            raise BadData(f"{sorted(both)[0]} cannot be in and out at once", field="must")
        for low, high in (("least_abv", "most_abv"), ("least_glass_ml", "most_glass_ml")):
            if not 0 <= getattr(self, low) <= getattr(self, high):
                raise BadData(f"{low} must lie between 0 and {high}", field=low)
        if not 0 <= self.least_balance <= 1:
            raise OutOfRange.of("least_balance", self.least_balance, 0, 1, "(a probability)")


@dataclass(frozen=True, slots=True)
class Variety:
    """How unlike the drinks of one answer must be. Part of the exact problem.

    repeat_pairs: whether two drinks may share both the base and a modifier
    most_per_bottle: in how many drinks one base or one modifier may appear; None for any number
    """

    repeat_pairs: bool = False
    most_per_bottle: int | None = 3

    def __post_init__(self) -> None:
        if self.most_per_bottle is not None and self.most_per_bottle < 1:
            raise BadData("a bottle must be let into one drink at least", field="most_per_bottle")


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """Everything that an answer depends on; the same problem always gives the same drinks.

    `doses_g` are the coffee doses allowed: one, or `FREE_DOSES_G`. `bed.dose_g` is not looked at.
    `affinity_weights` stand in for those of the knowledge (between tried and new, say).
    `house_specs` are the sets of bases and modifiers that the house pours already.
    """

    knowledge: Knowledge
    aroma: Aroma
    shelf: tuple[Bottle, ...]
    band: Band
    bed: Bed = field(default_factory=Bed)
    doses_g: tuple[float, ...] = (15.0,)
    preparation: Stirring | BuiltOnCube = field(default_factory=Stirring)
    priors: BedPriors = DEFAULT
    measures: Measures = field(default_factory=Measures)
    shape: Shape = field(default_factory=Shape)
    limits: Limits = field(default_factory=Limits)
    variety: Variety = field(default_factory=Variety)
    weights: ComposeWeights = field(default_factory=ComposeWeights)
    affinity_weights: Weights | None = None
    house_specs: tuple[frozenset[str], ...] = ()

    def __post_init__(self) -> None:
        if not self.doses_g or any(
            not LEAST_DOSE_G <= dose <= MOST_DOSE_G for dose in self.doses_g
        ):
            raise OutOfRange(
                f"composing goes with {LEAST_DOSE_G} to {MOST_DOSE_G} g of coffee",
                field="dose_g",
            )
        ids = [bottle.ingredient.id for bottle in self.shelf]
        if twice := {i for i in ids if ids.count(i) > 1}:
            raise BadData(f"{sorted(twice)[0]} stands on the shelf twice", field="shelf")
