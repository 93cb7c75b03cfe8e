"""One line of why for each suggestion of a ranked list. Short and fast: no look at the dataset."""

from __future__ import annotations

from typing import Final

from service.recommend.affinity import Affinity, Part
from service.recommend.explain.speech import COFFEE, Speech

# A part is named when it brings at least this share of the score (estimate).
WORTH_NAMING: Final = 0.2
MOST_NOTES: Final = 2


def why_line(affinity: Affinity, names: Speech) -> str:
    """Such as: `shares dark chocolate and caramel; an old pair`.

    At most two clauses, the part that carries most first; a bridge, a contrast or a custom is
    named by its strongest reason.
    """
    least = WORTH_NAMING * affinity.score
    clauses: list[str] = []
    notes: list[str] = []
    place = 0
    told = set()
    for reason in affinity.reasons:
        part = reason.part
        if part is Part.ECHO:
            if len(notes) < MOST_NOTES and reason.names and affinity.parts[part] >= least:
                word = names.notes.get(reason.names[0], "")
                if word and word not in notes:
                    if not notes:
                        place = len(clauses)
                    notes.append(word)
        elif part not in told and reason.names and affinity.parts[part] >= least:
            told.add(part)
            clauses.append(_clause(affinity, part, reason.names, names))
    if notes:
        clauses.insert(place, f"shares {' and '.join(notes)}")
    return "; ".join([clause for clause in clauses if clause][:2]) or "little is known of the two"


def _clause(affinity: Affinity, part: Part, about: tuple[str, ...], names: Speech) -> str:
    if part is Part.BRIDGE:
        return f"meets it by way of {names.name(about[0])}"
    if part is Part.CONTRAST:
        ours, theirs = names.families.get(about[0], ""), names.families.get(about[1], "")
        return f"sets {theirs} against {ours}" if ours and theirs and ours != theirs else ""
    if about[1] == affinity.b and (about[0] in (affinity.a, COFFEE)):
        return "an old pair"
    return f"close to an old pair: {names.name(about[0])} with {names.name(about[1])}"
