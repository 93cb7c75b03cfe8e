"""Explain: the same facts for a guest, for staff and for whoever doubts them."""

from service.recommend.explain.differences import TasteDifference, taste_difference
from service.recommend.explain.drink_facts import drink_facts
from service.recommend.explain.evidence import Evidence, PairEvidence
from service.recommend.explain.explanation import (
    Explanation,
    drink_said,
    explain_drink,
    explain_pairing,
    pairing_said,
)
from service.recommend.explain.facts import Fact, FactKind, Facts
from service.recommend.explain.pairing_facts import Explaining, build_explaining, pairing_facts
from service.recommend.explain.speech import Speech, build_speech, listed, spoken_note
from service.recommend.explain.voice import Said, Voice
from service.recommend.explain.what_if import Difference, LineChange, WhatIf, what_if
from service.recommend.explain.why import why_line
from service.recommend.explain.why_not import WhyNot, why_not

__all__ = [
    "Difference",
    "Evidence",
    "Explaining",
    "Explanation",
    "Fact",
    "FactKind",
    "Facts",
    "LineChange",
    "PairEvidence",
    "Said",
    "Speech",
    "TasteDifference",
    "Voice",
    "WhatIf",
    "WhyNot",
    "build_explaining",
    "build_speech",
    "drink_facts",
    "drink_said",
    "explain_drink",
    "explain_pairing",
    "listed",
    "pairing_facts",
    "pairing_said",
    "spoken_note",
    "taste_difference",
    "what_if",
    "why_line",
    "why_not",
]
