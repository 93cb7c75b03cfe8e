"""Swap and rescue: what replaces a bottle that ran out, and with which amounts."""

from service.recommend.swap.flags import Flag, FlagKind
from service.recommend.swap.likeness import (
    SWAP_WEIGHTS,
    LikenessPart,
    SwapKnowledge,
    SwapWeights,
    build_swap_knowledge,
)
from service.recommend.swap.notes import NoteChanges, NoteShare, note_clauses
from service.recommend.swap.noticed import Noticed
from service.recommend.swap.rescue import rescue
from service.recommend.swap.standins import StandIn, StandIns, stand_ins, times_poured
from service.recommend.swap.swaps import Change, Rescue, Swap
from service.recommend.swap.tolerance import TOLERANCES, Held, Measure, Tolerance

__all__ = [
    "SWAP_WEIGHTS",
    "TOLERANCES",
    "Change",
    "Flag",
    "FlagKind",
    "Held",
    "LikenessPart",
    "Measure",
    "NoteChanges",
    "NoteShare",
    "Noticed",
    "Rescue",
    "StandIn",
    "StandIns",
    "Swap",
    "SwapKnowledge",
    "SwapWeights",
    "Tolerance",
    "build_swap_knowledge",
    "note_clauses",
    "rescue",
    "stand_ins",
    "times_poured",
]
