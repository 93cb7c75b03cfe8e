"""What a replacement brings that the guest has not been told of: flagged before anything else."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from service.ingredients.records import Ingredient


class FlagKind(StrEnum):
    ALLERGEN = "allergen"
    CAUTION = "caution"


@dataclass(frozen=True, slots=True)
class Flag:
    """One allergen or caution that was not in the drink (or in the bottle) before."""

    kind: FlagKind
    code: str
    ingredient: str
    words: str


def new_flags(before: Iterable[Ingredient], brought: Iterable[Ingredient]) -> tuple[Flag, ...]:
    """Allergens first, then cautions, that `brought` holds and `before` did not."""
    before = list(before)
    had = {code for one in before for code in one.allergens}
    warned = {code for one in before for code in one.cautions}
    allergens, cautions = [], []
    for one in brought:
        for code in sorted(one.allergens - had):
            words = f"adds {code}: {one.name}; tell the guest, and read your own bottle's label"
            allergens.append(Flag(FlagKind.ALLERGEN, code, one.id, words))
        for code in sorted(one.cautions - warned):
            words = f"brings the caution {code.replace('-', ' ')}: {one.name}"
            cautions.append(Flag(FlagKind.CAUTION, code, one.id, words))
    return (*allergens, *cautions)
