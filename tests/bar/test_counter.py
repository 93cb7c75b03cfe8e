"""What the pages, the API and the command line ask of the records, as they ask it."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from service.bar import (
    Bar,
    BarSettings,
    BlindKind,
    OwnIngredientDraft,
    Scope,
    SpecStatus,
    TrialDraft,
)
from service.counter.backup import back_up, restore
from service.counter.coffee_records import (
    as_described,
    bar_coffee,
    bar_coffees,
    correct_coffee,
    forget_coffee,
    open_bag,
)
from service.counter.exchange import export_all, import_all
from service.counter.house import (
    api_tokens,
    bar_settings,
    bearer,
    call_token_in,
    change_bar_settings,
    changes,
    close_guest_link,
    guest_links,
    hand_out_token,
    invite_guests,
    spec_for_guest,
)
from service.counter.own import (
    describe_ingredient,
    forget_ingredient,
    own_ingredient,
    own_ingredients,
    redescribe_ingredient,
)
from service.counter.shelf import (
    bar_catalogue,
    bottle,
    count_stock,
    load_shelf_file,
    mark_out,
    preview_shelf_file,
    put_on_shelf,
    relabel_bottle,
    shelf,
    shelf_file,
    take_off_shelf,
)
from service.counter.specs import (
    accept_rescue,
    bar_spec,
    bar_specs,
    rescues_of_night,
    rewrite_spec,
    service_sheet,
    set_spec_status,
    spec_difference,
    spec_history,
    specs_without,
    undo_rescue,
    write_spec,
)
from service.counter.trials import (
    blind_test,
    blind_tests,
    close_test,
    count_trial_again,
    discount_trial,
    keep_answer,
    keep_plan,
    keep_trial,
    take_answer_back,
    trials,
)
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.kit import Conflict, NotFound
from tests.bar.drafts import BOTTLE, COFFEE, POURS, SPEC, WHO
from tests.bar.everything import everything

NIGHT = date(2026, 11, 20)


def test_a_bottle_from_the_door_to_the_bin(bar: Bar, catalogue: Catalogue) -> None:
    kept = put_on_shelf(bar, WHO, catalogue, BOTTLE)
    assert mark_out(bar, WHO, kept.id).out
    assert not mark_out(bar, WHO, kept.id, out=False).out
    kept = count_stock(bar, WHO, kept.id, -50.0)
    kept = relabel_bottle(bar, WHO, catalogue, kept.id, kept.version, replace(kept, label="right"))
    assert shelf(bar) == (bottle(bar, kept.id),) == (kept,)
    with pytest.raises(Conflict):
        take_off_shelf(bar, WHO, kept.id, kept.version - 1)
    take_off_shelf(bar, WHO, kept.id, kept.version)
    assert shelf(bar) == ()
    assert [line.what for line in changes(bar, noun="bottle", key=kept.id)] == [
        "removed", "changed", "changed", "changed", "changed", "added",
    ]  # fmt: skip


def test_the_shelf_as_a_file_seen_first_then_loaded(bar: Bar, catalogue: Catalogue) -> None:
    put_on_shelf(bar, WHO, catalogue, BOTTLE)
    content = "".join(shelf_file(bar)) + ",,nothing,x,,,700,,0,,,no\r\n"
    content += ",,rye-whiskey,x,,,700,,0,,,no\r\n"
    seen = preview_shelf_file(bar, catalogue, io.BytesIO(content.encode()))
    assert len(shelf(bar)) == 1
    told: list[int] = []
    bad: list[int] = []
    done = load_shelf_file(
        bar, WHO, catalogue, io.BytesIO(content.encode()),
        progress=told.append, on_bad=lambda row: bad.append(row.line),
    )  # fmt: skip
    assert done.counts == seen.counts
    assert (told, bad, done.bad_count) == ([3], [3], 1)
    assert {b.ingredient for b in shelf(bar)} == {"cognac", "rye-whiskey"}


def test_an_own_ingredient_can_be_shelved_poured_and_imported(
    bar: Bar, catalogue: Catalogue
) -> None:
    draft = OwnIngredientDraft(name="kelp syrup", role=Role.SWEETENER, notes={"smoke": 0.2})
    own = describe_ingredient(bar, WHO, catalogue, draft)
    own = redescribe_ingredient(
        bar, WHO, catalogue, own.id, own.version, replace(own, notes={"smoke": 0.3})
    )
    assert own_ingredients(bar) == (own_ingredient(bar, own.id),) == (own,)
    assert bar_catalogue(bar, catalogue).ingredient(own.id).name == "kelp syrup"
    put_on_shelf(bar, WHO, catalogue, replace(BOTTLE, ingredient=own.id))
    content = b"ingredient,size_ml\nKelp Syrup,500\n"
    assert load_shelf_file(bar, WHO, catalogue, io.BytesIO(content)).bad == []
    with pytest.raises(Conflict):
        forget_ingredient(bar, WHO, own.id, own.version)
    for each in shelf(bar):
        take_off_shelf(bar, WHO, each.id, each.version)
    forget_ingredient(bar, WHO, own.id, own.version)
    assert bar_catalogue(bar, catalogue) is catalogue


def test_a_coffee_from_the_bag_to_the_last_dose(bar: Bar) -> None:
    kept = open_bag(bar, WHO, COFFEE)
    described = as_described(kept)
    assert (described.notes, described.dose_g, described.profile) == (
        COFFEE.notes, COFFEE.dose_g, COFFEE.profile,
    )  # fmt: skip
    kept = correct_coffee(bar, WHO, kept.id, kept.version, replace(kept, in_use=False))
    assert bar_coffee(bar, kept.id) == kept
    assert bar_coffees(bar, in_use_only=True) == ()
    forget_coffee(bar, WHO, kept.id, kept.version)
    assert bar_coffees(bar) == ()


def test_a_spec_from_draft_to_guest_and_a_bottle_that_ran_out(
    bar: Bar, catalogue: Catalogue
) -> None:
    spec = write_spec(bar, WHO, catalogue, SPEC)
    spec = rewrite_spec(bar, WHO, catalogue, spec.id, 1, replace(SPEC, pours=POURS[:2]))
    spec = set_spec_status(bar, WHO, spec.id, spec.version, SpecStatus.LISTED)
    assert bar_specs(bar, SpecStatus.LISTED) == (bar_spec(bar, spec.id),) == (spec,)
    assert [s.revision for s in spec_history(bar, spec.id)] == [1, 2]
    assert [c.field for c in spec_difference(bar, spec.id, 1, 2)] == ["pours.fig-bitters"]
    assert specs_without(bar, "fig-liqueur") == (spec,)
    rescue = accept_rescue(
        bar, WHO, catalogue, spec.id, night=NIGHT, ingredient_out="fig-liqueur", pours=POURS[:1]
    )
    assert rescues_of_night(bar, NIGHT) == (rescue,)
    assert service_sheet(bar, spec.id, NIGHT).pours == POURS[:1]
    undo_rescue(bar, WHO, rescue.id, rescue.version)
    link = invite_guests(bar, WHO, spec.id)
    assert guest_links(bar, spec.id) == (link,)
    assert spec_for_guest(bar, link.token) == spec
    close_guest_link(bar, WHO, link.id)
    with pytest.raises(NotFound):
        spec_for_guest(bar, link.token)


def test_trials_and_blind_tests(bar: Bar, catalogue: Catalogue) -> None:
    spec = write_spec(bar, WHO, catalogue, SPEC)
    trial = keep_trial(bar, WHO, TrialDraft(spec_id=spec.id, liking=7))
    assert trials(bar, spec_id=spec.id) == (trial,)
    discount_trial(bar, WHO, trial.id)
    assert trials(bar) == ()
    assert len(trials(bar, counting_only=False)) == 1
    assert count_trial_again(bar, WHO, trial.id).counts
    test = keep_plan(bar, WHO, name="ice", kind=BlindKind.TRIANGLE, plan={"odd": ["A"]})
    slip = keep_answer(bar, WHO, test.id, seat=1, answer="B")
    take_answer_back(bar, WHO, slip.id, slip.version)
    answer = keep_answer(bar, WHO, test.id, seat=1, answer="A")
    assert blind_test(bar, test.id) == (test, (answer,))
    closed = close_test(bar, WHO, test.id, test.version, {"correct": 1})
    assert blind_tests(bar) == (closed,)


def test_the_house_and_who_may_look_in(bar: Bar) -> None:
    settings = change_bar_settings(bar, WHO, replace(bar_settings(bar), name="The Salt Stair"))
    assert settings == bar_settings(bar) == BarSettings(name="The Salt Stair", version=1)
    token, words = hand_out_token(bar, WHO, "till", frozenset({Scope.WRITE}))
    assert bearer(bar, words) == token
    assert api_tokens(bar) == (token,)
    call_token_in(bar, WHO, token.id)
    assert bearer(bar, words) is None


def test_everything_out_and_in_again(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    put_on_shelf(bar, WHO, catalogue, BOTTLE)
    rows = export_all(bar, tmp_path / "records")
    assert import_all(other_bar, WHO, tmp_path / "records") == rows == 2
    back_up(bar, tmp_path / "backup")
    restore(other_bar, tmp_path / "backup", replace=True)
    assert everything(other_bar) == everything(bar)
