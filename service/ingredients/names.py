"""Finding an ingredient by what a bartender calls it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from service.ingredients.records import Ingredient
from service.kit import NotFound

# Below this similarity (0-100, rapidfuzz WRatio) two names are not worth proposing;
# our estimate, set so that one-letter slips pass and other categories do not.
NEAR_ENOUGH = 72.0


def plain(text: str) -> str:
    """Lower case, no accents, single spaces: the form in which names are compared.

    >>> plain("Crème  de CASSIS")
    'creme de cassis'
    """
    bare = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(c if c.isalnum() else " " for c in bare if not unicodedata.combining(c))
    return " ".join(letters.split())


def find_ingredient(
    ingredients: Iterable[Ingredient], text: str, *, field: str | None = None
) -> Ingredient:
    """The ingredient of that id, name or alias; NotFound names the nearest ones."""
    wanted = plain(text)
    names = _names(ingredients)
    if wanted in names:
        return names[wanted]
    near = near_names(names, wanted)
    hint = f"nearest: {', '.join(near)}" if near else "look it up in the list of ingredients"
    raise NotFound(f"{text!r} is no ingredient known here; {hint}", field=field)


def search(ingredients: Iterable[Ingredient], text: str, limit: int = 10) -> list[Ingredient]:
    """Ingredients whose name or alias holds the text, then those that sound like it."""
    wanted = plain(text)
    names = _names(ingredients)
    holding = [i for name, i in sorted(names.items()) if wanted in name]
    near = [names[name] for name in near_names(names, wanted, limit)]
    unique = {i.id: i for i in (*holding, *near)}
    return list(unique.values())[:limit]


def near_names(names: Iterable[str], wanted: str, limit: int = 3) -> list[str]:
    """Names most like the wanted one, best first."""
    from rapidfuzz import fuzz, process

    found = process.extract(wanted, list(names), scorer=fuzz.WRatio, limit=limit)
    return [name for name, score, _ in found if score >= NEAR_ENOUGH]


def _names(ingredients: Iterable[Ingredient]) -> dict[str, Ingredient]:
    """Every plain name; ids outrank names, names outrank aliases."""
    known = list(ingredients)
    names: dict[str, Ingredient] = {}
    for ingredient in known:
        for alias in ingredient.aliases:
            names.setdefault(plain(alias), ingredient)
    names.update((plain(i.name), i) for i in known)
    names.update((plain(i.id), i) for i in known)
    return names
