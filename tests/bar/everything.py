"""A bar with rows in every table, and how to compare two bars to the last cell."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import select

from service.bar import (
    Bar,
    BarSettings,
    BlindKind,
    Language,
    OwnIngredientDraft,
    Scope,
    SpecStatus,
    TrialDraft,
    add_bottle,
    add_coffee,
    add_own_ingredient,
    add_spec,
    add_trial,
    close_blind_test,
    give_answer,
    make_api_token,
    make_guest_link,
    plan_blind_test,
    remove_bottle,
    revise_spec,
    set_out,
    set_status,
    substitute,
    undo_trial,
    write_bar_settings,
)
from service.bar.columns import metadata
from service.ingredients import Catalogue
from service.ingredients.records import Role, SpecPour
from service.kit import Interval
from tests.bar.drafts import BOTTLE, COFFEE, POURS, SPEC

AWKWARD = 'é "quoted", semi;colon, ½ 😀\nsecond line\t=1+1'


def fill(bar: Bar, catalogue: Catalogue) -> None:
    """Rows of every kind, with awkward texts, empty ones, and numbers that do not end."""
    with bar.unit("Zoë") as unit:
        write_bar_settings(unit, BarSettings(name='Bar, "quoted"', language=Language.ITALIAN))
        add_own_ingredient(
            unit, catalogue,
            OwnIngredientDraft(name="kelp", role=Role.SEASONING, like_id="saline",
                               notes={"smoke": 1 / 3}, remarks=AWKWARD,
                               composition={"salt_g_per_l": Interval(0.1, 0.1 + 0.2, 200.0)}),
        )  # fmt: skip
        first = add_bottle(unit, catalogue, replace(BOTTLE, notes=AWKWARD, sugar_g_per_l=1 / 3))
        add_bottle(unit, catalogue, replace(BOTTLE, label="", allergens=("nuts",)))
        gone = add_bottle(unit, catalogue, BOTTLE)
        set_out(unit, first.id, True)
        remove_bottle(unit, gone.id, 1)
        coffee = add_coffee(unit, replace(COFFEE, roasted_on=date(2026, 11, 16), decaf=True))
        draft = replace(SPEC, coffee_id=coffee.id, preparation={"seconds": 30.5, "ice": None})
        spec = add_spec(unit, catalogue, draft)
        spec = revise_spec(unit, catalogue, spec.id, 1, replace(draft, method=AWKWARD))
        set_status(unit, spec.id, 2, SpecStatus.LISTED)
        rescue = (*POURS[:2], SpecPour("orange-bitters", 1 / 3))
        substitute(unit, catalogue, spec.id, night=date(2026, 11, 20), pours=rescue,
                   ingredient_out="fig-bitters")  # fmt: skip
        made_at = datetime(2026, 11, 20, 21, 4, 5, 678901, tzinfo=UTC)
        trial = TrialDraft(spec_id=spec.id, liking=7, made_at=made_at, conditions={"abv": 1 / 3})
        add_trial(unit, trial)
        undo_trial(unit, add_trial(unit, trial).id)
        test = plan_blind_test(unit, name="ice", kind=BlindKind.DUO_TRIO,
                               plan={"orders": [["A", None, 0.1]]})  # fmt: skip
        give_answer(unit, test.id, seat=1, answer="A", words=AWKWARD)
        close_blind_test(unit, test.id, 1, {"p": 0.1 + 0.2})
        make_guest_link(unit, spec.id)
        make_api_token(unit, "till", frozenset(Scope))


def everything(bar: Bar) -> dict[str, list[dict[str, Any]]]:
    """Every row of every table, in the order of its key."""
    with bar.look() as unit:
        return {
            table.name: [
                dict(row)
                for row in unit.connection.execute(
                    select(table).order_by(*table.primary_key.columns)
                ).mappings()
            ]
            for table in metadata.sorted_tables
        }
