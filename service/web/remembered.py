"""Answers already given: the same question to the same knowledge has the same answer."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Final

from service.counter.known import Known

MOST_ANSWERS: Final = 512


@dataclass(slots=True, eq=False)
class Remembered:
    """The last answers as bytes, by question; forgotten as soon as anything known changes."""

    known: Known | None = None
    answers: OrderedDict[bytes, bytes] = field(default_factory=OrderedDict)

    def answer(self, known: Known, question: bytes) -> bytes | None:
        """The answer given before, or None."""
        if known is not self.known:
            self.known = known
            self.answers.clear()
        found = self.answers.get(question)
        if found is not None:
            self.answers.move_to_end(question)
        return found

    def keep(self, known: Known, question: bytes, answer: bytes) -> None:
        """Keep one answer; the one least lately asked for goes."""
        if known is self.known:
            self.answers[question] = answer
            if len(self.answers) > MOST_ANSWERS:
                self.answers.popitem(last=False)
