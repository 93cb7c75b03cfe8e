"""The shelf: two tablets and one bottle, out and back in, stock that both hands count."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.bar import (
    ALLERGENS,
    Bar,
    BottleDraft,
    audit_lines,
    bottles_on_shelf,
    check_bottle,
    ids_on_shelf,
    labelled,
    move_stock,
    read_bottle,
    remove_bottle,
    rewrite_bottle,
    set_out,
)
from service.ingredients import Catalogue
from service.kit import BadData, Conflict, NotFound, OutOfRange, ServiceError
from tests.bar.drafts import BOTTLE, WHO, a_bottle


def test_a_bottle_comes_back_as_it_was_written(bar: Bar, catalogue: Catalogue) -> None:
    draft = replace(
        BOTTLE, label="Müll; \"x\", ĳ 😀", notes="two\nlines", allergens=("nuts", "milk"),
        sugar_g_per_l=0.1 + 0.2, price=None,
    )  # fmt: skip
    kept = a_bottle(bar, catalogue, draft)
    with bar.look() as unit:
        assert read_bottle(unit, kept.id) == kept
    assert kept.allergens == ("milk", "nuts")
    assert check_bottle(kept, catalogue) == kept
    assert (kept.label, kept.notes, kept.sugar_g_per_l) == (draft.label, draft.notes, 0.1 + 0.2)
    assert (kept.price, kept.out, kept.version) == (None, False, 1)


def test_the_second_of_two_tablets_is_told_what_the_first_changed(
    bar: Bar, catalogue: Catalogue
) -> None:
    seen = a_bottle(bar, catalogue)
    with bar.unit("Ada") as unit:
        rewrite_bottle(unit, catalogue, seen.id, seen.version, replace(seen, price=35.5))
    with pytest.raises(Conflict) as caught, bar.unit("Zoë") as unit:
        rewrite_bottle(unit, catalogue, seen.id, seen.version, replace(seen, label="right"))
    message = str(caught.value)
    assert "Ada" in message
    assert "price is now 35.5" in message
    assert "label" not in message
    with bar.look() as unit:
        now = read_bottle(unit, seen.id)
    assert (now.price, now.label, now.version) == (35.5, seen.label, 2)


def test_a_bottle_marked_out_under_an_open_form_is_not_marked_in_by_it(
    bar: Bar, catalogue: Catalogue
) -> None:
    seen = a_bottle(bar, catalogue)
    with bar.unit(WHO) as unit:
        set_out(unit, seen.id, True)
    with pytest.raises(Conflict, match="out is now True"), bar.unit(WHO) as unit:
        rewrite_bottle(unit, catalogue, seen.id, seen.version, replace(seen, label="new"))


def test_out_and_back_in_need_no_version(bar: Bar, catalogue: Catalogue) -> None:
    kept = a_bottle(bar, catalogue)
    other = a_bottle(bar, catalogue, replace(BOTTLE, ingredient="fig-liqueur"))
    with bar.unit(WHO) as unit:
        set_out(unit, kept.id, True)
        assert ids_on_shelf(unit) == {"fig-liqueur"}
        set_out(unit, other.id, True)
        set_out(unit, kept.id, False)
        assert ids_on_shelf(unit) == {"cognac"}


def test_one_bottle_of_two_keeps_the_ingredient_on_the_shelf(
    bar: Bar, catalogue: Catalogue
) -> None:
    first, _ = a_bottle(bar, catalogue), a_bottle(bar, catalogue)
    with bar.unit(WHO) as unit:
        set_out(unit, first.id, True)
        assert ids_on_shelf(unit) == {"cognac"}


def test_stock_moves_add_up_and_never_fall_below_nothing(bar: Bar, catalogue: Catalogue) -> None:
    kept = a_bottle(bar, catalogue)
    with bar.unit(WHO) as unit:
        move_stock(unit, kept.id, -400.0)
        assert move_stock(unit, kept.id, 700.0).stock_ml == 1700.0
    with pytest.raises(OutOfRange), bar.unit(WHO) as unit:
        move_stock(unit, kept.id, -1700.5)


def test_a_removed_bottle_is_gone_and_its_line_says_what_it_was(
    bar: Bar, catalogue: Catalogue
) -> None:
    kept = a_bottle(bar, catalogue)
    with bar.unit(WHO) as unit:
        remove_bottle(unit, kept.id, kept.version)
    with bar.look() as unit:
        assert bottles_on_shelf(unit) == ()
        line = audit_lines(unit)[0]
        with pytest.raises(NotFound):
            read_bottle(unit, kept.id)
    assert (line.what, line.changes["label"]) == ("removed", [BOTTLE.label, None])
    assert a_bottle(bar, catalogue).id > kept.id


@pytest.mark.parametrize(
    ("field", "value", "error"),
    [
        ("ingredient", "no-such-thing", NotFound),
        ("ingredient", "coffee-light-washed-arabica", BadData),
        ("label", "two\nlines", BadData),
        ("label", "x" * 121, BadData),
        ("label", "bell\x07", BadData),
        ("label", "half \ud83d", BadData),
        ("abv_percent", 97.5, OutOfRange),
        ("abv_percent", -1.0, OutOfRange),
        ("abv_percent", float("nan"), OutOfRange),
        ("sugar_g_per_l", 1200.0, OutOfRange),
        ("size_ml", 0.0, OutOfRange),
        ("price", -0.01, OutOfRange),
        ("stock_ml", float("inf"), OutOfRange),
        ("allergens", ("pollen",), BadData),
    ],
)
def test_what_no_label_can_say_is_refused_with_its_field(
    catalogue: Catalogue, field: str, value: object, error: type[ServiceError]
) -> None:
    with pytest.raises(error) as caught:
        check_bottle(replace(BOTTLE, **{field: value}), catalogue)
    assert caught.value.field == field


def test_a_label_outranks_its_category(catalogue: Catalogue) -> None:
    category = catalogue.ingredient("hazelnut-liqueur")
    said = BottleDraft(ingredient="hazelnut-liqueur", abv_percent=20.0, allergens=("milk",))
    poured = labelled(said, catalogue)
    assert (poured.composition.abv.low, poured.composition.abv.high) == (0.2, 0.2)
    assert poured.composition.sugar_g_per_l == category.composition.sugar_g_per_l
    assert poured.allergens == category.allergens | {"milk"}


def test_the_dataset_speaks_of_no_other_allergens(catalogue: Catalogue) -> None:
    # Regulation (EU) No 1169/2011, Annex II, counts fourteen.
    assert len(ALLERGENS) == 14
    assert all(i.allergens <= ALLERGENS for i in catalogue.ingredients.values())
