"""Reading one table of the dataset into records; a broken row is named by table and line."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

from service.ingredients.records import (
    CoffeeEffect,
    Combination,
    Composition,
    Descriptor,
    Grade,
    Impact,
    Ingredient,
    Legal,
    Note,
    NoteWord,
    Occurrence,
    Odorant,
    Role,
    Source,
    Threshold,
)
from service.kit import BadData, Interval

Row = dict[str, str]
Record = TypeVar("Record")


def rows(path: Path) -> Iterator[tuple[int, Row]]:
    """The rows of a table with their line numbers in the file."""
    try:
        with path.open(encoding="utf-8", newline="") as file:
            reader = csv.reader(file)
            names = next(reader, [])
            for cells in reader:
                if cells:
                    yield reader.line_num, dict(zip(names, cells, strict=False))
    except FileNotFoundError as error:
        raise BadData(
            f"the dataset has no table {path.name}; restore it from the release"
        ) from error


def read(path: Path, make: Callable[[Row], Record]) -> list[Record]:
    """Every row of a table through `make`; the first broken one raises with its place."""
    records = []
    for line, row in rows(path):
        try:
            records.append(make(row))
        except (KeyError, ValueError, TypeError, BadData) as error:
            raise BadData(f"{path.name}, line {line}: {error}") from error
    return records


def ingredient(row: Row) -> Ingredient:
    return Ingredient(
        id=row["ingredient_id"],
        name=row["name"],
        role=Role(row["role"]),
        style=row["style"],
        composition=composition(row),
        grade=Grade(row["grade"]),
        sources=words(row["source_ids"]),
        legal=legal(row),
        allergens=frozenset(words(row["allergens"])),
        cautions=frozenset(words(row["cautions"])),
        aliases=words(row["aliases"]),
    )


def composition(row: Row) -> Composition:
    return Composition(
        abv=interval(row, "abv_percent").scaled(0.01),
        sugar_g_per_l=interval(row, "sugar_g_per_l"),
        acid_g_per_l=interval(row, "acid_g_per_l"),
        qhe_mg_per_l=interval(row, "qhe_mg_per_l"),
        caffeine_mg_per_l=interval(row, "caffeine_mg_per_l"),
        salt_g_per_l=interval(row, "salt_g_per_l"),
    )


def legal(row: Row) -> Legal | None:
    if not row["legal_category"]:
        return None
    strength = optional(row["legal_abv_percent_min"])
    return Legal(
        category=row["legal_category"],
        abv_min=None if strength is None else strength / 100,
        sugar_min_g_per_l=optional(row["legal_sugar_g_per_l_min"]),
        sugar_max_g_per_l=optional(row["legal_sugar_g_per_l_max"]),
    )


def odorant(row: Row) -> Odorant:
    return Odorant(row["odorant_id"], row["name"], row["cas"])


def descriptor(row: Row) -> Descriptor:
    return Descriptor(row["descriptor_id"], row["name"], row["family_id"])


def occurrence(row: Row, subject: str = "ingredient_id") -> Occurrence:
    amount = interval(row, "ug_per_l") if row["ug_per_l"] else None
    impact = Impact(row["impact"]) if row["impact"] else None
    if amount is None and impact is None:
        raise BadData("a row needs a concentration or an impact class")
    return Occurrence(
        ingredient=row.get(subject, "coffee"),
        odorant=row["odorant_id"],
        concentration_ug_per_l=amount,
        impact=impact,
        grade=Grade(row["grade"]),
        source=row["source_id"],
    )


def threshold(row: Row) -> Threshold:
    return Threshold(
        odorant=row["odorant_id"],
        ethanol=float(row["ethanol_percent"]) / 100,
        ug_per_l=float(row["threshold_ug_per_l"]),
        grade=Grade(row["grade"]),
        source=row["source_id"],
    )


def odorant_note(row: Row) -> Note:
    return _note(row, "odorant_id")


def ingredient_note(row: Row) -> Note:
    return _note(row, "ingredient_id")


def coffee_effect(row: Row) -> CoffeeEffect:
    return CoffeeEffect(
        dimension=row["dimension"],
        level=row["level"],
        odorant=row["odorant_id"],
        factor=interval(row, "factor"),
        grade=Grade(row["grade"]),
        source=row["source_id"],
    )


def combination(row: Row) -> Combination:
    return Combination(row["combination_id"], row["food"], row["ingredient_id"], row["source_id"])


def note_word(row: Row) -> NoteWord:
    return NoteWord(row["phrase"], row["descriptor_id"], float(row["weight"]))


def source(row: Row) -> Source:
    # A work whose author is not known stands under its title (ISO 690:2021, recalled).
    order = ("authors", "year", "title") if row["authors"] else ("title", "year")
    parts = (row[name] for name in (*order, "container", "locator"))
    return Source(
        id=row["source_id"],
        citation=", ".join(part for part in parts if part),
        doi=row["doi"],
        standard=row["standard"],
    )


def interval(row: Row, name: str) -> Interval:
    """The three columns `name_low`, `name`, `name_high`; a missing end falls on the middle."""
    middle = float(row[name])
    low, high = optional(row[f"{name}_low"]), optional(row[f"{name}_high"])
    return Interval(middle if low is None else low, middle, middle if high is None else high)


def optional(text: str) -> float | None:
    return float(text) if text else None


def words(text: str) -> tuple[str, ...]:
    """A cell of several values, split at semicolons."""
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _note(row: Row, subject: str) -> Note:
    return Note(
        row[subject],
        row["descriptor_id"],
        float(row["weight"]),
        Grade(row["grade"]),
        row["source_id"],
    )
