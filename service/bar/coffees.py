"""The coffees in use: what the bag says, when it was roasted, dose and grind."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import func, or_, select

from service.bar.checks import LONGEST_NOTES, check_number, clean_line, clean_text
from service.bar.keeping import add, change, one, record, remove, values_of
from service.bar.tables import coffees, spec_revisions, trials
from service.bar.unit import Unit
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species
from service.kit import Conflict


@dataclass(frozen=True, slots=True, kw_only=True)
class CoffeeDraft:
    """What a person writes of a coffee; dose and grind are those of the bar's usual bed."""

    name: str
    roast: Roast = Roast.MEDIUM
    process: Process = Process.WASHED
    species: Species = Species.ARABICA
    notes: str = ""
    roasted_on: date | None = None
    dose_g: float = 15.0
    grind: Grind = Grind.MEDIUM_FINE
    decaf: bool = False
    in_use: bool = True

    @property
    def profile(self) -> CoffeeProfile:
        return CoffeeProfile(self.roast, self.process, self.species)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarCoffee(CoffeeDraft):
    """A coffee of this bar."""

    id: int
    version: int

    def age_days(self, today: date) -> int | None:
        """Days since it was roasted; None where nobody wrote it down."""
        return None if self.roasted_on is None else (today - self.roasted_on).days


def check_coffee(draft: CoffeeDraft) -> CoffeeDraft:
    """The draft as it can be kept."""
    return replace(
        draft,
        name=clean_line("name", draft.name, needed=True),
        notes=clean_text("notes", draft.notes, LONGEST_NOTES),
        dose_g=check_number("dose_g", draft.dose_g, LEAST_DOSE_G, MOST_DOSE_G, "g"),
    )


def list_coffees(unit: Unit, *, in_use_only: bool = False) -> tuple[BarCoffee, ...]:
    """The coffees, those in use first, the freshest roast on top."""
    query = select(coffees).order_by(
        coffees.c.in_use.desc(), coffees.c.roasted_on.desc().nulls_last(), coffees.c.id
    )
    if in_use_only:
        query = query.where(coffees.c.in_use.is_(True))
    return tuple(record(BarCoffee, row) for row in unit.connection.execute(query).mappings())


def read_bar_coffee(unit: Unit, coffee_id: int, *, field: str | None = None) -> BarCoffee:
    return record(BarCoffee, one(unit, coffees, coffee_id, field=field))


def add_coffee(unit: Unit, draft: CoffeeDraft) -> BarCoffee:
    return record(BarCoffee, add(unit, coffees, values_of(CoffeeDraft, check_coffee(draft))))


def rewrite_coffee(unit: Unit, coffee_id: int, version: int, draft: CoffeeDraft) -> BarCoffee:
    values = values_of(CoffeeDraft, check_coffee(draft))
    return record(BarCoffee, change(unit, coffees, coffee_id, version, values))


def remove_coffee(unit: Unit, coffee_id: int, version: int) -> None:
    """Take a coffee away that nothing refers to; otherwise say that it is no longer in use."""
    used = unit.connection.execute(
        select(func.count()).where(
            or_(
                select(1).where(spec_revisions.c.coffee_id == coffee_id).exists(),
                select(1).where(trials.c.coffee_id == coffee_id).exists(),
            )
        )
    ).scalar_one()
    if used:
        raise Conflict(
            "specs or trials were made with this coffee; take it out of use instead", field="id"
        )
    remove(unit, coffees, coffee_id, version)
