"""The bar's specs read: each with its own coffee, through the bed as its trials have shown it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from service.bar import (
    BarCoffee,
    BarSpec,
    Sheet,
    Unit,
    read_bar_coffee,
    sheet,
)
from service.bed import BedLearning
from service.counter.coffees import Coffee
from service.counter.explain import explain_poured
from service.counter.house_drinks import (
    coffee_of,
    made_of,
    measure_many,
    measure_of,
    measured_alone,
    poured_of,
)
from service.counter.known import Known
from service.counter.measure import Measure, Measured
from service.counter.this_bar import ThisBar
from service.kit import BadData, ServiceError
from service.recommend.explain import Explanation


@dataclass(frozen=True, slots=True, eq=False)
class SpecAsked:
    """A spec as it is made on one night, and all that is needed to reckon with it."""

    sheet: Sheet
    kept: BarCoffee | None
    coffee: Coffee | None
    asked: Measure
    known: Known
    learning: BedLearning

    @property
    def spec(self) -> BarSpec:
        return self.sheet.spec

    def measured(self) -> Measured:
        """Its reading before and after the coffee."""
        return _measured(self.known, _Asked(self.asked))

    def explained(self) -> Explanation:
        """Its three lengths."""
        return _explained(self.known, _Asked(self.asked), self.coffee)


def spec_asked(unit: Unit, bar: ThisBar, spec_id: int, *, as_written: bool = False) -> SpecAsked:
    """One spec as it is poured tonight, or as it is written."""
    house = bar.house
    tonight = sheet(unit, spec_id, house.night)
    if as_written:
        tonight = Sheet(tonight.spec, None)
    spec = tonight.spec
    if not made_of(house.known, spec):
        gone = ", ".join(
            p.ingredient
            for p in spec.pours
            if p.ingredient not in house.known.catalogue.ingredients
        )
        raise BadData(
            f"{spec.name} pours what is not known any more ({gone}); edit it first", field="pours"
        )
    kept = None if spec.coffee_id is None else read_bar_coffee(unit, spec.coffee_id)
    coffee = coffee_of(spec, kept)
    asked = measure_of(spec, coffee, house.settings.country, tonight.pours)
    known = bar.lessons.known(spec.coffee_id)
    return SpecAsked(tonight, kept, coffee, asked, known, bar.bed(spec.coffee_id))


def readings_of(bar: ThisBar, specs: Sequence[BarSpec]) -> dict[int, Measured]:
    """Readings of many specs as they are written; those that cannot be read are left out."""
    house = bar.house
    coffees = {coffee.id: coffee for coffee in bar.coffees}
    together: defaultdict[int | None, list[tuple[int, Measure]]] = defaultdict(list)
    for spec in specs:
        if not made_of(house.known, spec):
            continue
        kept = None if spec.coffee_id is None else coffees.get(spec.coffee_id)
        asked = measure_of(spec, coffee_of(spec, kept), house.settings.country)
        together[spec.coffee_id].append((spec.id, asked))
    found: dict[int, Measured] = {}
    for coffee_id, pairs in together.items():
        found.update(_read(bar.lessons.known(coffee_id), pairs))
    return found


def _read(known: Known, pairs: Sequence[tuple[int, Measure]]) -> dict[int, Measured]:
    """In one pass; where one of them is outside what can be read, each for itself."""
    ids = [spec_id for spec_id, _ in pairs]
    try:
        every = _measured_many(known, tuple(_Asked(asked) for _, asked in pairs))
        return dict(zip(ids, every, strict=True))
    except ServiceError:
        if len(pairs) == 1:
            return {}
    found: dict[int, Measured] = {}
    for pair in pairs:
        found.update(_read(known, [pair]))
    return found


@dataclass(frozen=True, slots=True)
class _Asked:
    """A question, alike where it asks the same."""

    measure: Measure = field(compare=False)
    words: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "words", repr(self.measure))


@lru_cache(maxsize=16)
def _measured_many(known: Known, every: tuple[_Asked, ...]) -> list[Measured]:
    return measure_many(known, [asked.measure for asked in every])


@lru_cache(maxsize=256)
def _measured(known: Known, asked: _Asked) -> Measured:
    return measured_alone(known, asked.measure)


@lru_cache(maxsize=256)
def _explained(known: Known, asked: _Asked, coffee: Coffee | None) -> Explanation:
    return explain_poured(known, poured_of(asked.measure, coffee))
