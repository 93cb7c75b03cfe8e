"""The bar's specs: drafts, what is on the list, what is retired; each with all its revisions.

A spec is never overwritten: new contents are a new revision, and trials belong to a revision.
`version` counts every edit (a status, too) and guards against two tablets at once.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, Final

from sqlalchemy import RowMapping, Select, insert, select

from service.bar.checks import LONGEST_NOTES, check_flat, clean_line, clean_text
from service.bar.coffees import read_bar_coffee
from service.bar.keeping import add, change, locked, record, stale, values_of
from service.bar.tables import spec_pours, spec_revisions, specs
from service.bar.unit import Unit
from service.bar.words import SpecStatus
from service.ingredients import Catalogue
from service.ingredients.records import Role, SpecPour
from service.kit import BadData, NotFound
from service.kit.units import check_volume_ml

# As many as the drink room reads.
MOST_POURS: Final = 30
_NOT_POURED: Final = (Role.GARNISH, Role.COFFEE)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecDraft:
    """What a person writes down of a drink.

    preparation : how it is chilled (method, seconds, ice ...), named numbers and words
    bed : what differs from the coffee's own dose and grind, likewise
    reason : why this revision was written
    """

    name: str
    pours: tuple[SpecPour, ...]
    coffee_id: int | None = None
    preparation: Mapping[str, Any] = field(default_factory=dict)
    bed: Mapping[str, Any] = field(default_factory=dict)
    glass: str = ""
    garnish: str = ""
    method: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarSpec(SpecDraft):
    """A spec at one of its revisions; `revision` of `latest`."""

    id: int
    version: int
    status: SpecStatus
    revision: int
    latest: int
    written_at: datetime
    written_by: str


def check_spec(unit: Unit, draft: SpecDraft, catalogue: Catalogue) -> SpecDraft:
    """The draft as it can be kept. `catalogue` holds the bar's own ingredients, too."""
    if draft.coffee_id is not None:
        read_bar_coffee(unit, draft.coffee_id, field="coffee_id")
    return replace(
        draft,
        name=clean_line("name", draft.name, needed=True),
        pours=check_pours(draft.pours, catalogue),
        preparation=check_flat("preparation", draft.preparation),
        bed=check_flat("bed", draft.bed),
        glass=clean_line("glass", draft.glass),
        garnish=clean_line("garnish", draft.garnish),
        method=clean_text("method", draft.method, LONGEST_NOTES),
        reason=clean_text("reason", draft.reason, LONGEST_NOTES),
    )


def check_pours(pours: Sequence[SpecPour], catalogue: Catalogue) -> tuple[SpecPour, ...]:
    """Pours as a drink can have them, each ingredient once."""
    if not 1 <= len(pours) <= MOST_POURS:
        raise BadData(f"a spec has 1 to {MOST_POURS} pours, not {len(pours)}", field="pours")
    seen: set[str] = set()
    for number, pour in enumerate(pours):
        place = f"pours.{number}"
        ingredient = catalogue.ingredient(pour.ingredient, field=f"{place}.ingredient")
        if ingredient.role in _NOT_POURED:
            raise BadData(f"{ingredient.name} is not poured", field=f"{place}.ingredient")
        if pour.ingredient in seen:
            raise BadData(
                f"{ingredient.name} stands here twice; add the two up", field=f"{place}.ingredient"
            )
        seen.add(pour.ingredient)
        check_volume_ml(pour.volume_ml, field=f"{place}.volume_ml")
    return tuple(SpecPour(p.ingredient, float(p.volume_ml)) for p in pours)


def add_spec(
    unit: Unit, catalogue: Catalogue, draft: SpecDraft, status: SpecStatus = SpecStatus.DRAFT
) -> BarSpec:
    """A new spec, its first revision written."""
    checked = check_spec(unit, draft, catalogue)
    also = {n: (None, value) for n, value in contents(checked).items() if value}
    row = add(unit, specs, {"name": checked.name, "status": status, "revision": 1}, also)
    _write_revision(unit, row["id"], 1, checked)
    return read_spec(unit, row["id"])


def revise_spec(
    unit: Unit, catalogue: Catalogue, spec_id: int, version: int, draft: SpecDraft
) -> BarSpec:
    """New contents are the next revision; a new name alone is none."""
    checked = check_spec(unit, draft, catalogue)
    seen = locked(unit, specs, spec_id)
    if seen["version"] != version:
        raise stale(unit, specs, seen, version)
    before = read_spec(unit, spec_id)
    values: dict[str, Any] = {"name": checked.name}
    old, new = contents(before), contents(checked)
    if old != new:
        values["revision"] = before.latest + 1
        _write_revision(unit, spec_id, before.latest + 1, checked)
    also = {n: (old[n], new[n]) for n in new if old[n] != new[n]}
    change(unit, specs, spec_id, version, values, also)
    return read_spec(unit, spec_id)


def set_status(unit: Unit, spec_id: int, version: int, status: SpecStatus) -> BarSpec:
    """Put a spec on the list, take it off, or make it a draft again."""
    change(unit, specs, spec_id, version, {"status": status})
    return read_spec(unit, spec_id)


def read_spec(unit: Unit, spec_id: int, revision: int | None = None) -> BarSpec:
    """A spec at one revision, the latest where none is named."""
    number = specs.c.revision if revision is None else revision
    found = _read(unit, _SPECS.where(specs.c.id == spec_id, spec_revisions.c.revision == number))
    if not found:
        which = "" if revision is None else f" at revision {revision}"
        raise NotFound(f"there is no spec {spec_id}{which}; look at the list again")
    return found[0]


def list_specs(unit: Unit, status: SpecStatus | None = None) -> tuple[BarSpec, ...]:
    """Specs at their latest revision, by name."""
    query = _SPECS.where(spec_revisions.c.revision == specs.c.revision)
    if status is not None:
        query = query.where(specs.c.status == status)
    return _read(unit, query.order_by(specs.c.name, specs.c.id))


def revisions(unit: Unit, spec_id: int) -> tuple[BarSpec, ...]:
    """Every revision of a spec, the first one first."""
    read_spec(unit, spec_id)
    query = _SPECS.where(specs.c.id == spec_id)
    return _read(unit, query.order_by(spec_revisions.c.revision))


def specs_pouring(
    unit: Unit, ingredient_id: str, status: SpecStatus | None = SpecStatus.LISTED
) -> tuple[BarSpec, ...]:
    """Specs whose latest revision pours an ingredient: who suffers when it runs out."""
    return tuple(
        spec
        for spec in list_specs(unit, status)
        if any(pour.ingredient == ingredient_id for pour in spec.pours)
    )


def contents(spec: SpecDraft) -> dict[str, Any]:
    """What makes two revisions the same drink made the same way."""
    values = values_of(SpecDraft, spec)
    return {name: value for name, value in values.items() if name not in {"name", "reason"}}


_SPECS: Final[Select[Any]] = select(
    specs.c.id,
    specs.c.version,
    specs.c.name,
    specs.c.status,
    specs.c.revision.label("latest"),
    *(column for column in spec_revisions.c if column.name != "spec_id"),
).join_from(specs, spec_revisions, specs.c.id == spec_revisions.c.spec_id)


def _read(unit: Unit, query: Select[Any]) -> tuple[BarSpec, ...]:
    rows: Sequence[RowMapping] = unit.connection.execute(query).mappings().all()
    pours = _pours_of(unit, {row["id"] for row in rows})
    return tuple(record(BarSpec, row, pours=pours[row["id"], row["revision"]]) for row in rows)


def _pours_of(unit: Unit, ids: set[int]) -> Mapping[tuple[int, int], tuple[SpecPour, ...]]:
    lines: defaultdict[tuple[int, int], tuple[SpecPour, ...]] = defaultdict(tuple)
    query = select(spec_pours).where(spec_pours.c.spec_id.in_(ids)).order_by(spec_pours.c.position)
    for row in unit.connection.execute(query).mappings():
        pour = SpecPour(row["ingredient"], row["volume_ml"])
        lines[row["spec_id"], row["revision"]] += (pour,)
    return lines


def _write_revision(unit: Unit, spec_id: int, revision: int, draft: SpecDraft) -> None:
    values = values_of(SpecDraft, draft)
    pours = values.pop("pours")
    del values["name"]
    place = {"spec_id": spec_id, "revision": revision}
    values |= {**place, "written_at": unit.at, "written_by": unit.who}
    unit.connection.execute(insert(spec_revisions), [values])
    unit.connection.execute(
        insert(spec_pours),
        [
            {**place, "position": n, "ingredient": p.ingredient, "volume_ml": p.volume_ml}
            for n, p in enumerate(pours, start=1)
        ],
    )
