"""The bar's own ingredients take part beside the dataset's, and never over them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.bar import (
    OWN_SOURCE,
    Bar,
    OwnIngredient,
    OwnIngredientDraft,
    add_own_ingredient,
    list_own_ingredients,
    meaning_of,
    read_own_ingredient,
    remove_own_ingredient,
    rewrite_own_ingredient,
    with_own_ingredients,
)
from service.ingredients import Catalogue
from service.ingredients.records import Grade, Role
from service.kit import BadData, Conflict, Interval, NotFound, OutOfRange, ServiceError
from tests.bar.drafts import BOTTLE, SPEC, WHO, a_bottle, a_spec

SMOKE_WATER = OwnIngredientDraft(
    name="Pier smoke", role=Role.SEASONING, notes={"smoke": 0.8}, remarks="from the kiln"
)
KELP_SYRUP = OwnIngredientDraft(
    name="kelp syrup", role=Role.SWEETENER,
    composition={"sugar_g_per_l": Interval(580, 600, 640), "salt_g_per_l": Interval.exactly(6.0)},
)  # fmt: skip


def kept(draft: OwnIngredientDraft, own_id: str = "own-x") -> OwnIngredient:
    values = {name: getattr(draft, name) for name in OwnIngredientDraft.__dataclass_fields__}
    return OwnIngredient(**values, id=own_id, version=1)


def test_an_own_ingredient_comes_back_as_it_was_described(bar: Bar, catalogue: Catalogue) -> None:
    with bar.unit(WHO) as unit:
        smoke = add_own_ingredient(unit, catalogue, SMOKE_WATER)
        syrup = add_own_ingredient(unit, catalogue, KELP_SYRUP)
        assert (smoke.id, syrup.id) == ("own-pier-smoke", "own-kelp-syrup")
        assert read_own_ingredient(unit, syrup.id) == syrup
        assert syrup.composition == KELP_SYRUP.composition
        assert list_own_ingredients(unit) == (syrup, smoke)


def test_known_by_its_notes_alone_it_holds_what_its_role_spans(catalogue: Catalogue) -> None:
    meaning = meaning_of(kept(SMOKE_WATER), catalogue)
    assert [(n.subject, n.descriptor, n.weight) for n in meaning.notes] == [("own-x", "smoke", 0.8)]
    assert meaning.occurrences == ()
    assert meaning.ingredient.grade is Grade.ESTIMATE
    of_role = [i.composition.abv for i in catalogue.of_role(Role.SEASONING)]
    assert meaning.ingredient.composition.abv.low == min(each.low for each in of_role)
    assert meaning.ingredient.composition.abv.high == max(each.high for each in of_role)


def test_known_by_what_it_holds_the_rest_is_its_styles(catalogue: Catalogue) -> None:
    holds = meaning_of(kept(replace(KELP_SYRUP, style="syrup")), catalogue).ingredient.composition
    assert holds.sugar_g_per_l == Interval(580, 600, 640)
    assert holds.salt_g_per_l == Interval.exactly(6.0)
    assert holds.abv == Interval.exactly(0.0)


def test_like_another_but_without_one_note_and_with_more_of_another(small: Catalogue) -> None:
    # The worked catalogue: clove holds eugenol (spice) and guaiacol (smoke).
    draft = OwnIngredientDraft(
        name="pale clove", role=Role.MODIFIER, like_id="clove", without=("smoke",),
        notes={"marzipan": 0.5}, composition={"abv": Interval.exactly(0.3)},
    )  # fmt: skip
    meaning = meaning_of(kept(draft), small)
    assert [(o.ingredient, o.odorant) for o in meaning.occurrences] == [("own-x", "eugenol")]
    assert [n.descriptor for n in meaning.notes] == ["marzipan"]
    assert meaning.ingredient.composition.abv == Interval.exactly(0.3)
    assert meaning.ingredient.composition.sugar_g_per_l == Interval.exactly(0.0)
    assert {o.grade for o in meaning.occurrences} == {Grade.ESTIMATE}


def test_an_own_ingredient_takes_the_notes_of_what_it_is_like(catalogue: Catalogue) -> None:
    like = next(n for n in catalogue.ingredient_notes if n.subject == "hazelnut-liqueur")
    draft = OwnIngredientDraft(name="house nut", role=Role.MODIFIER, like_id="hazelnut-liqueur")
    meaning = meaning_of(kept(draft), catalogue)
    shipped = {n.descriptor for n in catalogue.ingredient_notes if n.subject == like.subject}
    assert {n.descriptor for n in meaning.notes} == shipped
    assert meaning.ingredient.allergens == catalogue.ingredient(like.subject).allergens
    without = meaning_of(kept(replace(draft, without=(like.descriptor,))), catalogue)
    assert {n.descriptor for n in without.notes} == shipped - {like.descriptor}


def test_the_extended_catalogue_knows_them_and_their_source(catalogue: Catalogue) -> None:
    extended = with_own_ingredients(catalogue, [kept(SMOKE_WATER, "own-pier-smoke")])
    assert extended.ingredient("own-pier-smoke").name == "Pier smoke"
    assert extended.sources[OWN_SOURCE.id] == OWN_SOURCE
    assert set(catalogue.ingredients) < set(extended.ingredients)
    assert with_own_ingredients(catalogue, []) is catalogue


def test_no_shipped_id_begins_as_own_ones_do(catalogue: Catalogue) -> None:
    assert not [i for i in catalogue.ingredients if i.startswith("own-")]


@pytest.mark.parametrize("name", ["Cognac", "sweet vermouth", "green fairy"])
def test_a_name_of_the_dataset_is_not_free(bar: Bar, catalogue: Catalogue, name: str) -> None:
    with pytest.raises(BadData) as caught, bar.unit(WHO) as unit:
        add_own_ingredient(unit, catalogue, replace(SMOKE_WATER, name=name))
    assert caught.value.field == "name"


def test_two_of_the_same_name_are_a_conflict_and_like_names_get_ids_of_their_own(
    bar: Bar, catalogue: Catalogue
) -> None:
    with bar.unit(WHO) as unit:
        add_own_ingredient(unit, catalogue, SMOKE_WATER)
        other = add_own_ingredient(unit, catalogue, replace(SMOKE_WATER, name="Pier smoke Ж"))
        assert other.id == "own-pier-smoke-2"
        with pytest.raises(Conflict):
            add_own_ingredient(unit, catalogue, replace(SMOKE_WATER, name="PIER  SMOKE"))


def test_it_can_stand_on_the_shelf_and_in_a_spec_and_then_stays(
    bar: Bar, catalogue: Catalogue
) -> None:
    with bar.unit(WHO) as unit:
        own = add_own_ingredient(unit, catalogue, KELP_SYRUP)
    extended = with_own_ingredients(catalogue, [own])
    bottle = a_bottle(bar, extended, replace(BOTTLE, ingredient=own.id, abv_percent=0.0))
    assert bottle.ingredient == own.id
    pours = (SPEC.pours[0], replace(SPEC.pours[1], ingredient=own.id))
    a_spec(bar, extended, replace(SPEC, pours=pours))
    with pytest.raises(Conflict, match="Rope Walk"), bar.unit(WHO) as unit:
        remove_own_ingredient(unit, own.id, own.version)


def test_the_second_editor_of_an_own_ingredient_is_told(bar: Bar, catalogue: Catalogue) -> None:
    with bar.unit(WHO) as unit:
        own = add_own_ingredient(unit, catalogue, SMOKE_WATER)
        darker = replace(SMOKE_WATER, notes={"smoke": 1.0})
        rewrite_own_ingredient(unit, catalogue, own.id, 1, darker)
    with pytest.raises(Conflict, match="notes"), bar.unit(WHO) as unit:
        rewrite_own_ingredient(unit, catalogue, own.id, 1, replace(SMOKE_WATER, remarks="x"))
    with bar.unit(WHO) as unit:
        remove_own_ingredient(unit, own.id, 2)
        assert list_own_ingredients(unit) == ()


@pytest.mark.parametrize(
    ("changes", "error", "field"),
    [
        ({"notes": {}}, BadData, "notes"),
        ({"notes": {"no-such-note": 0.5}}, BadData, "notes"),
        ({"notes": {"smoke": 1.5}}, OutOfRange, "notes.smoke"),
        ({"like_id": "nothing"}, NotFound, "like_id"),
        ({"without": ("smoke",)}, BadData, "without"),
        ({"composition": {"proof": Interval.exactly(1)}}, BadData, "composition.proof"),
        ({"composition": {"abv": Interval(0.1, 0.5, 1.2)}}, OutOfRange, "composition.abv"),
        ({"role": Role.COFFEE}, BadData, "role"),
        ({"allergens": ("dust",)}, BadData, "allergens"),
    ],
)
def test_what_says_nothing_or_too_much_is_refused_with_its_field(
    bar: Bar,
    catalogue: Catalogue,
    changes: dict[str, object],
    error: type[ServiceError],
    field: str,
) -> None:
    with pytest.raises(error) as caught, bar.unit(WHO) as unit:
        add_own_ingredient(unit, catalogue, replace(SMOKE_WATER, **changes))
    assert caught.value.field == field
