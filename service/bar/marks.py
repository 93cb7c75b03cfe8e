"""A mark that changes whenever records of some kind do: what a worker compares with its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from sqlalchemy import Table, func, select

from service.bar.bar_settings import BarSettings
from service.bar.coffees import BarCoffee
from service.bar.own_ingredients import OwnIngredient
from service.bar.tables import audit, bar_settings, coffees, own_ingredients, trials
from service.bar.trials import Trial
from service.bar.unit import Unit

_TABLES: Final[Mapping[type[Any], Table]] = {
    BarCoffee: coffees,
    BarSettings: bar_settings,
    OwnIngredient: own_ingredients,
    Trial: trials,
}


def mark_of(unit: Unit, kind: type[Any]) -> str:
    """The last change of any record of a kind, from the audit: its number and its moment.

    The moment, too, because a backup that was restored may have numbers that were used before.
    """
    noun = _TABLES[kind].info["noun"]
    last = select(func.max(audit.c.id)).where(audit.c.noun == noun).scalar_subquery()
    row = unit.connection.execute(select(audit.c.id, audit.c.at).where(audit.c.id == last)).first()
    return "" if row is None else f"{row.id}@{row.at.isoformat()}"
