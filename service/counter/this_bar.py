"""This bar tonight: the one home of its shelf, its words and what it learnt, for all who ask.

It is read anew only where the bar's version says that something changed, and what was learnt only
where a trial did. So every worker sees at once what another one wrote, and pays for it once.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from threading import Lock
from typing import Final, TypeVar

from service.bar import (
    BarCoffee,
    SpecStatus,
    Trial,
    Unit,
    bar_version,
    list_coffees,
    list_specs,
    mark_of,
    night_of,
)
from service.bed import BedLearning
from service.counter.coffees import Coffee
from service.counter.compose import ComposeAnswer, ComposeQuestion, OnShelf, compose_in_time
from service.counter.house_drinks import kept_alike
from service.counter.house_known import House, house_in
from service.counter.known import Known
from service.counter.lessons import Lessons, lessons_in
from service.counter.suggest import Question
from service.counter.swap import SwapQuestion
from service.ingredients.records import Role
from service.kit import BadData, CannotCompose
from service.recommend.liking import liking_of_each

MOST_KEPT: Final = 4
MOST_DRINKS_KEPT: Final = 32
_Kept = TypeVar("_Kept")


@dataclass(frozen=True, slots=True, eq=False)
class ThisBar:
    """One bar tonight.

    house : its settings, its night and its bottles; `house.known` is as the bar has learnt it
    lessons : what its trials taught, coffee by coffee
    coffees : the coffees it has, those in use first
    listed : what each spec on the list pours, which is no news to the house
    """

    house: House
    lessons: Lessons
    coffees: tuple[BarCoffee, ...] = ()
    listed: tuple[frozenset[str], ...] = ()

    @property
    def known(self) -> Known:
        """All that is known here: own ingredients, labels, and what trials taught."""
        return self.house.known

    @property
    def standing(self) -> frozenset[str]:
        """Ids of all that can be poured."""
        return self.house.standing

    @property
    def liking(self) -> Mapping[str, float]:
        """By ingredient, from -1 to 1: what the house has liked so far."""
        return liking_of_each(self.lessons.liking)

    @property
    def lines(self) -> tuple[OnShelf, ...]:
        """What can be poured, with its price and stock, as composing takes it."""
        ingredients = self.known.catalogue.ingredients
        return tuple(
            OnShelf(b.ingredient, None if b.price is None else b.price / b.size_ml, b.stock_ml)
            for b in self.house.bottles
            if not b.out
            and b.ingredient in ingredients
            and ingredients[b.ingredient].role is not Role.GARNISH
        )

    def kept(self, coffee: Coffee | None) -> BarCoffee | None:
        """The bar's coffee that a person has just described, if it is one of them."""
        return None if coffee is None else kept_alike(coffee, self.coffees)

    def known_of(self, coffee: Coffee | None) -> Known:
        """All that is known, the bed as learnt of a coffee where it is one of the bar's."""
        kept = self.kept(coffee)
        return self.lessons.known(None if kept is None else kept.id)

    def bed(self, coffee_id: int | None) -> BedLearning:
        """What the trials taught of the bed of one coffee."""
        return self.lessons.bed(coffee_id)


@dataclass(slots=True, eq=False)
class BarMemory:
    """What was worked out of this bar, the latest few; forgetting it costs time, nothing else."""

    bars: OrderedDict[Hashable, ThisBar] = field(default_factory=OrderedDict)
    lessons: OrderedDict[Hashable, Lessons] = field(default_factory=OrderedDict)
    drinks: OrderedDict[Hashable, ComposeAnswer] = field(default_factory=OrderedDict)
    lock: Lock = field(default_factory=Lock)

    def this_bar(self, unit: Unit, base: Known) -> ThisBar:
        """The bar of a unit, now (in the bar's own time)."""
        now = datetime.now()
        key = (base, bar_version(unit), night_of(now))
        found = self._kept(self.bars, key)
        return found or self._keep(self.bars, key, self._read(unit, base, now))

    def compose(self, known: Known, question: ComposeQuestion) -> ComposeAnswer:
        """Whole drinks, for somebody who waits. Only an answer that is proved is kept."""
        key = (known, repr(question))
        found = self._kept(self.drinks, key) or compose_in_time(known, question)
        proved = found.composition.certificate.proved
        return self._keep(self.drinks, key, found) if proved else found

    def _read(self, unit: Unit, base: Known, now: datetime) -> ThisBar:
        house = house_in(unit, base, now)
        key = (house.known, house.jiggers, mark_of(unit, Trial), mark_of(unit, BarCoffee))
        lessons = self._kept(self.lessons, key)
        lessons = lessons or self._keep(self.lessons, key, lessons_in(unit, house, base))
        listed = (
            frozenset(p.ingredient for p in s.pours) for s in list_specs(unit, SpecStatus.LISTED)
        )
        return ThisBar(
            house=replace(house, known=lessons.known()),
            lessons=lessons,
            coffees=list_coffees(unit),
            listed=tuple(listed),
        )

    def _kept(self, kept: OrderedDict[Hashable, _Kept], key: Hashable) -> _Kept | None:
        with self.lock:
            return kept.get(key)

    def _keep(self, kept: OrderedDict[Hashable, _Kept], key: Hashable, new: _Kept) -> _Kept:
        """Of two that were worked out at once the first is kept, so that there is only one."""
        with self.lock:
            there = kept.setdefault(key, new)
            kept.move_to_end(key)
            while len(kept) > (MOST_DRINKS_KEPT if kept is self.drinks else MOST_KEPT):
                kept.popitem(last=False)
        return there


def suggested(question: Question, bar: ThisBar, *, on_shelf: bool) -> Question:
    """A question about what suits a coffee, asked of this bar: of its shelf, or of all it knows."""
    among = bar.standing if on_shelf else question.among
    return replace(question, among=among, liking=bar.liking)


def swapped(question: SwapQuestion, bar: ThisBar, *, on_shelf: bool) -> SwapQuestion:
    """A question about a bottle that is out, asked of this bar."""
    _check_no_shelf_is_named(question)
    lattice = question.lattice or bar.house.lattice
    shelf = sorted(bar.standing) if on_shelf else None
    return replace(question, shelf=shelf, lattice=lattice)


def composed(question: ComposeQuestion, bar: ThisBar, *, on_shelf: bool) -> ComposeQuestion:
    """A question about whole drinks, asked of this bar, its list and what it likes."""
    _check_no_shelf_is_named(question)
    if on_shelf and not bar.lines:
        raise CannotCompose("nothing stands on the shelf; put bottles there first", field="among")
    shelf = bar.lines if on_shelf else None
    return replace(question, shelf=shelf, house_specs=bar.listed, liking=bar.liking)


def _check_no_shelf_is_named(question: SwapQuestion | ComposeQuestion) -> None:
    if question.shelf is not None:
        raise BadData("name a shelf, or ask for this bar's own; not both", field="among")
