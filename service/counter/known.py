"""What the counter knows: catalogue, knowledge and band, loaded once and passed in."""

from __future__ import annotations

from dataclasses import dataclass

from service.aroma.words import Vocabulary
from service.ingredients import Catalogue, NameIndex, load_catalogue
from service.recommend import Knowledge, build_knowledge


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """Everything that is read from the dataset before the first question is answered."""

    catalogue: Catalogue
    names: NameIndex
    knowledge: Knowledge
    vocabulary: Vocabulary


def load_known(catalogue: Catalogue | None = None) -> Known:
    """Read the shipped dataset (or take a catalogue) and build all that follows from it."""
    catalogue = catalogue or load_catalogue()
    words = ((w.phrase, w.descriptor, w.weight) for w in catalogue.note_words)
    return Known(
        catalogue=catalogue,
        names=NameIndex.of(catalogue.ingredients.values()),
        knowledge=build_knowledge(catalogue),
        vocabulary=Vocabulary.from_rows(words),
    )
