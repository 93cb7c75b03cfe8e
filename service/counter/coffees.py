"""Reading a coffee: what the bag says, in the words of the dataset."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from service.aroma import Aroma, coffee_aroma
from service.aroma.words import NotesReading, read_notes
from service.counter.known import Known
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Roast

STRONGEST_NOTES = 8


@dataclass(frozen=True, slots=True)
class Coffee:
    """A coffee as a person describes it, and how much of it goes into the filter."""

    profile: CoffeeProfile = field(default_factory=CoffeeProfile)
    notes: str = ""
    dose_g: float = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    decaf: bool = False

    @property
    def roast(self) -> Roast:
        return self.profile.roast


@dataclass(frozen=True, slots=True, eq=False)
class CoffeeReading:
    """What was understood of a coffee.

    `strongest` are the notes that will do the pairing, with their share of the aroma.
    """

    coffee: Coffee
    notes: NotesReading
    aroma: Aroma
    strongest: Mapping[str, float]


def read_coffee(known: Known, coffee: Coffee) -> CoffeeReading:
    """Understand a coffee; unknown words come back as unknown."""
    notes = read_notes(coffee.notes, known.vocabulary)
    space = known.knowledge.space
    aroma = coffee_aroma(space, known.catalogue, coffee.profile, notes.weights)
    loudest = np.argsort(-aroma.notes, kind="stable")[:STRONGEST_NOTES]
    squares = aroma.notes**2
    return CoffeeReading(
        coffee,
        notes,
        aroma,
        {space.descriptors[i]: float(squares[i]) for i in loudest if squares[i] > 0},
    )
