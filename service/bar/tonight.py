"""Tonight's substitutions: the sheet changes for one night, the spec does not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from sqlalchemy import select

from service.bar.checks import LONGEST_NOTES, clean_text
from service.bar.keeping import add, change, record, remove
from service.bar.specs import BarSpec, check_pours, read_spec
from service.bar.tables import substitutions
from service.bar.unit import Unit
from service.ingredients import Catalogue
from service.ingredients.records import SpecPour
from service.kit import BadData, Conflict

# A night lasts until six in the morning; common practice, no source.
NIGHT_ENDS_AT_HOUR: Final = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitution:
    """What is poured for a spec on one night in place of its own pours."""

    id: int
    version: int
    spec_id: int
    revision: int
    night: date
    ingredient_out: str
    pours: tuple[SpecPour, ...]
    remarks: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A spec as it is made on one night; `substitution` where that is not as it is written."""

    spec: BarSpec
    substitution: Substitution | None

    @property
    def pours(self) -> tuple[SpecPour, ...]:
        return self.spec.pours if self.substitution is None else self.substitution.pours


def night_of(moment: datetime) -> date:
    """The night of service that a moment (in the bar's own time) belongs to.

    >>> night_of(datetime(2026, 11, 21, 1, 30)).isoformat()
    '2026-11-20'
    """
    return (moment - timedelta(hours=NIGHT_ENDS_AT_HOUR)).date()


def substitute(
    unit: Unit,
    catalogue: Catalogue,
    spec_id: int,
    *,
    night: date,
    ingredient_out: str,
    pours: tuple[SpecPour, ...],
    remarks: str = "",
    version: int | None = None,
) -> Substitution:
    """Accept a rescue for the night. Where the spec has one already, `version` says it was seen."""
    spec = read_spec(unit, spec_id)
    if all(pour.ingredient != ingredient_out for pour in spec.pours):
        raise BadData(f"{spec.name} pours no {ingredient_out}", field="ingredient_out")
    values = {
        "revision": spec.revision,
        "ingredient_out": ingredient_out,
        "pours": check_pours(pours, catalogue),
        "remarks": clean_text("remarks", remarks, LONGEST_NOTES),
    }
    there = _of_spec(unit, spec_id, night)
    if there is None:
        where = {"spec_id": spec_id, "night": night}
        return record(Substitution, add(unit, substitutions, {**where, **values}))
    if version is None:
        raise Conflict(
            f"{spec.name} has a rescue for tonight already; look at it, then change or undo it",
            field="version",
        )
    return record(Substitution, change(unit, substitutions, there.id, version, values))


def undo_substitution(unit: Unit, substitution_id: int, version: int) -> None:
    """Back to the spec as it is written."""
    remove(unit, substitutions, substitution_id, version)


def substitutions_of(unit: Unit, night: date) -> tuple[Substitution, ...]:
    """All that were accepted for one night."""
    query = select(substitutions).where(substitutions.c.night == night)
    rows = unit.connection.execute(query.order_by(substitutions.c.id)).mappings()
    return tuple(record(Substitution, row) for row in rows)


def sheet(unit: Unit, spec_id: int, night: date) -> Sheet:
    """What to pour for a spec on a night. A spec revised since then is poured as it is written."""
    spec = read_spec(unit, spec_id)
    there = _of_spec(unit, spec_id, night)
    fits = there is not None and there.revision == spec.revision
    return Sheet(spec, there if fits else None)


def _of_spec(unit: Unit, spec_id: int, night: date) -> Substitution | None:
    query = select(substitutions).where(
        substitutions.c.spec_id == spec_id, substitutions.c.night == night
    )
    row = unit.connection.execute(query).mappings().first()
    return None if row is None else record(Substitution, row)
