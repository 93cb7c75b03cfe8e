"""What a note of an aroma rests on: its odorants, its words, their grades and sources."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from service.aroma import COFFEE, Aroma, AromaSpace
from service.ingredients import Catalogue
from service.ingredients.records import Note, Occurrence

MOST_ODORANTS: Final = 3


@dataclass(frozen=True, slots=True)
class Support:
    """One odorant that carries a note, or (`odorant` empty) the word of somebody who smelled it.

    `intensity` is log10(1 + odour activity), `weight` the odorant's share of the note.
    """

    odorant: str
    descriptor: str
    intensity: float
    weight: float
    grade: str
    sources: tuple[str, ...]

    @property
    def strength(self) -> float:
        return self.intensity * self.weight


@dataclass(frozen=True, slots=True, eq=False)
class EvidenceIndex:
    """Rows of the dataset by what they are about.

    drinks : two ingredients (in order of id) to the sources of drinks that pour both
    foods : ingredient to what literature puts with coffee in its stead, and its source
    """

    occurrences: Mapping[tuple[str, str], Occurrence]
    odorant_notes: Mapping[tuple[str, str], Note]
    words: Mapping[tuple[str, str], Note]
    drinks: Mapping[tuple[str, str], tuple[str, ...]]
    foods: Mapping[str, tuple[tuple[str, str], ...]]


def build_index(catalogue: Catalogue) -> EvidenceIndex:
    """Look-ups of all rows that evidence can be."""
    rows = {(o.ingredient, o.odorant): o for o in catalogue.occurrences}
    rows |= {(COFFEE, o.odorant): o for o in catalogue.coffee}
    return EvidenceIndex(
        occurrences=rows,
        odorant_notes={(n.subject, n.descriptor): n for n in catalogue.odorant_notes},
        words={(n.subject, n.descriptor): n for n in catalogue.ingredient_notes},
        drinks=_drinks(catalogue),
        foods=_foods(catalogue),
    )


def _drinks(catalogue: Catalogue) -> dict[tuple[str, str], tuple[str, ...]]:
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for spec in catalogue.specs:
        for pair in combinations(sorted({pour.ingredient for pour in spec.pours}), 2):
            found[pair].add(spec.source)
    return {pair: tuple(sorted(sources)) for pair, sources in found.items()}


def _foods(catalogue: Catalogue) -> dict[str, tuple[tuple[str, str], ...]]:
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for one in catalogue.combinations:
        found[one.ingredient].append((one.food, one.source))
    return {name: tuple(sorted(foods)) for name, foods in found.items()}


def supports(
    index: EvidenceIndex, space: AromaSpace, aroma: Aroma, descriptor: str
) -> tuple[Support, ...]:
    """The odorants that carry a note most, then the word for it, if any."""
    column = space.odorant_notes[:, [space.descriptor_index[descriptor]]].toarray().ravel()
    amounts = aroma.odorants * column
    found = []
    for place in np.argsort(-amounts, kind="stable")[:MOST_ODORANTS]:
        if amounts[place] <= 0:
            break
        odorant = space.odorant_ids[place]
        row = index.occurrences[aroma.context, odorant]
        note = index.odorant_notes[odorant, descriptor]
        found.append(
            Support(
                odorant,
                descriptor,
                float(aroma.odorants[place]),
                float(column[place]),
                str(row.grade),
                tuple(dict.fromkeys((row.source, note.source))),
            )
        )
    word = index.words.get((aroma.context, descriptor))
    if word is not None:
        found.append(Support("", descriptor, 0.0, word.weight, str(word.grade), (word.source,)))
    elif not found:
        found.append(Support("", descriptor, 0.0, 1.0, "recalled", ()))
    return tuple(found)
