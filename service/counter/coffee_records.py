"""The coffees that a bar has in use."""

from __future__ import annotations

from service.bar import (
    Bar,
    BarCoffee,
    CoffeeDraft,
    add_coffee,
    list_coffees,
    read_bar_coffee,
    remove_coffee,
    rewrite_coffee,
)
from service.counter.coffees import Coffee


def bar_coffees(bar: Bar, *, in_use_only: bool = False) -> tuple[BarCoffee, ...]:
    """The bar's coffees, those in use first, the freshest on top."""
    with bar.look() as unit:
        return list_coffees(unit, in_use_only=in_use_only)


def bar_coffee(bar: Bar, coffee_id: int) -> BarCoffee:
    """One of them."""
    with bar.look() as unit:
        return read_bar_coffee(unit, coffee_id)


def open_bag(bar: Bar, who: str, draft: CoffeeDraft) -> BarCoffee:
    """A new coffee comes into use."""
    with bar.unit(who) as unit:
        return add_coffee(unit, draft)


def correct_coffee(
    bar: Bar, who: str, coffee_id: int, version: int, draft: CoffeeDraft
) -> BarCoffee:
    """Correct what is written of a coffee, or take it out of use."""
    with bar.unit(who) as unit:
        return rewrite_coffee(unit, coffee_id, version, draft)


def forget_coffee(bar: Bar, who: str, coffee_id: int, version: int) -> None:
    """Take away one that nothing was made with."""
    with bar.unit(who) as unit:
        remove_coffee(unit, coffee_id, version)


def as_described(kept: BarCoffee) -> Coffee:
    """A bar's coffee as the questions about coffees take it."""
    return Coffee(kept.profile, kept.notes, kept.dose_g, kept.grind, kept.decaf)
