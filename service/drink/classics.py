"""The reference drinks of the balance band: stirred spirit drinks of public specification."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

import numpy as np

from service.drink.parts import Drink, Pour, spirit_share
from service.drink.reading import before_coffee, styles_of
from service.ingredients.records import Ingredient, Spec
from service.kit import BadData
from service.taste import Band, BandSettings, Percept, Reference, fit_band

_METHODS: Final = ("stirred", "built")
# Drinks with less spirit than this are wine drinks: another trade, another balance.
_LEAST_SPIRIT_SHARE: Final = 0.3


def reference_drinks(
    ingredients: Mapping[str, Ingredient], specs: Iterable[Spec]
) -> tuple[Drink, ...]:
    """The newest specification of each reference drink that has a base spirit, in order of name."""
    newest: dict[str, tuple[int, Drink]] = {}
    for spec in specs:
        if not spec.reference or spec.method not in _METHODS:
            continue
        drink = drink_of(spec, ingredients)
        year = int(spec.year)
        if spirit_share(drink) >= _LEAST_SPIRIT_SHARE and year >= newest.get(spec.name, (0,))[0]:
            newest[spec.name] = (year, drink)
    return tuple(newest[name][1] for name in sorted(newest))


def drink_of(spec: Spec, ingredients: Mapping[str, Ingredient]) -> Drink:
    """A public specification as a drink, stirred as a bar usually does."""
    missing = [pour.ingredient for pour in spec.pours if pour.ingredient not in ingredients]
    if missing:
        raise BadData(f"{spec.name} pours {missing[0]!r}, which no ingredient is", field="pours")
    pours = tuple(Pour(ingredients[p.ingredient], p.volume_ml) for p in spec.pours)
    return Drink(pours, name=spec.name)


def references_of(drinks: Iterable[Drink]) -> list[Reference]:
    """Drinks as points of the band: as they taste out of the mixing glass, and their families."""
    drinks = list(drinks)
    amounts = before_coffee(drinks)
    percept = amounts.tasted()
    columns = [
        np.asarray(taste)[:, 0].tolist()
        for taste in (percept.sweet, percept.bitter, percept.sour, percept.salt, percept.heat)
    ]
    tastes = zip(*columns, strict=True)
    return [
        Reference(drink.name, Percept(*taste), style)
        for drink, taste, style in zip(drinks, tastes, styles_of(drinks, amounts), strict=True)
    ]


def band_of_classics(
    ingredients: Mapping[str, Ingredient],
    specs: Iterable[Spec],
    settings: BandSettings | None = None,
) -> Band:
    """The balance band learnt from the reference specifications of a catalogue."""
    return fit_band(references_of(reference_drinks(ingredients, specs)), settings)
