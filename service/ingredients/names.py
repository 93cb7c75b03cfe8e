"""Finding an ingredient by what a bartender calls it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from service.ingredients.records import Ingredient
from service.kit import NotFound

# Below this similarity (0-100, rapidfuzz WRatio) two names are not worth proposing;
# our estimate, set so that one-letter slips pass and other categories do not.
NEAR_ENOUGH = 72.0
# A message repeats at most this much of what was given.
LONGEST_SHOWN = 60


def plain(text: str) -> str:
    """Lower case, no accents, single spaces: the form in which names are compared.

    >>> plain("Crème  de CASSIS")
    'creme de cassis'
    """
    bare = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(c if c.isalnum() else " " for c in bare if not unicodedata.combining(c))
    return " ".join(letters.split())


@dataclass(frozen=True, slots=True)
class NameIndex:
    """Every plain id, name and alias of a set of ingredients, built once."""

    names: Mapping[str, Ingredient]

    @classmethod
    def of(cls, ingredients: Iterable[Ingredient]) -> NameIndex:
        """Ids outrank names, names outrank aliases."""
        known = list(ingredients)
        names: dict[str, Ingredient] = {}
        for ingredient in known:
            for alias in ingredient.aliases:
                names.setdefault(plain(alias), ingredient)
        names.update((plain(i.name), i) for i in known)
        names.update((plain(i.id), i) for i in known)
        return cls(MappingProxyType(names))

    def find(self, text: str, *, field: str | None = None) -> Ingredient:
        """The ingredient of that id, name or alias; NotFound names the nearest ones."""
        wanted = plain(text)
        if wanted in self.names:
            return self.names[wanted]
        near = near_names(self.names, wanted)
        hint = f"nearest: {', '.join(near)}" if near else "look it up in the list of ingredients"
        shown = text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."
        raise NotFound(f"{shown!r} is no ingredient known here; {hint}", field=field)

    def search(self, text: str, limit: int = 10) -> list[Ingredient]:
        """Ingredients whose name or alias holds the text, then those that sound like it."""
        wanted = plain(text)
        holding = [i for name, i in sorted(self.names.items()) if wanted in name]
        near = [self.names[name] for name in near_names(self.names, wanted, limit)]
        unique = {i.id: i for i in (*holding, *near)}
        return list(unique.values())[:limit]


def near_names(names: Iterable[str], wanted: str, limit: int = 3) -> list[str]:
    """Names most like the wanted one, best first."""
    from rapidfuzz import fuzz, process

    found = process.extract(wanted[:LONGEST_SHOWN], list(names), scorer=fuzz.WRatio, limit=limit)
    return [name for name, score, _ in found if score >= NEAR_ENOUGH]
