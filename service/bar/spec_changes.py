"""What differs between two revisions of a spec."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from service.bar.specs import SpecDraft, contents


@dataclass(frozen=True, slots=True)
class SpecChange:
    """One difference. For a pour, `field` is `pours.` and the ingredient, and the values are mL.

    before, after : None where it was not there
    """

    field: str
    before: Any
    after: Any


def difference(before: SpecDraft, after: SpecDraft) -> tuple[SpecChange, ...]:
    """Everything that is not the same, pours first and in their new order.

    >>> from service.ingredients.records import SpecPour
    >>> one = SpecDraft(name="x", pours=(SpecPour("cognac", 45.0), SpecPour("fig-liqueur", 15.0)))
    >>> two = SpecDraft(name="x", pours=(SpecPour("cognac", 50.0),))
    >>> [(c.field, c.before, c.after) for c in difference(one, two)]
    [('pours.cognac', 45.0, 50.0), ('pours.fig-liqueur', 15.0, None)]
    """
    old, new = contents(before), contents(after)
    changes = [*_pours(before, after), *_flat("name", before.name, after.name)]
    for field in old:
        if field == "pours":
            continue
        if isinstance(old[field], dict):
            changes += _entries(field, old[field], new[field])
        else:
            changes += _flat(field, old[field], new[field])
    return tuple(changes)


def _pours(before: SpecDraft, after: SpecDraft) -> list[SpecChange]:
    return _entries(
        "pours",
        {pour.ingredient: pour.volume_ml for pour in before.pours},
        {pour.ingredient: pour.volume_ml for pour in after.pours},
    ) or _order(before, after)


def _order(before: SpecDraft, after: SpecDraft) -> list[SpecChange]:
    """The same pours in another order."""
    return _flat(
        "pours",
        [pour.ingredient for pour in before.pours],
        [pour.ingredient for pour in after.pours],
    )


def _entries(field: str, before: dict[str, Any], after: dict[str, Any]) -> list[SpecChange]:
    names = dict.fromkeys([*after, *before])
    return [
        SpecChange(f"{field}.{name}", before.get(name), after.get(name))
        for name in names
        if before.get(name) != after.get(name)
    ]


def _flat(field: str, before: Any, after: Any) -> list[SpecChange]:
    return [] if before == after else [SpecChange(field, before, after)]
