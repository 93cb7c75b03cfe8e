"""The catalogue: the whole dataset as immutable records, loaded once and passed in."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

import pairing_data
from service.ingredients import tables
from service.ingredients.coffee import profile_ingredients
from service.ingredients.records import (
    CoffeeEffect,
    Combination,
    Descriptor,
    Grade,
    Ingredient,
    Note,
    NoteWord,
    Occurrence,
    Odorant,
    Role,
    Source,
    Spec,
    SpecPour,
    Threshold,
)
from service.kit import BadData, NotFound

Keyed = TypeVar("Keyed", Ingredient, Odorant, Descriptor, Source)


@dataclass(frozen=True, slots=True, eq=False)
class Catalogue:
    """All that is known of ingredients and smells. Mappings keep the tables' order (by id).

    Two catalogues are the same only if they are the same object, so that what is worked out from
    one may be remembered by it.
    """

    version: str
    ingredients: Mapping[str, Ingredient]
    odorants: Mapping[str, Odorant]
    families: Mapping[str, str]
    descriptors: Mapping[str, Descriptor]
    occurrences: tuple[Occurrence, ...]
    thresholds: tuple[Threshold, ...]
    odorant_notes: tuple[Note, ...]
    ingredient_notes: tuple[Note, ...]
    coffee: tuple[Occurrence, ...]
    coffee_effects: tuple[CoffeeEffect, ...]
    note_words: tuple[NoteWord, ...]
    specs: tuple[Spec, ...]
    combinations: tuple[Combination, ...]
    family_contrasts: Mapping[tuple[str, str], float]
    affinity_weights: Mapping[str, float]
    sources: Mapping[str, Source]

    def ingredient(self, ingredient_id: str, *, field: str | None = None) -> Ingredient:
        """The ingredient of that id; NotFound otherwise."""
        try:
            return self.ingredients[ingredient_id]
        except KeyError:
            raise NotFound(
                f"no ingredient has the id {ingredient_id!r}; search the list for its category",
                field=field,
            ) from None

    def of_role(self, role: Role) -> tuple[Ingredient, ...]:
        """All ingredients of one role, in order of id."""
        return tuple(i for i in self.ingredients.values() if i.role is role)

    def extended(
        self,
        ingredients: Iterable[Ingredient],
        occurrences: Iterable[Occurrence] = (),
        notes: Iterable[Note] = (),
    ) -> Catalogue:
        """A catalogue with a bar's own ingredients beside the shipped ones, never over them."""
        added = {i.id: i for i in ingredients}
        if shadowed := added.keys() & self.ingredients.keys():
            raise BadData(
                f"{sorted(shadowed)[0]!r} is an id of the shipped dataset; choose another",
                field="id",
            )
        return replace(
            self,
            ingredients=MappingProxyType(dict(sorted({**self.ingredients, **added}.items()))),
            occurrences=(*self.occurrences, *occurrences),
            ingredient_notes=(*self.ingredient_notes, *notes),
        )


def load_catalogue(folder: Path = pairing_data.FOLDER) -> Catalogue:
    """Read every table under `folder`; BadData names table and line of the first broken row."""

    def table(name: str) -> Path:
        return folder / "tables" / f"{name}.csv"

    package = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    return Catalogue(
        version=package["version"],
        ingredients=_by_id(
            [*tables.read(table("ingredients"), tables.ingredient), *profile_ingredients()]
        ),
        odorants=_by_id(tables.read(table("odorants"), tables.odorant)),
        families=MappingProxyType(
            {row["family_id"]: row["name"] for _, row in tables.rows(table("families"))}
        ),
        descriptors=_by_id(tables.read(table("descriptors"), tables.descriptor)),
        occurrences=_best_known(
            tables.read(table("ingredient_odorants"), tables.occurrence),
            tables.read(table("derived_odorants"), tables.occurrence),
        ),
        thresholds=tuple(tables.read(table("thresholds"), tables.threshold)),
        odorant_notes=tuple(tables.read(table("odorant_descriptors"), tables.odorant_note)),
        ingredient_notes=tuple(
            tables.read(table("ingredient_descriptors"), tables.ingredient_note)
        ),
        coffee=tuple(tables.read(table("coffee_odorants"), tables.occurrence)),
        coffee_effects=tuple(tables.read(table("coffee_effects"), tables.coffee_effect)),
        note_words=tuple(tables.read(table("note_words"), tables.note_word)),
        specs=_specs(table("specs"), table("spec_pours")),
        combinations=tuple(tables.read(table("combinations"), tables.combination)),
        family_contrasts=MappingProxyType(
            {
                (row["family_a"], row["family_b"]): float(row["contrast"])
                for _, row in tables.rows(table("family_contrasts"))
            }
        ),
        affinity_weights=MappingProxyType(
            {row["part"]: float(row["weight"]) for _, row in tables.rows(table("affinity_weights"))}
        ),
        sources=_by_id(tables.read(table("sources"), tables.source)),
    )


def _by_id(records: list[Keyed]) -> Mapping[str, Keyed]:
    return MappingProxyType({record.id: record for record in sorted(records, key=lambda r: r.id)})


def _best_known(direct: list[Occurrence], derived: list[Occurrence]) -> tuple[Occurrence, ...]:
    """One row per pair: the better grade, then a figure before a class, then the bottle's own
    analysis before the raw-material rule."""
    chosen: dict[tuple[str, str], Occurrence] = {}
    for row in chain(direct, derived):
        key = (row.ingredient, row.odorant)
        if key not in chosen or _worth(row) < _worth(chosen[key]):
            chosen[key] = row
    return tuple(chosen[key] for key in sorted(chosen))


def _worth(row: Occurrence) -> tuple[int, bool]:
    return list(Grade).index(row.grade), row.concentration_ug_per_l is None


def _specs(specs: Path, pours: Path) -> tuple[Spec, ...]:
    lines: dict[str, list[tuple[int, SpecPour]]] = {}
    for _, row in tables.rows(pours):
        pour = SpecPour(row["ingredient_id"], float(row["volume_ml"]))
        lines.setdefault(row["spec_id"], []).append((int(row["position"]), pour))
    return tuple(
        Spec(
            id=row["spec_id"],
            name=row["name"],
            year=row["year"],
            method=row["method"],
            reference=row["reference"] == "yes",
            source=row["source_id"],
            pours=tuple(p for _, p in sorted(lines.get(row["spec_id"], []), key=lambda x: x[0])),
        )
        for _, row in tables.rows(specs)
    )
