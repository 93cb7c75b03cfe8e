"""What of a bottle's smell its replacement keeps, loses and gains, note by note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.recommend.explain.speech import listed, spoken_note

Vector = NDArray[np.float64]
# A note below this share of an aroma is not missed and not noticed (estimate).
NOTICED_SHARE: Final = 0.03
# A note leaves where it is less than this loud against before, and enters where it was less than
# this loud against now (estimate). So no note is both kept and lost, or kept and new.
STILL_THERE: Final = 0.5
MOST_NAMED: Final = 4


@dataclass(frozen=True, slots=True)
class NoteShare:
    """A note and its share of the aroma that it was, or is, part of."""

    descriptor: str
    share: float


@dataclass(frozen=True, slots=True)
class NoteChanges:
    """Notes kept and lost, as shares of the old aroma; gained, as shares of the new one."""

    kept: tuple[NoteShare, ...]
    lost: tuple[NoteShare, ...]
    gained: tuple[NoteShare, ...]


def note_clauses(
    *,
    kept: Sequence[NoteShare] = (),
    lost: Sequence[NoteShare] = (),
    gained: Sequence[NoteShare] = (),
) -> list[str]:
    """What there is to say of notes, each where there are any.

    >>> note_clauses(lost=[NoteShare("oak", 0.2), NoteShare("aniseed", 0.1)])
    ['loses oak and anise']
    """
    verbs = (("keeps", kept), ("loses", lost), ("adds", gained))
    return [
        f"{verb} {listed([spoken_note(note.descriptor) for note in notes])}"
        for verb, notes in verbs
        if notes
    ]


def note_changes(descriptors: tuple[str, ...], old: Vector, new: Vector) -> NoteChanges:
    """The loudest of each; a share is what is kept, lost or gained of a note, as in `likeness`."""
    still = np.minimum(old, new)
    kept, same = old * still, new * still
    leaves, enters = still < STILL_THERE * old, still < STILL_THERE * new
    return NoteChanges(
        kept=_loudest(descriptors, kept * ~(leaves | enters)),
        lost=_loudest(descriptors, (old**2 - kept) * leaves),
        gained=_loudest(descriptors, (new**2 - same) * enters),
    )


def _loudest(descriptors: tuple[str, ...], shares: Vector) -> tuple[NoteShare, ...]:
    order = np.argsort(-shares, kind="stable")[:MOST_NAMED]
    return tuple(
        NoteShare(descriptors[i], float(shares[i])) for i in order if shares[i] >= NOTICED_SHARE
    )
