"""What the API takes for a question asked backwards."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from service.counter.reach import ReachQuestion
from service.drink import Target
from service.drink.lattice import FIVE_ML, LATTICES, Lattice
from service.kit.jigger import JiggerStep
from service.web.api.v1.requests import COFFEE_EXAMPLE, POURS_EXAMPLE, BalanceRequest


class ReachRequest(BalanceRequest):
    """A drink, and what the guest's glass shall be: a strength, a volume, or both.

    In the glass is after the coffee; without one, after the stir. `preparation` is what is stirred
    with, and what stays as it is where only the amounts change.
    """

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"pours": POURS_EXAMPLE, "coffee": COFFEE_EXAMPLE, "abv_percent": 24}]
        }
    )

    abv_percent: Annotated[float | None, Field(description="such as 28 for 28 % vol")] = None
    glass_ml: Annotated[float | None, Field(description="at 20 °C")] = None
    lattice: Annotated[
        Literal["5 ml", "7.5 ml", "1/4 oz"] | None,
        Field(description="what is measured; left out: this bar's where it is asked, else 5 ml"),
    ] = None

    def question(self, of_bar: Lattice = FIVE_ML) -> ReachQuestion:
        """The question; `of_bar` is what the bar measures where nothing else is said."""
        percent = self.abv_percent
        return ReachQuestion(
            self.measure(),
            Target(None if percent is None else percent / 100.0, self.glass_ml),
            of_bar if self.lattice is None else LATTICES[JiggerStep(self.lattice)],
        )
