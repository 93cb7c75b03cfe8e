"""A small grammar: sentences from templates, varied but always the same for the same drink."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final
from zlib import crc32

from service.recommend.explain.facts import Fact
from service.recommend.explain.speech import is_plural, plainness

# A guest's sentence asks for no more than this school grade where any way to say it allows.
PLAIN_GRADE: Final = 7.4
# Verbs that templates may use, with a singular and a plural subject.
VERBS: Final = {
    "has": "have",
    "brings": "bring",
    "picks": "pick",
    "does": "do",
    "adds": "add",
    "answers": "answer",
    "sets": "set",
    "is": "are",
    "smells": "smell",
}


@dataclass(frozen=True, slots=True)
class Said:
    """One sentence and the ids of the facts it rests on."""

    text: str
    facts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Voice:
    """Which of the ways to say a thing is taken.

    `seed` comes from what is spoken of; in a list `turn` is the place, so that neighbours differ.
    """

    seed: int
    turn: int = 0

    @classmethod
    def of(cls, ids: Iterable[str], turn: int = 0) -> Voice:
        """The voice of a thing made of these parts, in whatever order."""
        return cls(crc32(" ".join(sorted(ids)).encode()), turn)

    @classmethod
    def in_list(cls, list_name: str, turn: int) -> Voice:
        """The voice at one place of a list: neighbours never take the same way."""
        return cls(crc32(list_name.encode()), turn)

    def choose(self, ways: Sequence[str]) -> str:
        return ways[(self.seed + self.turn) % len(ways)]


def say(voice: Voice, ways: Sequence[str], facts: Iterable[Fact | None], **slots: str) -> Said:
    """A sentence in one of these ways, resting on the facts.

    >>> say(Voice(0), ["{name} {adds} {note}."], [], name="orange bitters", note="oak").text
    'Orange bitters add oak.'
    """
    return Said(_filled(voice.choose(ways), slots), _ids(facts))


def say_plainly(
    voice: Voice, ways: Sequence[str], facts: Iterable[Fact | None], **slots: str
) -> Said:
    """The same for a guest: where long names make one way hard to follow, the next way is taken."""
    start = voice.seed + voice.turn
    texts = [_filled(ways[(start + step) % len(ways)], slots) for step in range(len(ways))]
    plain = next((text for text in texts if plainness(text) <= PLAIN_GRADE), None)
    return Said(plain or min(texts, key=plainness), _ids(facts))


def _filled(way: str, slots: Mapping[str, str]) -> str:
    plural = is_plural(slots.get("name", ""))
    verbs = {verb: many if plural else verb for verb, many in VERBS.items()}
    text = way.format(**verbs, **slots)
    return text[:1].upper() + text[1:]


def _ids(facts: Iterable[Fact | None]) -> tuple[str, ...]:
    return tuple(fact.id for fact in facts if fact is not None)
