"""What the pages, the API and the command line ask of the records, as they ask it."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest

from service.bar import (
    Bar,
    BottleDraft,
    OwnIngredientDraft,
    add_bottle,
    add_own_ingredient,
    bottles_on_shelf,
    remove_bottle,
    remove_own_ingredient,
)
from service.counter.backup import back_up, restore
from service.counter.exchange import export_all, import_all
from service.counter.own import own_ingredients
from service.counter.shelf import (
    catalogue_in,
    load_shelf_file,
    preview_shelf_file,
    shelf,
    shelf_file,
)
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.kit import Conflict
from tests.bar.drafts import BOTTLE, WHO
from tests.bar.everything import everything


def put_on_shelf(bar: Bar, catalogue: Catalogue, draft: BottleDraft) -> None:
    with bar.unit(WHO) as unit:
        add_bottle(unit, catalogue_in(unit, catalogue), draft)


def test_the_shelf_as_a_file_seen_first_then_loaded(bar: Bar, catalogue: Catalogue) -> None:
    put_on_shelf(bar, catalogue, BOTTLE)
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
    with bar.unit(WHO) as unit:
        own = add_own_ingredient(unit, catalogue, draft)
    assert own_ingredients(bar) == (own,)
    put_on_shelf(bar, catalogue, replace(BOTTLE, ingredient=own.id))
    content = b"ingredient,size_ml\nKelp Syrup,500\n"
    assert load_shelf_file(bar, WHO, catalogue, io.BytesIO(content)).bad == []
    with pytest.raises(Conflict), bar.unit(WHO) as unit:
        remove_own_ingredient(unit, own.id, own.version)
    with bar.unit(WHO) as unit:
        for each in bottles_on_shelf(unit):
            remove_bottle(unit, each.id, each.version)
        remove_own_ingredient(unit, own.id, own.version)
        assert catalogue_in(unit, catalogue) is catalogue


def test_everything_out_and_in_again(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    put_on_shelf(bar, catalogue, BOTTLE)
    rows = export_all(bar, tmp_path / "records")
    assert import_all(other_bar, WHO, tmp_path / "records") == rows == 2
    back_up(bar, tmp_path / "backup")
    restore(other_bar, tmp_path / "backup", replace=True)
    assert everything(other_bar) == everything(bar)
