"""The demo bar is invented: none of its drinks is a known one, nor a near copy of one."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from service.counter.known import Known
from service.ingredients.records import Ingredient, Role, Spec
from tests.docs.regenerate import ROOT
from tests.web.api.samples import DEMO

DRINKS: list[dict[str, Any]] = DEMO["drinks"]
MAIN = {Role.BASE, Role.MODIFIER}
SHOWN = ("README.md", "openapi_notes/README.md", "openapi_notes/openapi-v1.json")


def plain(name: str) -> str:
    """A name without case, articles and punctuation."""
    words = re.findall(r"[a-z]+", name.lower().replace("'", ""))
    return " ".join(word for word in words if word not in {"the", "a", "cocktail"})


def mains(ingredients: dict[str, Ingredient], ids: list[str]) -> frozenset[str]:
    """The bases and modifiers of a drink; a spec may pour `coffee`, which is a family of ids."""
    return frozenset(i for i in ids if i in ingredients and ingredients[i].role in MAIN)


def styles(ingredients: dict[str, Ingredient], ids: list[str]) -> frozenset[str]:
    """The same by style: any gin counts as gin."""
    return frozenset(ingredients[i].style for i in mains(ingredients, ids))


def parts_of(spec: Spec) -> list[str]:
    return [pour.ingredient for pour in spec.pours]


@pytest.mark.parametrize("drink", DRINKS, ids=lambda d: d["name"])
def test_no_drink_of_the_demo_has_the_name_of_a_public_one(
    known: Known, drink: dict[str, Any]
) -> None:
    assert plain(drink["name"]) not in {plain(spec.name) for spec in known.catalogue.specs}


@pytest.mark.parametrize("drink", DRINKS, ids=lambda d: d["name"])
def test_no_drink_of_the_demo_is_a_near_copy_of_a_public_one(
    known: Known, drink: dict[str, Any]
) -> None:
    ingredients = dict(known.catalogue.ingredients)
    ids = [ingredient for ingredient, _ in drink["pours"]]
    same = [
        spec.name
        for spec in known.catalogue.specs
        if mains(ingredients, parts_of(spec)) == mains(ingredients, ids)
        or styles(ingredients, parts_of(spec)) == styles(ingredients, ids)
    ]
    assert not same


def test_a_near_copy_would_be_found_out(known: Known) -> None:
    ingredients = dict(known.catalogue.ingredients)
    copies = [
        spec
        for spec in known.catalogue.specs
        if mains(ingredients, parts_of(spec)) == {"rye-whiskey", "sweet-vermouth"}
    ]
    assert copies


def test_the_demo_says_that_it_is_invented() -> None:
    assert "invented" in DEMO["invented"].lower()
    for shown in SHOWN[:2]:
        assert "invented" in (ROOT / shown).read_text(encoding="utf-8")


@pytest.mark.parametrize("shown", SHOWN)
def test_documents_name_no_public_drink(known: Known, shown: str) -> None:
    text = f" {plain((ROOT / shown).read_text(encoding='utf-8'))} "
    names = {plain(spec.name) for spec in known.catalogue.specs}
    # A name of one word may be an ordinary word; of two or more it is a drink.
    assert not [name for name in names if " " in name and f" {name} " in text]


def test_all_that_is_poured_in_the_demo_is_known(known: Known) -> None:
    text = json.dumps(DEMO)
    pours = [ingredient for drink in DRINKS for ingredient, _ in drink["pours"]]
    assert set(pours) <= set(known.catalogue.ingredients)
    assert set(pours) <= {bottle["ingredient"] for bottle in DEMO["shelf"]}
    assert "Salt Stair" in text
    assert "Port Merrow" in text
