"""The facts of one pairing: every contribution to its score, and what each rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from service.aroma import COFFEE, Aroma, AromaSpace, ingredient_aroma
from service.ingredients import Catalogue
from service.recommend.affinity import Affinity, Knowledge, Part, Reason
from service.recommend.explain.facts import Fact, FactKind, Facts
from service.recommend.explain.speech import Speech, build_speech
from service.recommend.explain.support import EvidenceIndex, Support, build_index, supports

# How custom is attested where a written drink pours both.
A_DRINK: Final = "a drink"
MOST_OWN_NOTES: Final = 4
# The strongest shared notes get a path through the graph.
MOST_PATHS: Final = 3
KINDS: Final = {
    Part.ECHO: FactKind.ECHO,
    Part.BRIDGE: FactKind.BRIDGE,
    Part.CONTRAST: FactKind.CONTRAST,
    Part.CUSTOM: FactKind.CUSTOM,
}


@dataclass(frozen=True, slots=True, eq=False)
class Explaining:
    """All that an explanation needs, built once."""

    catalogue: Catalogue
    knowledge: Knowledge
    speech: Speech
    index: EvidenceIndex


def build_explaining(catalogue: Catalogue, knowledge: Knowledge) -> Explaining:
    """Words and look-ups of a catalogue."""
    return Explaining(catalogue, knowledge, build_speech(catalogue), build_index(catalogue))


def pairing_facts(known: Explaining, aroma: Aroma, affinity: Affinity) -> Facts:
    """Everything that is known of one affinity; the contributions sum to the score."""
    pair = (affinity.a, affinity.b)
    other = ingredient_aroma(known.knowledge.space, affinity.b)
    echoes = [r for r in affinity.reasons if r.part is Part.ECHO and r.names]
    rests_on = {
        r.names[0]: (
            supports(known.index, known.knowledge.space, aroma, r.names[0]),
            supports(known.index, known.knowledge.space, other, r.names[0]),
        )
        for r in echoes
    }
    return Facts.gathered(
        [
            _fact(pair, "score", FactKind.SCORE, (), affinity.score),
            _fact(pair, "confidence", FactKind.CONFIDENCE, (), affinity.confidence),
        ],
        (_fact(pair, f"part:{p}", FactKind.PART, (str(p),), v) for p, v in affinity.parts.items()),
        (_contribution(known, pair, reason, rests_on) for reason in affinity.reasons),
        (
            path
            for reason in echoes[:MOST_PATHS]
            for path in _paths(pair, reason.names[0], *rests_on[reason.names[0]])
        ),
        loudest(known.knowledge.space, aroma),
        loudest(known.knowledge.space, other),
        bottle_facts(known, [affinity.b]),
    )


def loudest(space: AromaSpace, aroma: Aroma) -> Iterator[Fact]:
    """The loudest notes of one thing, with their share of its aroma."""
    shares = aroma.notes**2
    for place in np.argsort(-shares, kind="stable")[:MOST_OWN_NOTES]:
        if shares[place] > 0:
            about = (aroma.id, space.descriptors[place])
            yield Fact(f"note:{':'.join(about)}", FactKind.NOTE, about, float(shares[place]))


def bottle_facts(known: Explaining, ids: list[str]) -> Iterator[Fact]:
    """What must be said of bottles: allergens and cautions, each naming all that bring it."""
    bottles = [known.catalogue.ingredients[name] for name in ids]
    for kind in (FactKind.ALLERGEN, FactKind.CAUTION):
        bring: dict[str, list[str]] = {}
        for bottle in bottles:
            for code in sorted(bottle.allergens if kind is FactKind.ALLERGEN else bottle.cautions):
                bring.setdefault(code, []).append(bottle.id)
        for code, who in bring.items():
            yield Fact(f"{kind}:{code}", kind, (code, *dict.fromkeys(who)))


def _contribution(
    known: Explaining,
    pair: tuple[str, str],
    reason: Reason,
    rests_on: dict[str, tuple[tuple[Support, ...], tuple[Support, ...]]],
) -> Fact:
    if not reason.names:
        part = str(reason.part)
        return _fact(pair, f"rest:{part}", FactKind.REST, (part,), reason.amount)
    both = [one for side in rests_on.get(reason.names[0], ()) for one in side]
    words, sources = "", [source for one in both for source in one.sources]
    if reason.part is Part.CUSTOM:
        words, sources = attestation(known.index, *reason.names)
    return Fact(
        id=f"{'+'.join(pair)}:{reason.part}:{'+'.join(reason.names)}",
        kind=KINDS[reason.part],
        about=(*pair, *reason.names),
        value=reason.amount,
        words=words,
        grades=tuple(dict.fromkeys(one.grade for one in both)),
        sources=tuple(dict.fromkeys(sources)),
    )


def attestation(index: EvidenceIndex, a: str, b: str) -> tuple[str, list[str]]:
    """How a pair is attested: `a drink`, or the food that is put with coffee; and by whom."""
    one, other = sorted((a, b))
    drinks = list(index.drinks.get((one, other), ()))
    bottle = {a: b, b: a}.get(COFFEE, "")
    foods = index.foods.get(bottle, ())
    sources = [*drinks, *(source for _, source in foods)]
    if drinks:
        return A_DRINK, sources
    return min((food for food, _ in foods), key=lambda f: (f.count(" "), f), default=""), sources


def _paths(
    pair: tuple[str, str], descriptor: str, left: tuple[Support, ...], right: tuple[Support, ...]
) -> Iterator[Fact]:
    """The strongest way from one to the other over this note: odorant, note, odorant."""
    ours = max((s for s in left if s.odorant), key=lambda s: s.strength, default=None)
    theirs = max((s for s in right if s.odorant), key=lambda s: s.strength, default=None)
    if ours is None or theirs is None:
        return
    same = ours.odorant == theirs.odorant
    middle = (ours.odorant,) if same else (ours.odorant, descriptor, theirs.odorant)
    strength = ours.intensity * theirs.intensity if same else ours.strength * theirs.strength
    yield Fact(
        id=f"{'+'.join(pair)}:path:{'+'.join(middle)}",
        kind=FactKind.PATH,
        about=(pair[0], *middle, pair[1]),
        value=strength,
        grades=tuple(dict.fromkeys((ours.grade, theirs.grade))),
        sources=tuple(dict.fromkeys((*ours.sources, *theirs.sources))),
    )


def _fact(
    pair: tuple[str, str], name: str, kind: FactKind, about: tuple[str, ...], value: float
) -> Fact:
    return Fact(f"{'+'.join(pair)}:{name}", kind, (*pair, *about), value)
