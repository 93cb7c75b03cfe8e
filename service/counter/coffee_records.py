"""A coffee of the bar as the questions about coffees take it."""

from __future__ import annotations

from service.bar import BarCoffee
from service.counter.coffees import Coffee


def as_described(kept: BarCoffee) -> Coffee:
    """A bar's coffee as the questions about coffees take it."""
    return Coffee(kept.profile, kept.notes, kept.dose_g, kept.grind, kept.decaf)
