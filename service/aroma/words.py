"""A coffee bag's words read into weighted descriptors: what was heard, denied, or not known.

Longest known phrase first; `reach` says how far a negation and a word of intensity go.

Sum rule: a descriptor's weight is the sum over its positive mentions of phrase weight times
intensity, at most 1. A denied note takes the descriptor that it stands for out of the sum, unless
another note stands for the same one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from service.aroma.reach import weighed
from service.aroma.stretches import Kind, Stretch, Token, stretches_of, tokens_of
from service.aroma.vocabulary import How, Near, Vocabulary
from service.aroma.word_forms import plain
from service.kit import BadData

__all__ = [
    "LONGEST_NOTES_CHARACTERS",
    "Mention",
    "NotesReading",
    "Part",
    "Said",
    "Unknown",
    "Vocabulary",
    "descriptor_weights",
    "read_notes",
]

LONGEST_NOTES_CHARACTERS = 2000


class Said(StrEnum):
    """What a part of the read-back says."""

    NOTE = "note"
    FAINT = "faint"
    STRONG = "strong"
    CORRECTED = "corrected"
    WITHOUT = "without"
    NO_AROMA = "no-aroma"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Mention:
    """A known phrase in the text: where it stands, what it smells of, how it was matched.

    `weights` are the phrase's own, before its intensity.
    """

    phrase: str
    text: str
    span: tuple[int, int]
    weights: tuple[tuple[str, float], ...]
    intensity: float
    how: How
    similarity: float

    @property
    def stands_for(self) -> frozenset[str]:
        """The descriptors of the greatest weight: what the phrase is first of all."""
        most = max((weight for _, weight in self.weights), default=0.0)
        return frozenset(id for id, weight in self.weights if weight == most)


@dataclass(frozen=True, slots=True)
class Unknown:
    """A word that is not known, with the known phrases nearest to it."""

    text: str
    span: tuple[int, int]
    nearest: tuple[Near, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the sentence that reads the notes back; `detail` is what was written."""

    said: Said
    phrase: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class NotesReading:
    """Everything that was read in the notes; `mentions` are the positive ones with an aroma."""

    mentions: tuple[Mention, ...]
    negated: tuple[Mention, ...]
    without_aroma: tuple[Mention, ...]
    unknown: tuple[Unknown, ...]
    weights: Mapping[str, float]
    read_back: tuple[Part, ...]


def read_notes(text: str, vocabulary: Vocabulary) -> NotesReading:
    """Read tasting notes in a person's own words; an empty text gives an empty reading.

    BadData beyond LONGEST_NOTES_CHARACTERS.

    >>> known = Vocabulary.from_rows([("smoke", "smoke", 1.0), ("cherry", "cherry", 1.0)])
    >>> reading = read_notes("Cherries and a bit of smoke", known)
    >>> dict(reading.weights)
    {'cherry': 1.0, 'smoke': 0.5}
    """
    if len(text) > LONGEST_NOTES_CHARACTERS:
        raise BadData(
            f"the notes are {len(text)} characters long; shorten them to "
            f"{LONGEST_NOTES_CHARACTERS} at most",
            field="notes",
        )
    tokens = tuple(tokens_of(text, vocabulary))
    stretches = weighed(tuple(stretches_of(tokens, vocabulary)), tokens)
    notes = [stretch for stretch in stretches if stretch.entry]
    mentions = [_mention(stretch, tokens, text) for stretch in notes]
    negated = tuple(m for m, stretch in zip(mentions, notes, strict=True) if stretch.negated)
    heard = tuple(m for m, stretch in zip(mentions, notes, strict=True) if not stretch.negated)
    with_aroma = tuple(mention for mention in heard if mention.weights)
    without_aroma = tuple(mention for mention in heard if not mention.weights)
    unknown = tuple(
        _unknown(stretch, tokens, text, vocabulary)
        for stretch in stretches
        if stretch.kind is Kind.UNKNOWN
    )
    return NotesReading(
        mentions=with_aroma,
        negated=negated,
        without_aroma=without_aroma,
        unknown=unknown,
        weights=MappingProxyType(descriptor_weights(with_aroma, negated)),
        read_back=tuple(_read_back(with_aroma, negated, without_aroma, unknown)),
    )


def descriptor_weights(heard: Iterable[Mention], negated: Iterable[Mention]) -> dict[str, float]:
    """Weight of each descriptor, 0 to 1, by the sum rule of this module."""
    heard = tuple(heard)
    named = {id for mention in heard for id in mention.stands_for}
    denied = {id for mention in negated for id in mention.stands_for} - named
    shares: dict[str, list[float]] = {}
    for mention in heard:
        for id, weight in mention.weights:
            if id not in denied:
                shares.setdefault(id, []).append(weight * mention.intensity)
    return {id: min(1.0, round(math.fsum(shares[id]), 9)) for id in sorted(shares)}


def _mention(stretch: Stretch, tokens: Sequence[Token], text: str) -> Mention:
    assert stretch.entry is not None
    taken = tokens[stretch.start : stretch.end]
    similarity = min(token.similarity for token in taken)
    span = (taken[0].start, taken[-1].end)
    return Mention(
        phrase=stretch.entry.phrase,
        text=text[span[0] : span[1]],
        span=span,
        weights=stretch.entry.descriptors,
        intensity=stretch.factor,
        how=How.NEAREST_ACCEPTED if similarity < 1 else stretch.how,
        similarity=similarity,
    )


def _unknown(
    stretch: Stretch, tokens: Sequence[Token], text: str, vocabulary: Vocabulary
) -> Unknown:
    token = tokens[stretch.start]
    written = text[token.start : token.end]
    return Unknown(written, (token.start, token.end), vocabulary.nearest(plain(written)))


def _read_back(
    heard: Iterable[Mention],
    negated: Iterable[Mention],
    without_aroma: Iterable[Mention],
    unknown: Iterable[Unknown],
) -> Iterator[Part]:
    for mention in heard:
        said = Said.NOTE
        if mention.intensity != 1:
            said = Said.FAINT if mention.intensity < 1 else Said.STRONG
        yield Part(said, mention.phrase, mention.text)
        if mention.how is How.NEAREST_ACCEPTED:
            yield Part(Said.CORRECTED, mention.phrase, mention.text)
    for mention in negated:
        yield Part(Said.WITHOUT, mention.phrase, mention.text)
    for mention in without_aroma:
        yield Part(Said.NO_AROMA, mention.phrase, mention.text)
    for word in unknown:
        nearest = word.nearest[0].phrase if word.nearest else ""
        yield Part(Said.UNKNOWN, word.text, nearest)
