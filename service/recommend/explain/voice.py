"""A small grammar: sentences from templates, varied but always the same for the same drink."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final
from zlib import crc32

from service.recommend.explain.facts import Fact
from service.recommend.explain.speech import is_plural

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
    name = slots.get("name", "")
    plural = is_plural(name)
    verbs = {verb: many if plural else verb for verb, many in VERBS.items()}
    text = voice.choose(ways).format(**verbs, **slots)
    return Said(text[:1].upper() + text[1:], tuple(fact.id for fact in facts if fact is not None))
