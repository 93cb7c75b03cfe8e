"""The run-out sweep: a bottle is out; every spec that pours it, with its ways out, best first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from service.bar import (
    BarSpec,
    SpecStatus,
    Substitution,
    Unit,
    list_specs,
    specs_pouring,
    substitutions_of,
)
from service.counter.house_drinks import coffee_of, made_of, measure_of
from service.counter.house_known import House
from service.counter.measure import drink_of
from service.counter.swap import knowledge_of
from service.counter.this_bar import ThisBar
from service.ingredients.records import SpecPour
from service.kit import ServiceError
from service.recommend.swap import Rescue, StandIns, Swap, rescue, stand_ins

WAYS: Final = 5
_SHOWN_WITHOUT_SPEC: Final = 8


@dataclass(frozen=True, slots=True, eq=False)
class SpecOut:
    """A spec that cannot be made as it is written.

    rescue : its ways out; None where `trouble` says why there are none
    tonight : what was accepted for it already
    """

    spec: BarSpec
    rescue: Rescue | None
    trouble: str
    tonight: Substitution | None


@dataclass(frozen=True, slots=True, eq=False)
class RunOut:
    """One ingredient that is out: the specs that suffer, and what stands in for it anyway."""

    ingredient: str
    specs: tuple[SpecOut, ...]
    stand_ins: StandIns


def run_out(unit: Unit, bar: ThisBar, ingredient_id: str, spec_id: int | None = None) -> RunOut:
    """Everything that a missing bottle means tonight; of one spec only, whatever its status,
    where that is named."""
    suffering = specs_pouring(unit, ingredient_id, None if spec_id is not None else _LISTED)
    house = bar.house
    accepted = {each.spec_id: each for each in substitutions_of(unit, house.night)}
    shelf = house.standing - {ingredient_id}
    return RunOut(
        ingredient_id,
        tuple(
            _spec_out(bar, spec, ingredient_id, accepted.get(spec.id))
            for spec in suffering
            if spec_id in (None, spec.id)
        ),
        stand_ins(knowledge_of(house.known), ingredient_id, shelf=shelf, limit=_SHOWN_WITHOUT_SPEC),
    )


def harm_of(unit: Unit) -> dict[str, tuple[str, ...]]:
    """For each ingredient, the names of the listed specs that pour it."""
    found: dict[str, tuple[str, ...]] = {}
    for spec in list_specs(unit, _LISTED):
        for pour in spec.pours:
            found[pour.ingredient] = (*found.get(pour.ingredient, ()), spec.name)
    return found


def ways_out(answer: Rescue) -> tuple[Swap, ...]:
    """One bottle or two, the best first."""
    every = sorted((*answer.swaps, *answer.twos), key=lambda way: -round(way.score, 12))
    return tuple(every[:WAYS])


def pours_of(way: Swap) -> tuple[SpecPour, ...]:
    """What is poured when a way out is taken."""
    return tuple(SpecPour(p.ingredient.id, p.volume_ml) for p in way.drink.pours)


_LISTED: Final = SpecStatus.LISTED


def _spec_out(
    bar: ThisBar, spec: BarSpec, ingredient_id: str, accepted: Substitution | None
) -> SpecOut:
    house, known = bar.house, bar.lessons.known(spec.coffee_id)
    fits = accepted if accepted is not None and accepted.revision == spec.revision else None
    if not made_of(house.known, spec):
        return SpecOut(spec, None, "it pours something that is not known any more", fits)
    kept = next((coffee for coffee in bar.coffees if coffee.id == spec.coffee_id), None)
    asked = measure_of(spec, coffee_of(spec, kept), house.settings.country)
    try:
        answer = rescue(
            knowledge_of(known),
            known.band,
            drink_of(known, asked),
            ingredient_id,
            shelf=house.standing - {ingredient_id},
            limit=WAYS,
            lattice=house.lattice,
            priors=known.priors,
        )
    except ServiceError as error:
        return SpecOut(spec, None, error.message, fits)
    return SpecOut(spec, answer, "", fits)


def names_out(house: House, specs: Sequence[BarSpec]) -> dict[int, tuple[str, ...]]:
    """Per spec, the ids of what it pours and of which every bottle is out."""
    gone = house.lacking
    return {s.id: tuple(p.ingredient for p in s.pours if p.ingredient in gone) for s in specs}
