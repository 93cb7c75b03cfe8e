"""Long lists in slices: each begins after an id, so that what is added meanwhile shifts nothing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Generic, TypeVar

from sqlalchemy import Table, func, select

from service.bar.blind_tests import BlindTest
from service.bar.bottles import Bottle
from service.bar.coffees import BarCoffee
from service.bar.guest_links import GuestLink
from service.bar.keeping import record
from service.bar.own_ingredients import OwnIngredient
from service.bar.tables import blind_tests, bottles, coffees, guest_links, own_ingredients, trials
from service.bar.trials import Trial
from service.bar.unit import Unit
from service.kit import OutOfRange

Record = TypeVar("Record")
MOST_PER_SLICE: Final = 500
_TABLES: Final[Mapping[type[Any], Table]] = {
    BarCoffee: coffees,
    BlindTest: blind_tests,
    Bottle: bottles,
    GuestLink: guest_links,
    OwnIngredient: own_ingredients,
    Trial: trials,
}


@dataclass(frozen=True, slots=True)
class Slice(Generic[Record]):
    """Some of a list in order of id; `next_after` begins the next one, None at the end.

    total : how many there are in all slices together
    """

    items: tuple[Record, ...]
    next_after: int | str | None
    total: int


def slice_of(
    unit: Unit,
    kind: type[Record],
    *,
    after: int | str | None = None,
    limit: int = 100,
    **equal: Any,
) -> Slice[Record]:
    """Records of a kind after an id, those whose columns equal what is given (None: empty)."""
    _check(limit)
    table = _TABLES[kind]
    wanted = [table.c[name].is_not_distinct_from(value) for name, value in equal.items()]
    total = unit.connection.execute(select(func.count()).select_from(table).where(*wanted))
    rest = wanted if after is None else [*wanted, table.c.id > after]
    query = select(table).where(*rest).order_by(table.c.id).limit(limit + 1)
    found = [record(kind, row) for row in unit.connection.execute(query).mappings()]
    return _cut(found, limit, total.scalar_one())


def slice_from(
    records: Sequence[Record], *, after: int | None = None, limit: int = 100
) -> Slice[Record]:
    """Likewise of records that were read already; each has an `id`."""
    _check(limit)
    ordered = sorted(records, key=_id)
    rest = [each for each in ordered if after is None or _id(each) > after]
    return _cut(rest[: limit + 1], limit, len(ordered))


def _cut(found: Sequence[Record], limit: int, total: int) -> Slice[Record]:
    """One more than the limit was looked for, to see whether there is another slice."""
    items = tuple(found[:limit])
    return Slice(items, _id(items[-1]) if len(found) > limit else None, total)


def _check(limit: int) -> None:
    if not 1 <= limit <= MOST_PER_SLICE:
        raise OutOfRange.of("limit", limit, 1, MOST_PER_SLICE, "records")


def _id(each: Any) -> Any:
    return each.id
