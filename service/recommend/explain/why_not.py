"""Why not? What an ingredient lacks against the last one that was suggested."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Final

from service.aroma import Aroma
from service.kit import BadData
from service.recommend.affinity import Affinity, Part, parts_with_all
from service.recommend.explain.pairing_facts import Explaining
from service.recommend.explain.speech import Speech, listed
from service.recommend.explain.voice import Said
from service.recommend.rank import ranked_rows
from service.recommend.reasons import affinity
from service.recommend.weights import Weights

MOST_NOTES: Final = 3
PART_WORDS: Final = {
    Part.ECHO: "shared notes",
    Part.BRIDGE: "a third bottle between them",
    Part.CONTRAST: "kinds of notes that set each other off",
    Part.CUSTOM: "what people have long mixed",
}


@dataclass(frozen=True, slots=True)
class WhyNot:
    """An ingredient against the last suggestion.

    place : where it comes among the candidates, from 1; it is `suggested` where that is enough
    gaps : by part, how much the last suggestion has more
    lacks, has : notes that the last one shares with the coffee and this one does not, and back
    """

    ingredient: str
    candidate: bool
    suggested: bool
    place: int
    candidates: int
    affinity: Affinity
    last: Affinity
    gaps: dict[Part, float]
    lacks: tuple[str, ...]
    has: tuple[str, ...]
    said: tuple[Said, ...]

    @property
    def gap(self) -> float:
        return self.last.score - self.affinity.score


def why_not(
    known: Explaining,
    aroma: Aroma,
    ingredient: str,
    candidates: Collection[str],
    weights: Weights,
    limit: int = 10,
) -> WhyNot:
    """Where it comes, and what it would need; also for what is not among the candidates."""
    knowledge = known.knowledge
    if ingredient not in knowledge.space.index:
        raise BadData(f"{ingredient!r} is no bottle that could be suggested", field="ingredient")
    if not candidates:
        raise BadData("there is nothing to compare with; name some candidates", field="candidates")
    parts = parts_with_all(knowledge, aroma, weights)
    rows = ranked_rows(knowledge, parts, {*candidates, ingredient})
    row = knowledge.space.index[ingredient]
    place = rows.index(row) + 1
    others = [r for r in rows if r != row or ingredient in candidates]
    asked, last = (affinity(knowledge, aroma, parts, r, weights) for r in (row, others[:limit][-1]))
    ours, theirs = _shared(asked), _shared(last)
    found = WhyNot(
        ingredient=ingredient,
        candidate=ingredient in candidates,
        suggested=ingredient in candidates and place <= limit,
        place=place,
        candidates=len(rows),
        affinity=asked,
        last=last,
        gaps={part: last.parts[part] - asked.parts[part] for part in Part},
        lacks=tuple(note for note in theirs if note not in ours)[:MOST_NOTES],
        has=tuple(note for note in ours if note not in theirs)[:MOST_NOTES],
        said=(),
    )
    return replace(found, said=_said(found, known.speech))


def _shared(one: Affinity) -> list[str]:
    return [r.names[0] for r in one.reasons if r.part is Part.ECHO and r.names]


def _said(found: WhyNot, speech: Speech) -> tuple[Said, ...]:
    """In sentences; each names the fields of the answer that it rests on."""
    name, last = speech.name(found.ingredient), speech.name(found.last.b)
    place = f"{found.place} of {found.candidates}"
    if found.suggested:
        return (Said(f"It is suggested: the {name} comes {place}.", ("suggested", "place")),)
    if found.candidate:
        scores = f"it scores {found.affinity.score:.2f}, and the {last}, the last one suggested"
        text = f"The {name} comes {place}: {scores}, {found.last.score:.2f}."
        said = [Said(text, ("place", "affinity", "last"))]
    else:
        text = f"The {name} is not among the bottles asked for; it would have come {place}."
        said = [Said(text, ("candidate", "place"))]
    part = max(found.gaps, key=lambda p: found.gaps[p])
    if found.gaps[part] > 0:
        text = f"Most of the gap is in {PART_WORDS[part]} ({found.gaps[part]:.2f})."
        said.append(Said(text, (f"gaps.{part}",)))
    lacks = {note: word for note in found.lacks if (word := speech.notes.get(note, ""))}
    if lacks and found.gaps[Part.ECHO] > 0:
        words = listed(list(lacks.values())).replace(" and ", " or ")
        text = f"It has no {words} to share; the {last} has."
        said.append(Said(text, tuple(f"lacks.{note}" for note in lacks)))
    return tuple(said)
