"""How well each ingredient is known: its rows by grade, for a report, a page and a picture."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from service.ingredients import Catalogue
from service.ingredients.records import Grade, Ingredient, Occurrence, Role

Json = dict[str, Any]

# The grades that rest on something published and read.
WELL_KNOWN = frozenset({Grade.MEASURED, Grade.DERIVED})


@dataclass(frozen=True, slots=True)
class Tally:
    """How many rows of each grade, and how many of them carry a concentration."""

    by_grade: Mapping[Grade, int]
    with_figure: int

    @classmethod
    def of(cls, rows: Iterable[Occurrence]) -> Tally:
        listed = tuple(rows)
        found = Counter(row.grade for row in listed)
        figures = sum(row.concentration_ug_per_l is not None for row in listed)
        return cls({grade: found[grade] for grade in Grade}, figures)

    @property
    def rows(self) -> int:
        return sum(self.by_grade.values())

    @property
    def well_known_share(self) -> float | None:
        """Share graded measured or derived; None where there are no rows."""
        if not self.rows:
            return None
        return sum(self.by_grade[grade] for grade in WELL_KNOWN) / self.rows


@dataclass(frozen=True, slots=True)
class Covered:
    """One ingredient: its odorant rows, and the words it is described by."""

    ingredient: Ingredient
    odorants: Tally
    words: int

    @property
    def by_words_only(self) -> bool:
        """Whether its smell is told by descriptors alone."""
        return self.odorants.rows == 0 and self.words > 0


@dataclass(frozen=True, slots=True)
class Coverage:
    """What the dataset covers; the coffee profiles share one reference coffee."""

    version: str
    ingredients: tuple[Covered, ...]
    total: Tally
    by_role: Mapping[Role, Tally]
    coffee: Tally

    @property
    def by_words_only(self) -> tuple[str, ...]:
        return tuple(one.ingredient.id for one in self.ingredients if one.by_words_only)


def coverage(catalogue: Catalogue, role: Role | None = None) -> Coverage:
    """Rows by grade of every ingredient (of one role, if given), of each role, and of all."""
    rows: dict[str, list[Occurrence]] = defaultdict(list)
    for row in catalogue.occurrences:
        rows[row.ingredient].append(row)
    words = Counter(note.subject for note in catalogue.ingredient_notes)
    chosen = [
        one
        for one in catalogue.ingredients.values()
        if one.role is not Role.COFFEE and (role is None or one.role is role)
    ]
    by_role: dict[Role, list[Occurrence]] = defaultdict(list)
    for one in chosen:
        by_role[one.role] += rows[one.id]
    return Coverage(
        version=catalogue.version,
        ingredients=tuple(Covered(one, Tally.of(rows[one.id]), words[one.id]) for one in chosen),
        total=Tally.of(row for listed in by_role.values() for row in listed),
        by_role={each: Tally.of(by_role[each]) for each in Role if each in by_role},
        coffee=Tally.of(catalogue.coffee),
    )


def coverage_json(found: Coverage) -> Json:
    """The same figures as JSON, ingredient by ingredient."""
    return {
        "dataset_version": found.version,
        "total": tally_json(found.total),
        "by_role": {str(role): tally_json(tally) for role, tally in found.by_role.items()},
        "reference_coffee": tally_json(found.coffee),
        "described_by_words_only": list(found.by_words_only),
        "ingredients": [
            {
                "id": one.ingredient.id,
                "name": one.ingredient.name,
                "role": str(one.ingredient.role),
                **tally_json(one.odorants),
                "words": one.words,
                "described_by_words_only": one.by_words_only,
            }
            for one in found.ingredients
        ],
    }


def tally_json(tally: Tally) -> Json:
    return {
        "rows": tally.rows,
        "with_figure": tally.with_figure,
        "well_known_share": tally.well_known_share,
        "by_grade": {str(grade): count for grade, count in tally.by_grade.items()},
    }
