"""Rescue at the counter: what is out, and what to pour instead."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from service.bed import Bed
from service.counter.known import Known
from service.counter.measure import poured
from service.counter.naming import Lines
from service.drink import Drink
from service.drink.lattice import FIVE_ML, Lattice
from service.ingredients import Catalogue, plain
from service.ingredients.records import Ingredient, Role
from service.kit import BadData, NotFound
from service.kit.units import Amount, parse_amount
from service.liquid import Preparation, Stirring
from service.recommend import Knowledge
from service.recommend.swap import (
    Rescue,
    StandIns,
    SwapKnowledge,
    build_swap_knowledge,
    rescue,
    stand_ins,
    times_poured,
)

# What a bartender says before the name of what is gone.
_OUT_OF: Final = re.compile(
    r"^(?:we(?: are| re)? )?(?:fresh )?(?:all )?(?:out of|ran out of|run out of|no more|no|86)? ?"
    r"(?:the |any |our )?"
)
_LINES: Final = re.compile(r"[,;\n]+")
_INLINE: Final = re.compile(
    r"(?P<name>[^=]+?)\s*=\s*(?P<amount>(?:\d+\s+)?(?:\d+/\d+|\d*[.,]?\d+)\s*(?P<unit>[a-zA-Z]*))"
)


@dataclass(frozen=True, slots=True)
class SwapQuestion:
    """What is out, from which shelf to replace it (ids or names; None: everything), and in which
    drink, if any. `avoid` are allergens that nothing new may hold; `lattice` is what can be
    measured (None: steps of 5 mL)."""

    ingredient: str
    pours: Lines = ()
    shelf: Sequence[str] | None = None
    limit: int = 10
    avoid: frozenset[str] = frozenset()
    bed: Bed | None = field(default_factory=Bed)
    preparation: Preparation = field(default_factory=Stirring)
    lattice: Lattice | None = None


def swap(known: Known, question: SwapQuestion) -> StandIns | Rescue:
    """Ranked replacements; with a drink, each with new amounts of everything that must move."""
    missing = bottle_named(known, question.ingredient)
    shelf = None
    if question.shelf is not None:
        shelf = [known.names.find(name, field="shelf").id for name in question.shelf]
    replacing = knowledge_of(known)
    if not question.pours:
        return stand_ins(
            replacing, missing.id, shelf=shelf, limit=question.limit, avoid=question.avoid
        )
    return rescue(
        replacing,
        known.band,
        Drink(poured(known, question.pours), preparation=question.preparation, bed=question.bed),
        missing.id,
        shelf=shelf,
        limit=question.limit,
        lattice=question.lattice or FIVE_ML,
        avoid=question.avoid,
        priors=known.priors,
    )


def knowledge_of(known: Known) -> SwapKnowledge:
    """What a swap needs, built once for each catalogue."""
    return _knowledge_of(known.catalogue, known.knowledge)


@lru_cache(maxsize=4)
def _knowledge_of(catalogue: Catalogue, knowledge: Knowledge) -> SwapKnowledge:
    return build_swap_knowledge(catalogue, knowledge)


def bottle_named(known: Known, text: str) -> Ingredient:
    """The bottle meant: an id, a name, a trade word, or a whole style ("out of sherry").

    A style stands for its member that specifications pour most.
    """
    wanted = _OUT_OF.sub("", plain(text)) or plain(text)
    for said in dict.fromkeys((plain(text), wanted)):
        if said in known.names.names:
            return known.names.names[said]
    replacing = knowledge_of(known)
    of_style = [
        i
        for i in known.catalogue.ingredients.values()
        if i.role is not Role.COFFEE and wanted in (plain(i.style), f"{plain(i.style)}s")
    ]
    if of_style:
        return max(of_style, key=lambda i: (times_poured(replacing, i.id), i.id))
    return known.names.find(text, field="ingredient")


def pours_of_text(text: str) -> list[tuple[str, Amount]]:
    """A spec as it is written down: `bourbon=45ml, sweet-vermouth=30ml`, or a line for each.

    >>> pours_of_text("bourbon=45ml aromatic bitters=2 dashes")
    [('bourbon', 45.0), ('aromatic bitters', 1.6)]
    """
    pours = []
    for part in (part.strip() for part in _LINES.split(text)):
        if not part:
            continue
        found = list(_INLINE.finditer(part))
        if not found or found[-1].end() != len(part) or found[0].start() != 0:
            raise BadData(f"{part[:80]!r} is no pour; write it like bourbon=45ml", field="spec")
        pours += [(m["name"].strip(), parse_amount(m["amount"], field="spec")) for m in found]
    if not pours:
        raise NotFound("the spec holds no pours; write them like bourbon=45ml", field="spec")
    return pours
