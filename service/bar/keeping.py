"""Adding, changing and removing a record, each with its line in the audit.

Two tablets may hold the same record. Each says which version it has seen; the second to write is
told what the first changed, and nothing of either is lost.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from enum import StrEnum
from typing import Any, Final, TypeVar

from sqlalchemy import RowMapping, Table, delete, func, insert, select, text, update

from service.bar.tables import audit
from service.bar.unit import Unit
from service.ingredients.records import SpecPour
from service.kit import Conflict, Interval, NotFound

Record = TypeVar("Record")
Values = Mapping[str, Any]
Changes = Mapping[str, tuple[Any, Any]]
_NONE: Final[Changes] = {}
# Columns that the audit and the messages do not repeat.
HIDDEN: Final = frozenset({"token", "token_hash"})
LONGEST_SHOWN: Final = 60
_AS_THEY_ARE: Final = frozenset({str, int, float, bool, type(None)})


def add(unit: Unit, table: Table, values: Values, also: Changes = _NONE) -> RowMapping:
    """A new record; its first version is 1. `also` is said in the audit besides the values."""
    inserted = insert(table).values(version=1, **values).returning(table)
    row = unit.connection.execute(inserted).mappings().one()
    said = {name: (None, value) for name, value in values.items()}
    note(unit, table, row, "added", {**said, **also})
    return row


def change(
    unit: Unit,
    table: Table,
    key: int | str,
    version: int | None,
    values: Values,
    also: Changes = _NONE,
) -> RowMapping:
    """The record with other values, if it still is the version that was seen.

    `version` None is for what is true whatever was seen, such as a bottle being out. Values that
    are the same already change nothing, and leave no line.
    """
    seen = locked(unit, table, key)
    if version is not None and version != seen["version"]:
        raise stale(unit, table, seen, version)
    differing = {n: (seen[n], value) for n, value in values.items() if seen[n] != value}
    if not differing:
        return seen
    changed = (
        update(table)
        .where(table.c.id == key)
        .values(version=seen["version"] + 1, **{n: new for n, (_, new) in differing.items()})
        .returning(table)
    )
    row = unit.connection.execute(changed).mappings().one()
    note(unit, table, row, "changed", {**differing, **also})
    return row


def remove(unit: Unit, table: Table, key: int | str, version: int | None) -> None:
    """Take the record away, if it still is the version that was seen."""
    seen = locked(unit, table, key)
    if version is not None and version != seen["version"]:
        raise stale(unit, table, seen, version)
    unit.connection.execute(delete(table).where(table.c.id == key))
    before = {n: (value, None) for n, value in seen.items() if n not in {"id", "version"}}
    note(unit, table, seen, "removed", before)


def one(unit: Unit, table: Table, key: int | str, *, field: str | None = None) -> RowMapping:
    """The record with that key; NotFound otherwise."""
    return _found(unit, table, key, False, field)


def locked(unit: Unit, table: Table, key: int | str) -> RowMapping:
    """The record, held against others until the unit ends."""
    return _found(unit, table, key, True, None)


def note(unit: Unit, table: Table, row: RowMapping, what: str, changes: Changes) -> None:
    """A line in the audit: who, when, what, and each field before and after."""
    unit.connection.execute(insert(audit), [audit_line(unit, table, row, what, changes)])


def audit_line(
    unit: Unit, table: Table, row: RowMapping | Values, what: str, changes: Changes
) -> dict[str, Any]:
    """The values of such a line."""
    return {
        "at": unit.at,
        "who": unit.who,
        "noun": table.info["noun"],
        "record": str(row["id"]),
        "version": row["version"],
        "what": what,
        "changes": {
            name: ["hidden", "hidden"] if name in HIDDEN else [_plain(before), _plain(after)]
            for name, (before, after) in changes.items()
        },
    }


def stale(unit: Unit, table: Table, seen: RowMapping, version: int) -> Conflict:
    """What to tell a person whose edit comes after somebody else's."""
    noun = table.info["noun"]
    since = unit.connection.execute(
        select(audit.c.who, audit.c.changes)
        .where(audit.c.noun == noun, audit.c.record == str(seen["id"]))
        .where(audit.c.version > version)
        .order_by(audit.c.id)
    ).all()
    named: dict[str, str] = {}
    for _, changes in since:
        named |= {field: _short(after) for field, (_, after) in changes.items()}
    hands = ", ".join(sorted({who for who, _ in since})) or "somebody"
    said = "; ".join(f"{field} is now {value}" for field, value in named.items())
    return Conflict(
        f"{hands} changed this {noun} in the meantime ({said or 'see the audit'}). Nothing of "
        f"yours was written: open it again (it is version {seen['version']} now) and repeat it",
        field="version",
    )


def renumber(unit: Unit, table: Table) -> None:
    """Rows came in with numbers of their own: new ones begin after the highest of them.

    Never backwards: somebody else may hold a number that is not written yet.
    """
    if not unit.on_postgresql:
        return  # SQLite sees to it by itself
    named = select(func.pg_get_serial_sequence(table.name, "id"))
    sequence = unit.connection.execute(named).scalar_one()
    highest = f"(SELECT max(id) AS highest FROM {table.name}) AS written"
    forward = f"SELECT setval('{sequence}', highest) FROM {highest}, {sequence}"
    unit.connection.execute(text(f"{forward} WHERE highest >= last_value"))


def next_keys(unit: Unit, table: Table, count: int) -> Sequence[int]:
    """Numbers that no row has or had, for rows that are written many at a time."""
    if unit.on_postgresql:
        drawn = func.nextval(func.pg_get_serial_sequence(table.name, "id"))
        numbered = select(drawn).select_from(func.generate_series(1, count))
        return unit.connection.execute(numbered).scalars().all()
    # Nobody else writes now, so the numbers after the last one given are ours.
    given = text("SELECT seq FROM sqlite_sequence WHERE name = :name")
    last = int(unit.connection.execute(given, {"name": table.name}).scalar() or 0)
    return range(last + 1, last + 1 + count)


def record(kind: type[Record], row: RowMapping | Values, **more: Any) -> Record:
    """A frozen record from a row: what leaves the room."""
    return kind(**{name: row[name] for name in names_of(kind) if name in row}, **more)


def values_of(kind: type[Any], draft: Any) -> dict[str, Any]:
    """The fields that a kind of draft has, also where more than a draft is given."""
    return {name: getattr(draft, name) for name in names_of(kind)}


def names_of(kind: type[Any]) -> tuple[str, ...]:
    """The fields of a kind of record. Asked for every row, so taken as they lie in the class."""
    return tuple(kind.__dataclass_fields__)


def _found(
    unit: Unit, table: Table, key: int | str, for_update: bool, field: str | None
) -> RowMapping:
    query = select(table).where(table.c.id == key)
    if for_update:
        query = query.with_for_update()
    row = unit.connection.execute(query).mappings().first()
    if row is None:
        raise NotFound(
            f"there is no {table.info['noun']} {key}; look at the list again", field=field
        )
    return row


def _plain(value: Any) -> Any:
    """A value as JSON can hold it."""
    if type(value) in _AS_THEY_ARE:
        return value
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, date):  # and datetime
        return value.isoformat()
    if isinstance(value, Interval):
        return [value.low, value.mid, value.high]
    if isinstance(value, SpecPour):
        return [value.ingredient, value.volume_ml]
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if isinstance(value, Mapping):
        return {name: _plain(each) for name, each in value.items()}
    return value


def _short(value: Any) -> str:
    if isinstance(value, list):
        value = ", ".join(
            " ".join(map(str, each)) if isinstance(each, list) else str(each) for each in value
        )
    shown = "nothing" if value in (None, "") else str(value)
    return shown if len(shown) <= LONGEST_SHOWN else f"{shown[:LONGEST_SHOWN]}..."
