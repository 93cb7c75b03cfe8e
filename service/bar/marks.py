"""A mark that changes whenever records of some kind do: what a worker compares with its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from sqlalchemy import Table, func, select, text

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


def bar_version(unit: Unit) -> str:
    """What changes whenever anything of the bar does, at the price of one question.

    Where writers do not queue, a line with a lower number may come in after a higher one; so on
    PostgreSQL the snapshot is part of it, which says exactly what could be seen.
    """
    last = select(func.max(audit.c.id)).scalar_subquery()
    row = unit.connection.execute(select(audit.c.id, audit.c.at).where(audit.c.id == last)).first()
    mark = "" if row is None else f"{row.id}@{row.at.isoformat()}"
    if unit.on_postgresql:
        seen = unit.connection.execute(text("SELECT pg_current_snapshot()::text")).scalar_one()
        return f"{mark}#{seen}"
    return mark


def mark_of(unit: Unit, kind: type[Any]) -> str:
    """The last change of any record of a kind, from the audit: its number and its moment.

    The moment, too, because a backup that was restored may have numbers that were used before; and
    how many there are, because of two writers at once the first number may come in last.
    """
    noun = _TABLES[kind].info["noun"]
    here = select(func.max(audit.c.id), func.count()).where(audit.c.noun == noun)
    last, many = unit.connection.execute(here).one()
    if last is None:
        return ""
    at = unit.connection.execute(select(audit.c.at).where(audit.c.id == last)).scalar_one()
    return f"{last}@{at.isoformat()}#{many}"
