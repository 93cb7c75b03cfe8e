"""One set of facts, three lengths: what a guest, the staff and a doubter are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from service.aroma import Aroma
from service.drink import Drink, Reading
from service.recommend.affinity import Affinity
from service.recommend.explain.drink_facts import drink_facts
from service.recommend.explain.evidence import Evidence, evidence_of
from service.recommend.explain.facts import Facts
from service.recommend.explain.guest import guest_of_drink, guest_of_pairing
from service.recommend.explain.pairing_facts import Explaining, pairing_facts
from service.recommend.explain.speech import Speech
from service.recommend.explain.staff import staff_of_drink, staff_of_pairing
from service.recommend.explain.voice import Said, Voice

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Explanation:
    """Sentences with the ids of their facts, the evidence, and the facts themselves."""

    guest: tuple[Said, ...]
    staff: tuple[Said, ...]
    evidence: Evidence
    facts: Facts


def explain_pairing(
    known: Explaining, aroma: Aroma, affinity: Affinity, turn: int | None = None
) -> Explanation:
    """Why a coffee (or a bottle) and another bottle belong together.

    `aroma` is that of `affinity.a`. In a list give each its `turn`, so that neighbours differ.
    """
    pair = (affinity.a, affinity.b)
    voice = Voice.of(pair) if turn is None else Voice.in_list(affinity.a, turn)
    return pairing_said(pairing_facts(known, aroma, affinity), pair, known.speech, voice)


def explain_drink(
    known: Explaining,
    drink: Drink,
    reading: Reading,
    coffee: Aroma | None = None,
    affinities: Sequence[Affinity] = (),
    turn: int | None = None,
) -> Explanation:
    """A whole drink, with its reading before and after the coffee."""
    facts = drink_facts(known, drink, reading, coffee, affinities)
    pairs = [(affinity.a, affinity.b) for affinity in affinities]
    parts = [f"{p.ingredient.id}={p.volume_ml:g}" for p in drink.pours]
    voice = Voice.of([*parts, coffee.id if coffee else ""])
    if turn is not None:
        voice = Voice.in_list(coffee.id if coffee else "", turn)
    return drink_said(facts, pairs, known.speech, voice)


def pairing_said(facts: Facts, pair: Pair, speech: Speech, voice: Voice) -> Explanation:
    """The three lengths of one pairing from its facts alone."""
    guest = guest_of_pairing(facts, pair, speech, voice)
    staff = staff_of_pairing(facts, pair, speech, voice, guest)
    return Explanation(guest, staff, evidence_of(facts, [pair]), facts)


def drink_said(facts: Facts, pairs: Sequence[Pair], speech: Speech, voice: Voice) -> Explanation:
    """The three lengths of one drink from its facts alone."""
    guest = guest_of_drink(facts, pairs, speech, voice)
    staff = staff_of_drink(facts, pairs, speech, voice, guest)
    return Explanation(guest, staff, evidence_of(facts, pairs), facts)
