"""A spec of the bar as a batch, and what its list needs from the shop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from service.bar import BarSpec
from service.bed import scale_up
from service.counter.batch import Batch, Need, Part, batch, need
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked
from service.counter.measure import drink_of
from service.drink import mixed
from service.ingredients.records import Role
from service.liquid import Liquid, prepare, volume_ml

# Below this strength a bottle spoils once it is open (fortified wine and the like): common
# practice, no source.
KEEPS_FROM_ABV = 0.22


@dataclass(frozen=True, slots=True, eq=False)
class SpecBatch:
    """A batch with what it was reckoned from.

    stirred_ml, glass_ml : of one serve as the spec is, before and after the coffee
    wanted_ml : what each glass shall get
    spoils : ids of what does not keep
    """

    batch: Batch
    stirred_ml: float
    glass_ml: float
    wanted_ml: float
    ethanol_g: float
    spoils: tuple[str, ...]


def batch_of(house: House, asked: SpecAsked, serves: int, wanted_ml: float | None) -> SpecBatch:
    """A spec for many serves; each glass gets `wanted_ml`, or what was stirred: the bed's loss
    is made up."""
    drink = drink_of(asked.known, asked.asked)
    ready = prepare(mixed(drink), asked.asked.preparation)
    stirred_ml = float(volume_ml(ready.liquid))
    reading = asked.measured().reading
    glass_ml = reading.after.volume_ml.mid
    wanted = stirred_ml if wanted_ml is None else wanted_ml
    bed = asked.asked.bed
    factor = wanted / glass_ml
    if bed is not None:
        factor = scale_up(
            bed, volume_ml=stirred_ml, wanted_ml=wanted, dose="scaled", priors=asked.known.priors
        ).factor.mid
    water_ml = float(volume_ml(Liquid(water_g=float(ready.melt_g))))
    made = batch(
        [_part(house, pour.ingredient, pour.volume_ml) for pour in asked.sheet.pours],
        serves=serves,
        factor=factor,
        water_ml=water_ml,
        coffee_g=0.0 if bed is None else bed.dose_g,
    )
    return SpecBatch(
        batch=made,
        stirred_ml=stirred_ml,
        glass_ml=glass_ml,
        wanted_ml=wanted,
        ethanol_g=reading.after.ethanol_g.mid * wanted / glass_ml,
        spoils=tuple(
            p.ingredient.id
            for p in drink.pours
            if p.ingredient.composition.abv.mid < KEEPS_FROM_ABV
            and p.ingredient.role in (Role.MODIFIER, Role.SWEETENER)
        ),
    )


def needs_of(house: House, specs: Iterable[BarSpec], serves: int) -> tuple[Need, ...]:
    """What to buy so that each of these drinks can be served so often."""
    wanted: defaultdict[str, float] = defaultdict(float)
    for spec in specs:
        for pour in spec.pours:
            wanted[pour.ingredient] += pour.volume_ml * serves
    for bottle in house.bottles:
        wanted[bottle.ingredient] += 0.0
    found = (
        need(_part(house, ingredient, 0.0), volume, out=ingredient in house.lacking)
        for ingredient, volume in sorted(wanted.items())
    )
    return tuple(each for each in found if _worth_buying(house, each))


def _worth_buying(house: House, each: Need) -> bool:
    """Short for the list, or out altogether."""
    return bool(each.bottles) or each.wanted_ml > each.stock_ml or each.ingredient in house.lacking


def _part(house: House, ingredient_id: str, per_serve_ml: float) -> Part:
    """The first bottle of an ingredient that is not out says size and price; stock is of all."""
    here = [b for b in house.bottles if b.ingredient == ingredient_id]
    if not here:
        return Part(ingredient_id, per_serve_ml)
    first = min(here, key=lambda b: (b.out, b.id))
    stock = sum(b.stock_ml for b in here if not b.out)
    return Part(ingredient_id, per_serve_ml, first.size_ml, first.price, stock)
