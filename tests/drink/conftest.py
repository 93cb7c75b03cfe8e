"""What the drink tests share: the band of the shipped references, and pours by id."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest

import pairing_data
from service.bed import Bed
from service.drink import Drink, Pour, band_of_classics
from service.ingredients import Catalogue
from service.ingredients.records import Composition, Grade, Ingredient, Role
from service.kit import Interval
from service.liquid import Preparation, Stirring
from service.taste import Band

NOTHING = Interval.exactly(0.0)
Mix = Callable[..., Drink]


@pytest.fixture(scope="session")
def band(catalogue: Catalogue) -> Band:
    """The balance band of the shipped reference specifications."""
    return band_of_classics(catalogue.ingredients, catalogue.specs)


@pytest.fixture(scope="session")
def mix(catalogue: Catalogue) -> Mix:
    """A drink from ids and volumes, such as mix(rye_whiskey=50, sweet_vermouth=20)."""

    def mixed(
        bed: Bed | None = None, preparation: Preparation | None = None, **pours: float
    ) -> Drink:
        lines = tuple(
            Pour(catalogue.ingredients[name.replace("_", "-")], volume)
            for name, volume in pours.items()
        )
        return Drink(lines, preparation or Stirring(), bed)

    return mixed


@pytest.fixture(scope="session")
def pour(catalogue: Catalogue) -> Callable[[str, float], Pour]:
    """A pour by id and volume."""
    return lambda ingredient_id, volume: Pour(catalogue.ingredients[ingredient_id], volume)


def bottle(
    name: str,
    role: Role = Role.MODIFIER,
    *,
    abv: Interval = NOTHING,
    sugar: Interval = NOTHING,
    acid: Interval = NOTHING,
    qhe: Interval = NOTHING,
    caffeine: Interval = NOTHING,
    salt: Interval = NOTHING,
    allergens: frozenset[str] = frozenset(),
    cautions: frozenset[str] = frozenset(),
) -> Ingredient:
    """A bottle of which everything is known."""
    composition = Composition(abv, sugar, acid, qhe, caffeine, salt)
    plain = Ingredient(name, name, role, "", composition, Grade.ESTIMATE, ())
    return replace(plain, allergens=allergens, cautions=cautions)


@dataclass(frozen=True)
class Worked:
    """A worked drink of the printed table: its pours, and what they come to."""

    name: str
    pours: tuple[Pour, ...]
    printed: dict[str, float]


@pytest.fixture(scope="session")
def worked() -> list[Worked]:
    """Fifteen public specifications computed by hand from the usual value of each category."""

    def rows(name: str) -> list[dict[str, str]]:
        with pairing_data.reference_path(name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def exactly(row: dict[str, str], column: str, factor: float = 1.0) -> Interval:
        return Interval.exactly(float(row[column]) * factor)

    bottles = {
        row["bottle"]: bottle(
            row["bottle"],
            Role(row["role"]),
            abv=exactly(row, "abv_percent", 0.01),
            sugar=exactly(row, "sugar_g_per_l"),
            acid=exactly(row, "acid_g_per_l"),
            qhe=exactly(row, "qhe_mg_per_l"),
        )
        for row in rows("worked_bottles")
    }
    drinks = []
    for row in rows("worked_drinks"):
        lines = [line.rsplit(" ", 1) for line in row["pours_ml"].split(";")]
        pours = tuple(Pour(bottles[name], float(volume)) for name, volume in lines)
        words = ("drink", "pours_ml", "how", "source")
        numbers = {key: float(value) for key, value in row.items() if key not in words}
        drinks.append(Worked(row["drink"], pours, numbers))
    return drinks
