"""What the pages, the API and the command line ask of the records, as they ask it."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest

from service.bar import Bar, OwnIngredientDraft, audit_lines
from service.counter.backup import back_up, restore
from service.counter.exchange import export_all, import_all
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
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.kit import Conflict
from tests.bar.drafts import BOTTLE, WHO
from tests.bar.everything import everything


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
    with bar.look() as unit:
        lines = audit_lines(unit, noun="bottle", key=kept.id)
    assert [line.what for line in lines] == [
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


def test_everything_out_and_in_again(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    put_on_shelf(bar, WHO, catalogue, BOTTLE)
    rows = export_all(bar, tmp_path / "records")
    assert import_all(other_bar, WHO, tmp_path / "records") == rows == 2
    back_up(bar, tmp_path / "backup")
    restore(other_bar, tmp_path / "backup", replace=True)
    assert everything(other_bar) == everything(bar)
