"""The bar's specs: writing them, their history, and what is poured for them tonight."""

from __future__ import annotations

from datetime import date

from service.bar import (
    Bar,
    BarSpec,
    Sheet,
    SpecChange,
    SpecDraft,
    SpecStatus,
    Substitution,
    add_spec,
    difference,
    list_specs,
    read_spec,
    revise_spec,
    revisions,
    set_status,
    sheet,
    specs_pouring,
    substitute,
    substitutions_of,
    undo_substitution,
)
from service.counter.shelf import catalogue_in
from service.ingredients import Catalogue
from service.ingredients.records import SpecPour


def bar_specs(bar: Bar, status: SpecStatus | None = None) -> tuple[BarSpec, ...]:
    """Specs at their latest revision, by name."""
    with bar.look() as unit:
        return list_specs(unit, status)


def bar_spec(bar: Bar, spec_id: int, revision: int | None = None) -> BarSpec:
    """One spec, at its latest revision or at the one named."""
    with bar.look() as unit:
        return read_spec(unit, spec_id, revision)


def spec_history(bar: Bar, spec_id: int) -> tuple[BarSpec, ...]:
    """Every revision of a spec, the first one first."""
    with bar.look() as unit:
        return revisions(unit, spec_id)


def spec_difference(bar: Bar, spec_id: int, before: int, after: int) -> tuple[SpecChange, ...]:
    """What differs between two revisions."""
    with bar.look() as unit:
        return difference(read_spec(unit, spec_id, before), read_spec(unit, spec_id, after))


def write_spec(
    bar: Bar,
    who: str,
    catalogue: Catalogue,
    draft: SpecDraft,
    status: SpecStatus = SpecStatus.DRAFT,
) -> BarSpec:
    """A new spec."""
    with bar.unit(who) as unit:
        return add_spec(unit, catalogue_in(unit, catalogue), draft, status)


def rewrite_spec(
    bar: Bar, who: str, catalogue: Catalogue, spec_id: int, version: int, draft: SpecDraft
) -> BarSpec:
    """A new revision of a spec; Conflict where somebody else changed it since `version`."""
    with bar.unit(who) as unit:
        return revise_spec(unit, catalogue_in(unit, catalogue), spec_id, version, draft)


def set_spec_status(bar: Bar, who: str, spec_id: int, version: int, status: SpecStatus) -> BarSpec:
    """Put a spec on the list, retire it, or make it a draft again."""
    with bar.unit(who) as unit:
        return set_status(unit, spec_id, version, status)


def specs_without(bar: Bar, ingredient_id: str) -> tuple[BarSpec, ...]:
    """Listed specs that cannot be made as written when an ingredient is out."""
    with bar.look() as unit:
        return specs_pouring(unit, ingredient_id)


def accept_rescue(
    bar: Bar,
    who: str,
    catalogue: Catalogue,
    spec_id: int,
    *,
    night: date,
    ingredient_out: str,
    pours: tuple[SpecPour, ...],
    remarks: str = "",
    version: int | None = None,
) -> Substitution:
    """For one night these pours stand on the sheet; the spec stays as it is. Where there is a
    rescue already, `version` says that it was seen."""
    with bar.unit(who) as unit:
        return substitute(
            unit,
            catalogue_in(unit, catalogue),
            spec_id,
            night=night,
            ingredient_out=ingredient_out,
            pours=pours,
            remarks=remarks,
            version=version,
        )


def undo_rescue(bar: Bar, who: str, substitution_id: int, version: int) -> None:
    """Back to the spec as it is written."""
    with bar.unit(who) as unit:
        undo_substitution(unit, substitution_id, version)


def rescues_of_night(bar: Bar, night: date) -> tuple[Substitution, ...]:
    """Every rescue accepted for a night."""
    with bar.look() as unit:
        return substitutions_of(unit, night)


def service_sheet(bar: Bar, spec_id: int, night: date) -> Sheet:
    """What the staff pour for a spec on a night."""
    with bar.look() as unit:
        return sheet(unit, spec_id, night)
