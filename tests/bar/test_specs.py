"""Specs: revisions, their differences, two tablets, and tonight's rescue."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from service.bar import (
    Bar,
    SpecStatus,
    add_spec,
    audit_lines,
    difference,
    list_specs,
    night_of,
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
from service.bar.specs import MOST_POURS
from service.drink.parts import MOST_POURS as MOST_READ
from service.ingredients import Catalogue
from service.ingredients.records import SpecPour
from service.kit import BadData, Conflict, NotFound, OutOfRange, ServiceError
from tests.bar.drafts import POURS, SPEC, WHO, a_coffee, a_spec

NIGHT = date(2026, 11, 20)
SWEETER = (POURS[0], SpecPour("fig-liqueur", 20.0), SpecPour("saline", 0.4))


def test_a_spec_comes_back_as_it_was_written(bar: Bar, catalogue: Catalogue) -> None:
    draft = replace(
        SPEC, coffee_id=a_coffee(bar), preparation={"method": "stirred", "seconds": 30},
        bed={"dose_g": 15.5, "paper_rinsed": True}, glass="coupe", garnish="fig leaf",
    )  # fmt: skip
    kept = a_spec(bar, catalogue, draft)
    assert kept.pours == POURS
    assert (kept.preparation, kept.bed) == (draft.preparation, draft.bed)
    assert (kept.status, kept.revision, kept.latest, kept.version) == (SpecStatus.DRAFT, 1, 1, 1)
    assert kept.written_by == WHO


def test_new_contents_are_a_new_revision_and_the_old_one_stays(
    bar: Bar, catalogue: Catalogue
) -> None:
    first = a_spec(bar, catalogue)
    with bar.unit("Zoë") as unit:
        draft = replace(SPEC, pours=SWEETER, reason="too dry")
        second = revise_spec(unit, catalogue, first.id, first.version, draft)
    assert (second.revision, second.latest, second.reason) == (2, 2, "too dry")
    with bar.look() as unit:
        old, new = revisions(unit, first.id)
        assert read_spec(unit, first.id, 1) == old
        assert read_spec(unit, first.id) == new == second
    assert (old.pours, old.written_by, new.written_by) == (POURS, WHO, "Zoë")
    changed = [(c.field, c.before, c.after) for c in difference(old, new)]
    assert changed == [
        ("pours.fig-liqueur", 15.0, 20.0),
        ("pours.saline", None, 0.4),
        ("pours.fig-bitters", 0.8, None),
    ]


def test_a_new_name_or_status_is_no_new_revision(bar: Bar, catalogue: Catalogue) -> None:
    kept = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        renamed = revise_spec(unit, catalogue, kept.id, 1, replace(SPEC, name="Rope Walk II"))
        listed = set_status(unit, kept.id, renamed.version, SpecStatus.LISTED)
    assert (listed.name, listed.revision, listed.version) == ("Rope Walk II", 1, 3)


def test_two_tablets_one_spec_the_second_is_told_and_nothing_is_overwritten(
    bar: Bar, catalogue: Catalogue
) -> None:
    seen = a_spec(bar, catalogue)
    with bar.unit("Ada") as unit:
        revise_spec(unit, catalogue, seen.id, seen.version, replace(SPEC, pours=SWEETER))
    with pytest.raises(Conflict) as caught, bar.unit("Zoë") as unit:
        revise_spec(unit, catalogue, seen.id, seen.version, replace(SPEC, glass="rocks"))
    message = str(caught.value)
    assert "Ada" in message
    assert "pours is now cognac 45.0, fig-liqueur 20.0, saline 0.4" in message
    with pytest.raises(Conflict), bar.unit("Zoë") as unit:
        set_status(unit, seen.id, seen.version, SpecStatus.LISTED)
    with bar.look() as unit:
        now = read_spec(unit, seen.id)
    assert (now.pours, now.glass, now.status) == (SWEETER, "", SpecStatus.DRAFT)


def test_the_difference_names_every_field_and_the_order_of_pours(
    bar: Bar, catalogue: Catalogue
) -> None:
    one = replace(SPEC, preparation={"seconds": 30, "method": "stirred"})
    other = replace(SPEC, name="Y", pours=POURS[::-1], preparation={"seconds": 20}, garnish="peel")
    assert [c.field for c in difference(one, other)] == [
        "pours", "name", "preparation.seconds", "preparation.method", "garnish",
    ]  # fmt: skip
    assert difference(one, one) == ()


def test_specs_are_found_by_what_they_pour_now(bar: Bar, catalogue: Catalogue) -> None:
    kept = a_spec(bar, catalogue)
    a_spec(bar, catalogue, replace(SPEC, name="Draft"))
    with bar.unit(WHO) as unit:
        set_status(unit, kept.id, 1, SpecStatus.LISTED)
        assert [s.name for s in specs_pouring(unit, "fig-bitters")] == [SPEC.name]
        assert len(specs_pouring(unit, "fig-bitters", None)) == 2
        revise_spec(unit, catalogue, kept.id, 2, replace(SPEC, pours=SWEETER))
        assert specs_pouring(unit, "fig-bitters") == ()
        assert [s.name for s in list_specs(unit, SpecStatus.LISTED)] == [SPEC.name]


def test_the_sheet_changes_for_tonight_and_the_spec_does_not(
    bar: Bar, catalogue: Catalogue
) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        kept = substitute(
            unit, catalogue, spec.id, night=NIGHT, ingredient_out="fig-bitters", pours=SWEETER
        )
    with bar.look() as unit:
        assert sheet(unit, spec.id, NIGHT).pours == SWEETER
        assert sheet(unit, spec.id, date(2026, 11, 21)).pours == POURS
        assert read_spec(unit, spec.id) == spec
        assert substitutions_of(unit, NIGHT) == (kept,)
    with bar.unit(WHO) as unit:
        undo_substitution(unit, kept.id, kept.version)
        assert sheet(unit, spec.id, NIGHT).pours == POURS
        assert audit_lines(unit)[0].what == "removed"


def test_a_second_rescue_has_to_have_seen_the_first(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    rescue = {"night": NIGHT, "ingredient_out": "fig-bitters", "pours": SWEETER}
    with bar.unit(WHO) as unit:
        first = substitute(unit, catalogue, spec.id, **rescue)
    with pytest.raises(Conflict, match="already"), bar.unit(WHO) as unit:
        substitute(unit, catalogue, spec.id, **rescue)
    with bar.unit(WHO) as unit:
        again = {**rescue, "pours": POURS[:2], "version": first.version}
        assert substitute(unit, catalogue, spec.id, **again).pours == POURS[:2]


def test_a_spec_revised_tonight_is_poured_as_it_is_written(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        substitute(
            unit, catalogue, spec.id, night=NIGHT, ingredient_out="fig-bitters", pours=SWEETER
        )
        revise_spec(unit, catalogue, spec.id, 1, replace(SPEC, pours=POURS[:2]))
        assert sheet(unit, spec.id, NIGHT).pours == POURS[:2]


def test_one_in_the_morning_still_belongs_to_the_night_before() -> None:
    assert night_of(datetime(2026, 11, 21, 5, 59)) == NIGHT
    assert night_of(datetime(2026, 11, 21, 6, 0)) == date(2026, 11, 21)


@pytest.mark.parametrize(
    ("changes", "error", "field"),
    [
        ({"name": " "}, BadData, "name"),
        ({"pours": ()}, BadData, "pours"),
        ({"pours": (SpecPour("nothing-known", 10.0),)}, NotFound, "pours.0.ingredient"),
        ({"pours": (POURS[0], SpecPour("cognac", 5.0))}, BadData, "pours.1.ingredient"),
        ({"pours": (SpecPour("cognac", 0.0),)}, OutOfRange, "pours.0.volume_ml"),
        ({"pours": (SpecPour("coffee-dark-washed-arabica", 9.0),)}, BadData, "pours.0.ingredient"),
        ({"coffee_id": 404}, NotFound, "coffee_id"),
        ({"preparation": {"ice": {"g": 1}}}, BadData, "preparation.ice"),
        ({"bed": {"dose_g": float("nan")}}, OutOfRange, "bed.dose_g"),
    ],
)
def test_what_cannot_be_a_spec_is_refused_with_its_field(
    bar: Bar,
    catalogue: Catalogue,
    changes: dict[str, object],
    error: type[ServiceError],
    field: str,
) -> None:
    with pytest.raises(error) as caught, bar.unit(WHO) as unit:
        add_spec(unit, catalogue, replace(SPEC, **changes))
    assert caught.value.field == field


def test_a_spec_holds_as_many_pours_as_a_drink_can() -> None:
    assert MOST_POURS == MOST_READ
