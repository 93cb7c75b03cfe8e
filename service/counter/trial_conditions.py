"""A trial that comes without its conditions: bed and liquid as they were foretold for it."""

from __future__ import annotations

from dataclasses import replace

from service.bar import BarSpec, TrialDraft, Unit, read_bar_coffee, read_spec
from service.counter.house_drinks import coffee_of, made_of, measure_of
from service.counter.house_known import House
from service.counter.house_trials import SOLIDS, conditions_of, poured_on
from service.counter.measure import Measure
from service.kit import ServiceError


def with_conditions(unit: Unit, house: House, draft: TrialDraft) -> TrialDraft:
    """The trial with what a forecast needs to know of it; without, where nothing can be foretold.

    A dose that nobody weighed is the usual one, where something else was measured.
    """
    spec = read_spec(unit, draft.spec_id, draft.revision)
    asked = _asked(unit, house, spec, draft.coffee_id)
    if asked is None or asked.bed is None:
        return draft
    try:
        conditions = conditions_of(asked.bed, poured_on(house.known, asked))
    except ServiceError:
        return draft  # outside what the models are valid for: kept all the same, taught by nothing
    measured = (draft.liquid_out_ml, draft.drain_seconds, draft.conditions.get(SOLIDS))
    weighed = draft.dose_g is not None or all(value is None for value in measured)
    usual = draft.dose_g if weighed else asked.bed.dose_g
    return replace(draft, conditions={**conditions, **draft.conditions}, dose_g=usual)


def _asked(unit: Unit, house: House, spec: BarSpec, coffee_id: int | None) -> Measure | None:
    wanted = spec.coffee_id if coffee_id is None else coffee_id
    kept = None if wanted is None else read_bar_coffee(unit, wanted, field="coffee_id")
    coffee = coffee_of(spec, kept)
    return measure_of(spec, coffee) if coffee is not None and made_of(house.known, spec) else None
