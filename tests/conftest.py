"""What many tests share: the real catalogue, loaded once, and a small one done by hand."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

import pytest
from hypothesis import settings

from service.counter.known import Known, load_known
from service.ingredients import Catalogue, load_catalogue
from service.ingredients.records import (
    Composition,
    Descriptor,
    Grade,
    Ingredient,
    Note,
    Occurrence,
    Odorant,
    Role,
    Spec,
    SpecPour,
    Threshold,
)
from service.kit import Interval

# A deadline would time the machine, not the code; speed has tests of its own.
settings.register_profile("no-deadline", deadline=None)
settings.load_profile("no-deadline")


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """The shipped dataset."""
    return load_catalogue()


@pytest.fixture(scope="session")
def known(catalogue: Catalogue) -> Known:
    """All that the service knows of the shipped dataset."""
    return load_known(catalogue)


def plain_composition(abv: float = 0.4, sugar: float = 0.0) -> Composition:
    nothing = Interval.exactly(0.0)
    return Composition(
        Interval.exactly(abv), Interval.exactly(sugar), nothing, nothing, nothing, nothing
    )


def small_ingredient(name: str, role: Role = Role.MODIFIER, style: str = "") -> Ingredient:
    return Ingredient(
        name, name, role, style or name, plain_composition(), Grade.MEASURED, ("paper",)
    )


@pytest.fixture(scope="session")
def small() -> Catalogue:
    """Four bottles, four odorants and three notes, small enough to work out on paper.

    At 40 % ethanol every threshold is 1 µg/L, so an amount of 9 has intensity log10(10) = 1 and
    99 has 2. smoky and clove share guaiacol (smoke); cherry shares nothing with smoky; nutty
    holds both benzaldehyde (marzipan, cherry) and guaiacol.
    """
    return small_catalogue(
        [("smoky", "guaiacol", 99.0), ("clove", "eugenol", 99.0), ("clove", "guaiacol", 9.0),
         ("cherry", "benzaldehyde", 99.0), ("nutty", "benzaldehyde", 9.0),
         ("nutty", "guaiacol", 9.0)]
    )  # fmt: skip


def small_catalogue(
    amounts: Iterable[tuple[str, str, float]],
    specs: Iterable[tuple[str, tuple[str, ...]]] = (("one", ("smoky", "clove")),),
) -> Catalogue:
    notes = [("guaiacol", "smoke"), ("eugenol", "spice"), ("benzaldehyde", "marzipan")]
    bottles = [small_ingredient(n) for n in ("cherry", "clove", "nutty", "smoky")]
    return Catalogue(
        version="0.0.0",
        ingredients=MappingProxyType({b.id: b for b in bottles}),
        odorants=MappingProxyType({o: Odorant(o, o, "") for o, _ in notes}),
        families=MappingProxyType({"warm": "warm", "sweet": "sweet"}),
        descriptors=MappingProxyType(
            {
                "marzipan": Descriptor("marzipan", "marzipan", "sweet"),
                "smoke": Descriptor("smoke", "smoke", "warm"),
                "spice": Descriptor("spice", "spice", "warm"),
            }
        ),
        occurrences=tuple(
            Occurrence(i, o, Interval.exactly(a), None, Grade.MEASURED, "paper")
            for i, o, a in amounts
        ),
        thresholds=tuple(Threshold(o, 0.4, 1.0, Grade.MEASURED, "paper") for o, _ in notes),
        odorant_notes=tuple(Note(o, d, 1.0, Grade.MEASURED, "paper") for o, d in notes),
        ingredient_notes=(),
        coffee=(
            Occurrence("coffee", "guaiacol", Interval.exactly(9.0), None, Grade.MEASURED, "p"),
        ),
        coffee_effects=(),
        note_words=(),
        specs=tuple(
            Spec(
                name,
                name,
                "1900",
                "stirred",
                False,
                "book",
                tuple(SpecPour(i, 30.0) for i in parts),
            )
            for name, parts in specs
        ),
        combinations=(),
        family_contrasts=MappingProxyType({("sweet", "warm"): 0.5}),
        affinity_weights=MappingProxyType(
            {"echo": 1.0, "bridge": 0.5, "contrast": 1.0, "custom": 0.5}
        ),
        sources=MappingProxyType({}),
    )
