"""Words that a guest knows: how notes, families and bottles are spoken of.

The three tables beside this file are ours. A note without a word is never said to a guest; what is
not in a table is called by its name in the dataset. Words that the two spellings of English write
differently are gone round.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from service.ingredients import Catalogue

COFFEE: Final = "coffee"
_WORDS: Final = re.compile(r"\w+")
_SILENT: Final = re.compile(r"[^aeiouyl]e$|[^td]ed$|[^aeiouyszxlhcg]es$")
_VOWELS: Final = re.compile("i(?=[ao])|[aeiouyáéèêó]+")
_PLURAL_ENDS: Final = ("bitters", "beans", "drops")


@dataclass(frozen=True, slots=True)
class Speech:
    """Spoken words by id; '' for what is not said to a guest. `family_of` a note is its family."""

    notes: Mapping[str, str]
    family_of: Mapping[str, str]
    families: Mapping[str, str]
    names: Mapping[str, str]

    def name(self, ingredient_id: str) -> str:
        """A bottle without its article; any coffee is `coffee`."""
        if ingredient_id == COFFEE or ingredient_id.startswith(f"{COFFEE}-"):
            return self.names.get(ingredient_id, COFFEE)
        return self.names.get(ingredient_id, ingredient_id.replace("-", " "))


def build_speech(catalogue: Catalogue) -> Speech:
    """The words of a catalogue, a bar's own ingredients included."""
    names = {i.id: i.name for i in catalogue.ingredients.values() if not _is_profile(i.id)}
    return Speech(
        notes=MappingProxyType(
            {d.id: d.name for d in catalogue.descriptors.values()} | dict(_spoken("notes"))
        ),
        family_of=MappingProxyType({d.id: d.family for d in catalogue.descriptors.values()}),
        families=MappingProxyType(dict(catalogue.families) | dict(_spoken("families"))),
        names=MappingProxyType(names | {k: v for k, v in _spoken("names").items() if k in names}),
    )


def spoken_note(descriptor: str) -> str:
    """The spoken word for a note, or its id in plain words where it has none.

    >>> spoken_note("aniseed"), spoken_note("fusel")
    ('anise', 'fusel')
    """
    return _spoken("notes").get(descriptor) or descriptor.replace("-", " ")


def listed(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`.

    >>> listed(["oak", "vanilla", "smoke"])
    'oak, vanilla and smoke'
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def is_plural(name: str) -> bool:
    """Whether a bottle's name takes a verb in the plural: the orange bitters bring."""
    return name.endswith(_PLURAL_ENDS)


def heaviness(*texts: str) -> int:
    """About how many syllables there are: groups of vowels, but for an e that is silent.

    >>> heaviness("dark chocolate", "smoke")
    5
    """
    return sum(_syllables(word) for text in texts for word in _WORDS.findall(text.lower()))


def plainness(text: str) -> float:
    """About which school grade a sentence asks for; see `heaviness`.

    Source: Kincaid et al. 1975, Research Branch Report 8-75: 0.39 words per sentence + 11.8
    syllables per word - 15.59.

    >>> round(plainness("The cat sat on the mat."), 2)
    -1.45
    """
    words = max(len(_WORDS.findall(text)), 1)
    return 0.39 * words + 11.8 * heaviness(text) / words - 15.59


def _syllables(word: str) -> int:
    count = len(_VOWELS.findall(word))
    silent = _SILENT.search(word) is not None and count > 1
    return count - silent


@lru_cache(maxsize=3)
def _spoken(table: str) -> Mapping[str, str]:
    text = (files(__package__) / f"spoken_{table}.csv").read_text(encoding="utf-8")
    rows = csv.reader(text.splitlines()[1:])
    return MappingProxyType({row[0]: row[1] for row in rows})


def _is_profile(ingredient_id: str) -> bool:
    return ingredient_id.startswith(f"{COFFEE}-") and ingredient_id.count("-") >= 3
