"""What of a bottle's smell its replacement keeps, loses and gains, note by note."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
# A note below this share of an aroma is not missed and not noticed (estimate).
NOTICED_SHARE: Final = 0.03
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


def note_changes(descriptors: tuple[str, ...], old: Vector, new: Vector) -> NoteChanges:
    """The loudest of each, compared as `likeness` compares them."""
    still = np.minimum(old, new)
    kept, same = old * still, new * still
    return NoteChanges(
        kept=_loudest(descriptors, kept),
        lost=_loudest(descriptors, old**2 - kept),
        gained=_loudest(descriptors, new**2 - same),
    )


def _loudest(descriptors: tuple[str, ...], shares: Vector) -> tuple[NoteShare, ...]:
    order = np.argsort(-shares, kind="stable")[:MOST_NAMED]
    return tuple(
        NoteShare(descriptors[i], float(shares[i])) for i in order if shares[i] >= NOTICED_SHARE
    )
