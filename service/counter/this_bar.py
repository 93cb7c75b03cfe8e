"""This bar as the questions about coffees and drinks take it: its shelf, its words, what it learnt.

What was learnt is kept by the marks of the records it rests on. So it is worked out once, and every
worker sees by itself when another one wrote.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock
from typing import Final

from service.bar import (
    BarCoffee,
    SpecStatus,
    Trial,
    Unit,
    list_specs,
    list_trials,
    mark_of,
    read_spec,
)
from service.bed import BedPriors
from service.counter.compose import ComposeQuestion, OnShelf
from service.counter.house_known import House, house_in
from service.counter.house_taste import taste_in
from service.counter.house_trials import learning_in
from service.counter.known import Known
from service.counter.standard import StandardReadings
from service.counter.swap import SwapQuestion
from service.drink import larder_of
from service.ingredients.records import Role
from service.kit import BadData, CannotCompose
from service.recommend.liking import Liked, learn_liking, liking_of_each
from service.taste import Band, shifted_band

MOST_KEPT: Final = 4
_LISTED: Final = SpecStatus.LISTED


@dataclass(frozen=True, slots=True, eq=False)
class ThisBar:
    """One bar tonight.

    known : all that is known here: own ingredients, labels, and what trials taught of bed and taste
    listed : what each spec on the list pours, which is no news to the house
    liking : by ingredient, from -1 to 1: what the house has liked so far
    """

    house: House
    known: Known
    listed: tuple[frozenset[str], ...]
    liking: Mapping[str, float]

    @property
    def standing(self) -> frozenset[str]:
        """Ids of all that can be poured."""
        return self.house.standing

    @property
    def lines(self) -> tuple[OnShelf, ...]:
        """What can be poured, as composing takes it."""
        return shelf_lines(self.house)


def shelf_lines(house: House) -> tuple[OnShelf, ...]:
    """What can be poured at a bar, with its price and stock, as composing takes it."""
    ingredients = house.known.catalogue.ingredients
    return tuple(
        OnShelf(b.ingredient, None if b.price is None else b.price / b.size_ml, b.stock_ml)
        for b in house.bottles
        if not b.out
        and b.ingredient in ingredients
        and ingredients[b.ingredient].role is not Role.GARNISH
    )


@dataclass(frozen=True, slots=True, eq=False)
class Learnt:
    """What trials taught."""

    priors: BedPriors
    band: Band
    liking: Mapping[str, float]


@dataclass(slots=True, eq=False)
class BarMemory:
    """What was worked out of this bar, the latest few; forgetting it costs time, nothing else."""

    kept: OrderedDict[Hashable, tuple[Known, Learnt]] = field(default_factory=OrderedDict)
    lock: Lock = field(default_factory=Lock)

    def this_bar(self, unit: Unit, base: Known) -> ThisBar:
        """The bar of a unit, now."""
        house = house_in(unit, base)
        key = (house.known, mark_of(unit, Trial), mark_of(unit, BarCoffee))
        with self.lock:
            found = self.kept.get(key)
        if found is None:
            learnt = learnt_of(unit, house)
            found = (known_with(house.known, learnt), learnt)
            with self.lock:
                self.kept[key] = found
                while len(self.kept) > MOST_KEPT:
                    self.kept.popitem(last=False)
        known, learnt = found
        listed = (frozenset(p.ingredient for p in s.pours) for s in list_specs(unit, _LISTED))
        return ThisBar(house, known, tuple(listed), learnt.liking)


def learnt_of(unit: Unit, house: House) -> Learnt:
    """What the bar's trials taught of its bed, its middle of balance, and what it likes."""
    trials = list_trials(unit)
    if not trials:
        return Learnt(house.known.priors, house.known.band, {})
    taste = taste_in(unit, house).house
    return Learnt(
        priors=learning_in(unit).priors,
        band=shifted_band(house.known.band, taste.band_shift),
        liking=_liking(unit, [trial for trial in trials if trial.liking is not None]),
    )


def known_with(known: Known, learnt: Learnt) -> Known:
    """All that is known, as this bar has learnt it. Readings kept of builds are its own."""
    larder = larder_of(known.catalogue.ingredients)
    return replace(
        known,
        band=learnt.band,
        larder=larder,
        priors=learnt.priors,
        standard=StandardReadings(learnt.band, larder, learnt.priors),
    )


def on_shelf(question: SwapQuestion, bar: ThisBar) -> SwapQuestion:
    """A question about a bottle that is out, asked of what stands on this bar's shelf."""
    if question.shelf is not None:
        raise BadData("name a shelf, or ask for this bar's own; not both", field="among")
    return replace(question, shelf=sorted(bar.standing))


def from_shelf(question: ComposeQuestion, bar: ThisBar) -> ComposeQuestion:
    """A question about whole drinks, asked of this bar's shelf, its list and what it likes."""
    if question.shelf is not None:
        raise BadData("name a shelf, or ask for this bar's own; not both", field="among")
    if not bar.lines:
        raise CannotCompose("nothing stands on the shelf; put bottles there first", field="among")
    return replace(question, shelf=bar.lines, house_specs=bar.listed, liking=bar.liking)


def _liking(unit: Unit, tasted: Sequence[Trial]) -> Mapping[str, float]:
    revisions = {(trial.spec_id, trial.revision or 1) for trial in tasted}
    parts = {each: dict.fromkeys(_poured(unit, *each), 1.0) for each in sorted(revisions)}
    return liking_of_each(
        learn_liking(
            Liked(
                key=f"{trial.id:09d}",
                taster=trial.taster,
                liking=float(trial.liking or 0),
                parts=parts[trial.spec_id, trial.revision or 1],
            )
            for trial in tasted
        )
    )


def _poured(unit: Unit, spec_id: int, revision: int) -> Iterator[str]:
    for pour in read_spec(unit, spec_id, revision).pours:
        yield pour.ingredient
