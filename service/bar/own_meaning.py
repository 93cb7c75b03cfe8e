"""What the bar's own ingredients mean to the models: ingredients, notes and occurrences."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from statistics import median
from types import MappingProxyType
from typing import Final

from service.bar.own_ingredients import COMPOSITION, OwnIngredient
from service.ingredients import Catalogue
from service.ingredients.records import (
    Composition,
    Grade,
    Ingredient,
    Note,
    Occurrence,
    Role,
    Source,
)
from service.kit import Interval

OWN_SOURCE: Final = Source("own-word", "this bar's own word on its own ingredients", "", "")


@dataclass(frozen=True, slots=True)
class Meaning:
    """One own ingredient, as `Catalogue.extended` takes it."""

    ingredient: Ingredient
    notes: tuple[Note, ...]
    occurrences: tuple[Occurrence, ...]


def with_own_ingredients(catalogue: Catalogue, own: Iterable[OwnIngredient]) -> Catalogue:
    """The dataset with the bar's own ingredients beside it, and their source among the sources."""
    meanings = [meaning_of(each, catalogue) for each in own]
    if not meanings:
        return catalogue
    extended = catalogue.extended(
        (m.ingredient for m in meanings),
        (o for m in meanings for o in m.occurrences),
        (n for m in meanings for n in m.notes),
    )
    sources = {**catalogue.sources, OWN_SOURCE.id: OWN_SOURCE}
    return replace(extended, sources=MappingProxyType(sources))


def meaning_of(own: OwnIngredient, catalogue: Catalogue) -> Meaning:
    """What one of them is. Whatever it rests on, all of it is an estimate: nobody measured it."""
    like = catalogue.ingredient(own.like_id, field="like_id") if own.like_id else None
    holds = like.composition if like else usual_composition(catalogue, own.role, own.style)
    ingredient = Ingredient(
        id=own.id,
        name=own.name,
        role=own.role,
        style=own.style or (like.style if like else str(own.role)),
        composition=replace(holds, **own.composition),
        grade=Grade.ESTIMATE,
        sources=(OWN_SOURCE.id,),
        legal=like.legal if like else None,
        allergens=frozenset(own.allergens) | (like.allergens if like else frozenset()),
        cautions=like.cautions if like else frozenset(),
    )
    added = tuple(
        Note(own.id, descriptor, weight, Grade.ESTIMATE, OWN_SOURCE.id)
        for descriptor, weight in own.notes.items()
    )
    if like is None:
        return Meaning(ingredient, added, ())
    kept = _kept_notes(own, catalogue)
    return Meaning(ingredient, (*kept, *added), _kept_occurrences(own, catalogue))


def usual_composition(catalogue: Catalogue, role: Role, style: str) -> Composition:
    """What bottles of a style span, or of the role where the style is unknown: widest lows and
    highs, and the median of what is usual. An estimate for what nobody has read off a label."""
    role_mates = [i for i in catalogue.of_role(role) if i.sources != (OWN_SOURCE.id,)]
    mates = [i.composition for i in role_mates if i.style == style]
    mates = mates or [i.composition for i in role_mates]
    if not mates:
        return Composition(*(Interval.exactly(0.0),) * len(COMPOSITION))
    spans = {}
    for name in COMPOSITION:
        ranges: list[Interval] = [getattr(mate, name) for mate in mates]
        spans[name] = Interval(
            min(r.low for r in ranges), median(r.mid for r in ranges), max(r.high for r in ranges)
        )
    return Composition(**spans)


def _kept_notes(own: OwnIngredient, catalogue: Catalogue) -> tuple[Note, ...]:
    """The resembled one's notes, without those it lacks and those it gives a weight of its own."""
    replaced = {*own.without, *own.notes}
    return tuple(
        replace(n, subject=own.id, grade=Grade.ESTIMATE)
        for n in catalogue.ingredient_notes
        if n.subject == own.like_id and n.descriptor not in replaced
    )


def _kept_occurrences(own: OwnIngredient, catalogue: Catalogue) -> tuple[Occurrence, ...]:
    """Its odorants, without those that mainly smell of what this one lacks."""
    main = _main_descriptors(catalogue)
    return tuple(
        replace(o, ingredient=own.id, grade=Grade.ESTIMATE)
        for o in catalogue.occurrences
        if o.ingredient == own.like_id and main.get(o.odorant) not in own.without
    )


def _main_descriptors(catalogue: Catalogue) -> dict[str, str]:
    """Each odorant's strongest descriptor; the first in order of id where several are."""
    weights: defaultdict[str, dict[str, float]] = defaultdict(dict)
    for note in catalogue.odorant_notes:
        weights[note.subject][note.descriptor] = note.weight
    return {odorant: min(notes, key=lambda d: (-notes[d], d)) for odorant, notes in weights.items()}
