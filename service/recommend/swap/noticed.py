"""What a guest will notice after a swap: notes lost and gained in the drink, and its taste."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.drink import State
from service.recommend.explain.differences import TasteDifference, taste_difference
from service.recommend.swap.notes import STILL_THERE, NoteShare, note_changes

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Noticed:
    """Notes that leave the drink and notes that enter it, and how it tastes against before.

    A note is neither lost nor new where another bottle of the drink still has it.
    """

    lost: tuple[NoteShare, ...]
    gained: tuple[NoteShare, ...]
    taste: TasteDifference


def noticed(
    descriptors: tuple[str, ...],
    notes: tuple[Vector, Vector],
    others: Vector,
    states: tuple[State, State],
) -> Noticed:
    """From the old and the new notes, those of the drink's other bottles (rows), and the glass."""
    old, new = notes
    changes = note_changes(descriptors, old, new)
    loudest = others.max(axis=0) if others.size else np.zeros(len(descriptors))
    shares = dict(zip(descriptors, (loudest**2).tolist(), strict=True))
    return Noticed(
        lost=_alone(changes.lost, shares),
        gained=_alone(changes.gained, shares),
        taste=taste_difference(*states),
    )


def _alone(changed: tuple[NoteShare, ...], others: dict[str, float]) -> tuple[NoteShare, ...]:
    return tuple(n for n in changed if others[n.descriptor] < STILL_THERE * n.share)
