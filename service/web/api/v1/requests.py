"""What the API takes. Unknown fields are refused, so that a slip of the pen is not ignored."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from service.aroma.words import LONGEST_NOTES_CHARACTERS
from service.counter.coffees import Coffee
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species

Name = Annotated[str, Field(min_length=1, max_length=100)]


class Request(BaseModel):
    """Strict about names, and about numbers that are words."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class CoffeeRequest(Request):
    """A coffee as the bag tells it."""

    roast: Roast = Roast.MEDIUM
    process: Process = Process.WASHED
    species: Species = Species.ARABICA
    notes: Annotated[
        str,
        Field(
            max_length=LONGEST_NOTES_CHARACTERS,
            description="tasting notes in the bag's own words",
            examples=["dark chocolate, dried cherry and a bit of smoke"],
        ),
    ] = ""
    dose_g: Annotated[float, Field(ge=1, le=500, description="ground coffee in the filter")] = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    decaf: bool = False

    def coffee(self) -> Coffee:
        return Coffee(
            CoffeeProfile(self.roast, self.process, self.species),
            self.notes,
            self.dose_g,
            self.grind,
            self.decaf,
        )


class PairRequest(Request):
    a: Name
    b: Name


class PairsRequest(Request):
    """Any two ingredients, coffee profiles included, by id, name or trade word."""

    pairs: Annotated[list[PairRequest], Field(min_length=1, max_length=1000)]
