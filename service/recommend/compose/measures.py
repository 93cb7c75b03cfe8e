"""The measures of a search: which amounts of the bar's jiggers, dashers and droppers it tries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from service.drink.lattice import by_the_drop
from service.ingredients.records import Ingredient, Role
from service.kit import BadData, OutOfRange
from service.kit.jigger import JiggerStep
from service.kit.units import DASH_ML, DROP_ML

# A measure may miss a bound by so much of it: a quarter ounce is meant where 7.5 mL is asked.
_NEAR: Final = 0.03
_MOST_STEPS: Final = 40


@dataclass(frozen=True, slots=True)
class Measures:
    """The lattice of amounts: bounds per role [mL], whole dashes, drops. Bounds are house habits.

    A sweetener goes by half steps, the small end of the jigger.
    """

    step: JiggerStep = JiggerStep.SEVEN_AND_A_HALF_ML
    base_ml: tuple[float, float] = (30.0, 60.0)
    modifier_ml: tuple[float, float] = (5.0, 30.0)
    sweetener_ml: tuple[float, float] = (2.5, 10.0)
    dashes: tuple[int, int] = (1, 3)
    salt_drops: tuple[int, ...] = (3, 6)
    salt_dashes: tuple[int, ...] = (1, 2)

    def __post_init__(self) -> None:
        for name in ("base_ml", "modifier_ml", "sweetener_ml", "dashes"):
            low, high = getattr(self, name)
            if not 0 < low <= high:
                raise BadData(f"{low:g} to {high:g} is no range of amounts", field=name)
        if self.dashes[1] > _MOST_STEPS:
            raise OutOfRange.of("dashes", self.dashes[1], 1, _MOST_STEPS, "dashes")

    def amounts_ml(self, ingredient: Ingredient) -> tuple[float, ...]:
        """Every amount of an ingredient that this bar can measure [mL]; ascending."""
        match ingredient.role:
            case Role.BASE:
                return self._in_steps("base_ml", self.step.ml)
            case Role.MODIFIER:
                return self._in_steps("modifier_ml", self.step.ml)
            case Role.SWEETENER:
                return self._in_steps("sweetener_ml", 0.5 * self.step.ml)
            case Role.BITTERS:
                return tuple(DASH_ML * n for n in range(self.dashes[0], self.dashes[1] + 1))
            case _:
                return self._salt(ingredient)

    def _in_steps(self, name: str, step_ml: float) -> tuple[float, ...]:
        low, high = getattr(self, name)
        counts = range(1, int(high * (1.0 + _NEAR) / step_ml) + 1)
        found = tuple(n * step_ml for n in counts if n * step_ml >= low * (1.0 - _NEAR))
        if not 1 <= len(found) <= _MOST_STEPS:
            raise OutOfRange(
                f"{low:g} to {high:g} mL holds {len(found)} steps of {step_ml:g} mL; "
                f"ask for 1 to {_MOST_STEPS}",
                field=name,
            )
        return found

    def _salt(self, ingredient: Ingredient) -> tuple[float, ...]:
        if by_the_drop(ingredient):
            return tuple(DROP_ML * n for n in self.salt_drops)
        return tuple(DASH_ML * n for n in self.salt_dashes)
