"""Ranked replacements without a drink: shelf, flags, floor, what to buy, always the same."""

from __future__ import annotations

import time

import pytest

from service.ingredients import PROFILES
from service.kit import BadData, OutOfRange
from service.recommend.swap import FlagKind, SwapKnowledge, stand_ins


def names(replacing: SwapKnowledge, missing: str, **given: object) -> list[str]:
    found = stand_ins(replacing, missing, **given)  # type: ignore[arg-type]
    return [one.ingredient for one in found.options]


def test_a_base_is_replaced_by_a_base_and_never_by_itself(replacing: SwapKnowledge) -> None:
    best = names(replacing, "bourbon")
    assert best[0] == "rye-whiskey"
    assert "bourbon" not in best


def test_the_best_come_first_and_ties_go_by_id(replacing: SwapKnowledge) -> None:
    scores = [one.score for one in stand_ins(replacing, "oloroso-sherry").options]
    assert scores == sorted(scores, reverse=True)
    assert names(replacing, "oloroso-sherry") == names(replacing, "oloroso-sherry")


def test_only_the_shelf_is_offered(replacing: SwapKnowledge) -> None:
    shelf = ["curacao", "orange-amer", "coffee-liqueur", "triple-sec"]
    assert names(replacing, "triple-sec", shelf=shelf) == ["curacao", "orange-amer"]


def test_the_order_of_the_shelf_does_not_matter(replacing: SwapKnowledge) -> None:
    shelf = ["curacao", "mandarin-liqueur", "brandy-orange-liqueur", "orange-amer"]
    assert names(replacing, "triple-sec", shelf=shelf) == names(
        replacing, "triple-sec", shelf=shelf[::-1]
    )


def test_a_shelf_that_cannot_do_it_says_so_and_what_to_buy(replacing: SwapKnowledge) -> None:
    found = stand_ins(replacing, "px-sherry", shelf=["vodka", "london-gin", "celery-bitters"])
    assert found.nothing_does_it
    assert found.options == ()
    assert found.to_buy[0].ingredient == "cream-sherry"


def test_a_good_shelf_is_not_sent_shopping(replacing: SwapKnowledge) -> None:
    assert stand_ins(replacing, "px-sherry", shelf=["cream-sherry"]).to_buy == ()


def test_what_is_to_buy_is_better_than_the_shelf_and_not_on_it(replacing: SwapKnowledge) -> None:
    shelf = ["medium-amaro", "vodka"]
    found = stand_ins(replacing, "walnut-liqueur", shelf=shelf)
    assert [one.ingredient for one in found.options] == ["medium-amaro"]
    for one in found.to_buy:
        assert one.ingredient not in shelf
        assert one.score > found.options[0].score


def test_a_new_allergen_is_flagged_before_anything_else(replacing: SwapKnowledge) -> None:
    found = stand_ins(replacing, "maraschino", shelf=["almond-liqueur"]).options[0]
    assert [(flag.kind, flag.code) for flag in found.flags] == [(FlagKind.ALLERGEN, "nuts")]
    assert next(iter(found.__dataclass_fields__)) == "flags"


def test_every_allergen_and_caution_that_is_new_is_flagged(replacing: SwapKnowledge) -> None:
    for missing in replacing.ids[::3]:
        old = replacing.ingredients[missing]
        for one in stand_ins(replacing, missing).options:
            new = replacing.ingredients[one.ingredient]
            flagged = {(flag.kind, flag.code) for flag in one.flags}
            expected = {(FlagKind.ALLERGEN, code) for code in new.allergens - old.allergens}
            expected |= {(FlagKind.CAUTION, code) for code in new.cautions - old.cautions}
            assert flagged == expected


def test_an_avoided_allergen_never_comes_in(replacing: SwapKnowledge) -> None:
    without = names(replacing, "walnut-liqueur", avoid=frozenset({"nuts"}))
    assert without
    for name in without:
        assert "nuts" not in replacing.ingredients[name].allergens


def test_parts_sum_to_the_score(replacing: SwapKnowledge) -> None:
    for one in stand_ins(replacing, "sweet-vermouth").options:
        assert sum(one.parts.values()) == pytest.approx(one.score, abs=1e-9)


def test_confidence_and_shares_lie_between_zero_and_one(replacing: SwapKnowledge) -> None:
    for missing in replacing.ids[::3]:
        for one in stand_ins(replacing, missing).options:
            assert 0 < one.confidence <= 1
            assert -1e-9 <= one.kept_share <= 1 + 1e-9
            assert -1e-9 <= one.added_share <= 1 + 1e-9


def test_lost_notes_are_those_of_the_old_bottle(replacing: SwapKnowledge) -> None:
    space = replacing.space
    one = stand_ins(replacing, "peated-malt-whisky", shelf=["malt-whisky"]).options[0]
    lost = {note.descriptor for note in one.notes.lost}
    assert "smoke" in lost
    for note in one.notes.lost:
        column = space.descriptor_index[note.descriptor]
        assert space.notes[space.index["peated-malt-whisky"], column] > 0


def test_no_note_is_both_kept_and_lost_or_both_kept_and_new(replacing: SwapKnowledge) -> None:
    for missing in replacing.ids[::5]:
        for one in stand_ins(replacing, missing).options:
            kept, lost, gained = (
                {note.descriptor for note in notes}
                for notes in (one.notes.kept, one.notes.lost, one.notes.gained)
            )
            assert not kept & lost
            assert not kept & gained
            assert not lost & gained


def test_both_are_poured_with_the_partners_named(replacing: SwapKnowledge) -> None:
    custom = replacing.custom
    for one in stand_ins(replacing, "rye-whiskey").options:
        for partner in one.partners:
            for bottle in (one.missing, one.ingredient):
                assert custom.specs[custom.index[bottle], custom.index[partner]] > 0


def test_a_coffee_is_not_swapped(replacing: SwapKnowledge) -> None:
    with pytest.raises(BadData, match="coffee"):
        stand_ins(replacing, next(iter(PROFILES)))


@pytest.mark.parametrize("limit", [0, 101])
def test_a_list_has_between_one_and_a_hundred_lines(replacing: SwapKnowledge, limit: int) -> None:
    with pytest.raises(OutOfRange):
        stand_ins(replacing, "bourbon", limit=limit)


def test_a_swap_without_a_drink_takes_less_than_ten_milliseconds(
    replacing: SwapKnowledge,
) -> None:
    def seconds() -> float:
        start = time.process_time()
        for missing in replacing.ids[::12]:
            stand_ins(replacing, missing)
        return (time.process_time() - start) / len(replacing.ids[::12])

    assert min(seconds() for _ in range(3)) < 0.010
