"""The known tasting words, how a written word is brought to its known form, and the nearest ones.

A phrase maps to one to three descriptors with weights, or to none where it is a word of taste,
texture or trade without an aroma. A phrase that ends in an asterisk ("dried *") is a modifier: it
joins the note that follows and adds its own descriptors to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple

from service.aroma.prose import AND, INTENSITIES, NEGATIONS_CORRECTED, NEGATORS, OR, ORDINARY
from service.aroma.word_forms import MOST_SLIPS, WORD, certain, plain, root_words, stem, word_key
from service.kit import BadData

_NEAREST_LIMIT = 3
_LEAST_SIMILARITY = 0.5


class How(StrEnum):
    """How a written phrase met a known one."""

    EXACT = "exact"
    STEM = "stem"  # a plural or a simple inflection: "cherries", "lemony"
    SPELLING = "spelling"  # British and American, or one word and two: "passionfruit"
    NEAREST_ACCEPTED = "nearest-accepted"  # a misspelling, corrected and reported as such


@dataclass(frozen=True, slots=True)
class Entry:
    """A known phrase and what it smells of; no descriptors where it has no aroma."""

    phrase: str
    descriptors: tuple[tuple[str, float], ...]


class Near(NamedTuple):
    """A known phrase and how like it a written word is, 0 to 1."""

    phrase: str
    similarity: float


@dataclass(frozen=True, slots=True)
class Found:
    """A known phrase found at the start of some words: how many of them it took."""

    entry: Entry
    words: int
    how: How


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Known phrases, indexed once; build it with `from_rows`.

    >>> known = Vocabulary.from_rows([("smoke", "smoke", 1.0), ("dark chocolate", "cocoa", 0.4)])
    >>> known.find(["smoky", "note"]).entry.phrase
    'smoke'
    """

    entries: Mapping[str, Entry]
    modifiers: Mapping[str, Entry]
    _by_key: Mapping[str, Entry]
    _beginnings: frozenset[str]
    _words: frozenset[str]
    _words_by_initial: Mapping[str, tuple[str, ...]]
    _plain_phrases: Mapping[str, str]

    @classmethod
    def from_rows(cls, rows: Iterable[tuple[str, str, float]]) -> Vocabulary:
        """Read (phrase, descriptor id, weight) rows; an empty id with weight 0 means no aroma.

        BadData where a row cannot be meant, or where two phrases would be read as one.
        """
        entries = {phrase: Entry(phrase, means) for phrase, means in _gathered(rows).items()}
        notes = {phrase: entry for phrase, entry in entries.items() if not phrase.endswith("*")}
        modifiers = {phrase: entry for phrase, entry in entries.items() if phrase.endswith("*")}
        by_key = _index(notes)
        modifier_keys = _index(modifiers)
        words = {word for phrase in entries for word in _plain_words(phrase)}
        lexicon = sorted(words | by_key.keys() | NEGATIONS_CORRECTED)
        return cls(
            entries=MappingProxyType(entries),
            modifiers=MappingProxyType(modifier_keys),
            _by_key=MappingProxyType(by_key),
            _beginnings=frozenset(
                key[:end] for key in (*by_key, *modifier_keys) for end in range(1, len(key) + 1)
            ),
            _words=frozenset(word_key(word) for word in words) | by_key.keys(),
            _words_by_initial=MappingProxyType(_by_initial(lexicon)),
            _plain_phrases=MappingProxyType(
                {" ".join(_plain_words(phrase)): phrase for phrase in notes}
            ),
        )

    @property
    def descriptors(self) -> frozenset[str]:
        """The ids of all descriptors that some phrase leads to."""
        return frozenset(d for entry in self.entries.values() for d, _ in entry.descriptors)

    def find(self, words: Sequence[str]) -> Found | None:
        """The longest known phrase at the start of these plain words."""
        return self._longest(words, self._by_key)

    def find_modifier(self, words: Sequence[str]) -> Found | None:
        """The longest modifier ("dried", "freshly squeezed") at the start of these plain words."""
        return self._longest(words, self.modifiers)

    def knows_word(self, word: str) -> bool:
        """Whether a plain word is part of a known phrase, or of ordinary prose."""
        if word in ORDINARY or word in INTENSITIES or word in NEGATORS or word in AND | OR:
            return True
        return word_key(word) in self._words or any(
            root in self._by_key for root in map(word_key, root_words(word))
        )

    def corrected(self, word: str) -> Near | None:
        """The known word that a plain word misspells; None where that is not certain enough.

        `word_forms.certain` says which slips are believed; and no other known word that means
        something else may be as near.
        """
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        choices = self._words_by_initial.get(word[0], ())
        for form in dict.fromkeys((word, stem(word))):
            near = process.extract(
                form, choices, scorer=OSA.distance, score_cutoff=MOST_SLIPS, limit=None
            )
            nearest = certain(form, [(known, slips) for known, slips, _ in near])
            if nearest and len({self._meaning(known) for known in nearest}) == 1:
                return Near(nearest[0], OSA.normalized_similarity(form, nearest[0]))
        return None

    def nearest(self, word: str) -> tuple[Near, ...]:
        """Up to three known phrases that look most like a plain word, best first."""
        from rapidfuzz import fuzz, process

        near = process.extract(
            word,
            self._plain_phrases.keys(),
            scorer=fuzz.ratio,
            score_cutoff=100 * _LEAST_SIMILARITY,
            limit=_NEAREST_LIMIT,
        )
        found = [Near(self._plain_phrases[phrase], score / 100) for phrase, score, _ in near]
        return tuple(sorted(found, key=lambda near: (-near.similarity, near.phrase)))

    def _longest(self, words: Sequence[str], index: Mapping[str, Entry]) -> Found | None:
        key, keys = "", [""]
        for word in words:
            key += word_key(word)
            keys.append(key)
            if key not in self._beginnings:
                break
        for count in range(len(keys) - 1, 0, -1):
            taken = words[:count]
            entry = index.get(keys[count])
            if entry:
                return Found(entry, count, _how(taken, entry))
            if taken[-1] in ORDINARY:
                continue
            for root in root_words(taken[-1]):
                entry = index.get(keys[count - 1] + word_key(root))
                if entry:
                    return Found(entry, count, How.STEM)
        return None

    def _meaning(self, word: str) -> object:
        entry = self._by_key.get(word_key(word))
        return entry.descriptors if entry else word_key(word)


def _gathered(
    rows: Iterable[tuple[str, str, float]],
) -> dict[str, tuple[tuple[str, float], ...]]:
    """The descriptors of each phrase, greatest weight first; phrases in order of the alphabet."""
    gathered: dict[str, dict[str, float]] = {}
    for phrase, descriptor, weight in rows:
        _check_row(phrase, descriptor, weight)
        found = gathered.setdefault(phrase, {})
        if descriptor in found or "" in found or (found and not descriptor):
            raise BadData(f"'{phrase}' is given twice; keep one of the rows", field="phrase")
        found[descriptor] = weight
    return {
        phrase: tuple(sorted(((d, w) for d, w in found.items() if d), key=lambda p: (-p[1], p[0])))
        for phrase, found in sorted(gathered.items())
    }


def _check_row(phrase: str, descriptor: str, weight: float) -> None:
    if not _plain_words(phrase):
        raise BadData(f"'{phrase}' has no word in it; write the tasting word", field="phrase")
    if descriptor and not 0 < weight <= 1:
        raise BadData(f"'{phrase}': {weight:g} must be above 0, up to 1", field="weight")
    if not descriptor and weight != 0:
        raise BadData(f"'{phrase}' has no descriptor, so its weight must be 0", field="weight")


def _plain_words(phrase: str) -> list[str]:
    return [plain(word) for word in WORD.findall(phrase)]


def _index(entries: Mapping[str, Entry]) -> dict[str, Entry]:
    index: dict[str, Entry] = {}
    for phrase, entry in entries.items():
        key = "".join(map(word_key, _plain_words(phrase)))
        if key in index:
            other = index[key].phrase
            raise BadData(f"'{phrase}' and '{other}' are read as one; keep one", field="phrase")
        index[key] = entry
    return index


def _by_initial(words: Iterable[str]) -> dict[str, tuple[str, ...]]:
    groups: dict[str, list[str]] = {}
    for word in words:
        groups.setdefault(word[0], []).append(word)
    return {initial: tuple(group) for initial, group in groups.items()}


def _how(words: Sequence[str], entry: Entry) -> How:
    known = _plain_words(entry.phrase)
    if list(words) == known:
        return How.EXACT
    if [stem(word) for word in words] == [stem(word) for word in known]:
        return How.STEM
    return How.SPELLING
