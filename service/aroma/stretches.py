"""Notes cut into stretches of words: a known phrase, a negation, a word of intensity, the rest."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto

from service.aroma.prose import (
    AND,
    ASIDES,
    BREAKERS,
    FILLERS,
    INTENSITIES,
    LABELS,
    LONGEST_CUE,
    NEGATORS,
    OR,
    PROSE,
)
from service.aroma.vocabulary import Entry, Found, How, Vocabulary
from service.aroma.word_forms import WORD, plain

_LONGEST_PHRASE = 8

_BLOCK_TAG = re.compile(r"</?(?:br|p|li|ul|ol|div|tr|td|th|h[1-6])\b[^<>]*>", re.IGNORECASE)
_GARBAGE = re.compile(
    r"<(script|style)\b[^<>]*>.*?</\1\s*>|<!--.*?-->|</?[a-z][^<>]*>|&(?:[a-z]+|#\w+);"
    r"|https?://\S+|www\.\S+|[\w.+-]{1,64}@[\w-]+\.[\w.-]+",
    re.IGNORECASE | re.DOTALL,
)
_WITHOUT = re.compile(r"\bw/o\b", re.IGNORECASE)
_FULL_STOP = re.compile(r"[.!?;|•·‣…。；！？—]|--|\s[-–−]+\s")
_COMMA = re.compile("[,\n\r\t()\\[\\]{}<>=~^，、→\u2028\u2029]")


class Gap(Enum):
    """What stands between two words."""

    JOINED = auto()
    SLASH = auto()
    AMPERSAND = auto()
    COMMA = auto()
    COLON = auto()
    FULL_STOP = auto()


class Kind(Enum):
    """What a stretch of words does."""

    NOTE = auto()
    NEGATION = auto()
    INTENSITY = auto()
    AND = auto()
    OR = auto()
    BREAKER = auto()
    FILLER = auto()
    PROSE = auto()
    UNKNOWN = auto()


@dataclass(frozen=True, slots=True)
class Token:
    """One word of the text and where it stands."""

    word: str  # plain, and corrected where it was misspelled
    start: int
    end: int
    gap: Gap  # before it
    similarity: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """Some words that belong together, and what they do."""

    kind: Kind
    start: int  # first token
    end: int  # after the last token
    gap: Gap
    words: str = ""
    entry: Entry | None = None
    how: How = How.EXACT
    factor: float = 1.0
    negated: bool = False


def _without_garbage(text: str) -> str:
    """The text with tags, entities and addresses blanked out, each letter still in its place."""
    if "<" in text:
        text = _BLOCK_TAG.sub(lambda found: "," + " " * (len(found[0]) - 1), text)
    text = _WITHOUT.sub("non", text.replace("&amp;", "&    "))
    return _GARBAGE.sub(lambda found: " " * len(found[0]), text)


def _gap(between: str) -> Gap:
    if between == " " or not between:
        return Gap.JOINED
    if _FULL_STOP.search(between):
        return Gap.FULL_STOP
    if ":" in between:
        return Gap.COLON
    if _COMMA.search(between):
        return Gap.COMMA
    if not between.isascii() and any(unicodedata.category(sign) == "So" for sign in between):
        return Gap.COMMA  # an emoji parts like a comma
    if "/" in between or "\\" in between:
        return Gap.SLASH
    return Gap.AMPERSAND if "&" in between or "+" in between else Gap.JOINED


def tokens_of(text: str, vocabulary: Vocabulary) -> Iterator[Token]:
    """The words of the notes in plain form, misspelled ones corrected."""
    bare = _without_garbage(text)
    end = 0
    for found in WORD.finditer(bare):
        word = plain(found[0])
        if not word:
            continue
        near = None if vocabulary.knows_word(word) else vocabulary.corrected(word)
        gap = _gap(bare[end : found.start()])
        end = found.end()
        if near:
            yield Token(near.phrase, found.start(), end, gap, near.similarity)
        else:
            yield Token(word, found.start(), end, gap, 1.0)


def stretches_of(tokens: Sequence[Token], vocabulary: Vocabulary) -> Iterator[Stretch]:
    """Each word in one stretch, the longest first; a note wins over ordinary words only."""
    at = 0
    while at < len(tokens):
        words = _window(tokens, at)
        stretch = _cue(words) or Stretch(_small_word(words[0]), 0, 1, Gap.JOINED)
        note = _note(words, vocabulary)
        longer = note is not None and note.words > stretch.end
        if note and (longer or stretch.kind in {Kind.PROSE, Kind.UNKNOWN}):
            stretch = Stretch(Kind.NOTE, 0, note.words, Gap.JOINED, "", note.entry, note.how)
        end = at + stretch.end
        yield replace(stretch, start=at, end=end, gap=tokens[at].gap)
        at = end


def _window(tokens: Sequence[Token], at: int) -> list[str]:
    words = [tokens[at].word]
    for token in tokens[at + 1 : at + _LONGEST_PHRASE]:
        label = token.gap is Gap.COLON and words[-1] in LABELS
        if token.gap is not Gap.JOINED and not label:
            break
        words.append(token.word)
    return words


def _note(words: Sequence[str], vocabulary: Vocabulary) -> Found | None:
    """The known phrase here, or a modifier with the note that it joins.

    A known phrase that starts with the modifier goes first ("dark chocolate" in "dark chocolate
    orange"), unless it means no more than its words and a longer phrase follows the modifier
    ("sweet" and "orange blossom" in "sweet orange blossom").
    """
    found = vocabulary.find(words)
    modifier = vocabulary.find_modifier(words)
    if modifier is None:
        return found
    joined = _with_noun(modifier, words, vocabulary)
    if found and found.words > modifier.words:
        own = _with_noun(modifier, words[: found.words], vocabulary)
        says_no_more = own is not None and own.entry.descriptors == found.entry.descriptors
        longer = joined is not None and joined.words > found.words
        return joined if says_no_more and longer else found
    bare = Entry(modifier.entry.phrase.removesuffix(" *"), ())
    return joined or found or Found(bare, modifier.words, modifier.how)


def _with_noun(modifier: Found, words: Sequence[str], vocabulary: Vocabulary) -> Found | None:
    noun = _note(words[modifier.words :], vocabulary) if modifier.words < len(words) else None
    if noun is None or not noun.entry.descriptors:
        return None
    count = modifier.words + noun.words
    return Found(_joined(modifier.entry, noun.entry), count, _looser(modifier.how, noun.how))


def _joined(modifier: Entry, noun: Entry) -> Entry:
    weights = dict(noun.descriptors)
    for id, weight in modifier.descriptors:
        weights[id] = min(1.0, weights.get(id, 0.0) + weight)
    phrase = modifier.phrase.replace("*", noun.phrase)
    return Entry(phrase, tuple(sorted(weights.items(), key=lambda pair: (-pair[1], pair[0]))))


def _looser(one: How, other: How) -> How:
    order = list(How)
    return max(one, other, key=order.index)


def _cue(words: Sequence[str]) -> Stretch | None:
    """The longest negation or word of intensity at the start of these words."""
    for count in range(min(LONGEST_CUE, len(words)), 0, -1):
        cue = " ".join(words[:count])
        if cue in ASIDES:
            return Stretch(Kind.FILLER, 0, count, Gap.JOINED, cue)
        if cue in NEGATORS:
            return Stretch(Kind.NEGATION, 0, count, Gap.JOINED, cue)
        singular = cue if cue in INTENSITIES else _singular(words[:count])
        if singular in INTENSITIES:
            factor = INTENSITIES[singular]
            return Stretch(Kind.INTENSITY, 0, count, Gap.JOINED, singular, factor=factor)
    return None


def _singular(words: Sequence[str]) -> str:
    """A cue with its first word in the singular: "hints of" is read as "hint of"."""
    return " ".join((words[0].removesuffix("s"), *words[1:]))


def _small_word(word: str) -> Kind:
    if word in AND:
        return Kind.AND
    if word in OR:
        return Kind.OR
    if word in BREAKERS:
        return Kind.BREAKER
    if word in FILLERS or len(word) == 1:
        return Kind.FILLER
    return Kind.PROSE if word in PROSE else Kind.UNKNOWN
