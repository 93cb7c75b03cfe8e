"""Finding an ingredient by what a bartender calls it."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log
from types import MappingProxyType

from service.ingredients.records import Ingredient
from service.kit import NotFound

# How alike two words must be to be taken for one another (0-1, one less the edits per letter of
# the longer), and how much of two names must then be in common. Our estimates, set so that slips
# pass (`vermuth`, `likeur`) and words that only sound alike do not.
WORDS_ALIKE = 0.7
NEAR_ENOUGH = 0.4
# Beside a good match, poor ones are no help: at least so much of the best.
BESIDE_BEST = 0.6
# From so many letters on, a word that begins another is taken for it, as well as this.
PREFIX_LETTERS, PREFIX_ALIKE = 4, 0.8
# A message repeats at most this much of what was given.
LONGEST_SHOWN = 60
# And proposes so many ingredients.
MOST_NAMED = 3


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
        near = self._one_each(near_names(self.names, wanted, limit=3 * MOST_NAMED))
        hint = f"nearest: {', '.join(near)}" if near else "look it up in the list of ingredients"
        shown = text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."
        raise NotFound(f"{shown!r} is no ingredient known here; {hint}", field=field)

    def _one_each(self, names: Iterable[str]) -> list[str]:
        """The first name of each of the first few ingredients."""
        first: dict[str, str] = {}
        for name in names:
            first.setdefault(self.names[name].id, name)
        return list(first.values())[:MOST_NAMED]

    def search(self, text: str, limit: int = 10) -> list[Ingredient]:
        """Ingredients whose name or alias holds the text, then those that sound like it."""
        wanted = plain(text)
        holding = [i for name, i in sorted(self.names.items()) if wanted in name]
        near = [self.names[name] for name in near_names(self.names, wanted, limit)]
        unique = {i.id: i for i in (*holding, *near)}
        return list(unique.values())[:limit]


def near_names(names: Iterable[str], wanted: str, limit: int = 3) -> list[str]:
    """Plain names most like the wanted one, best first, ties in order of the alphabet.

    They are compared word by word, and a word that few names have counts more: what shares only
    letters with the wanted name, or only a word such as `liqueur` with a long one, is not proposed.

    >>> near_names(["walnut liqueur", "fig liqueur", "imo"], "walnut likeur")
    ['walnut liqueur']
    >>> near_names(["imo", "monastery liqueur"], "moonbeam")
    []
    """
    asked = wanted[:LONGEST_SHOWN].split()
    words_of = {name: name.split() for name in names}
    counts = Counter(word for words in words_of.values() for word in set(words))
    alike = {word: _words_like(word, counts) for word in asked}

    def weight(word: str) -> float:
        return 1.0 + log(len(words_of) / max(counts[word], 1))

    def likeness(words: list[str]) -> float:
        """The share of both names' weight that is in common, 0 to 1."""
        best = {w: max((alike[w].get(n, 0.0) for n in words), default=0.0) for w in asked}
        if not any(best.values()):
            return 0.0
        common = sum(weight(w) * best[w] for w in asked)
        common += sum(weight(n) * max(alike[w].get(n, 0.0) for w in asked) for n in words)
        return common / (sum(map(weight, asked)) + sum(map(weight, words)))

    scores = {name: likeness(words) for name, words in words_of.items()}
    run_together = _words_like("".join(asked), [name.replace(" ", "") for name in words_of])
    for name in words_of:
        scores[name] = max(scores[name], run_together.get(name.replace(" ", ""), 0.0))
    least = max(NEAR_ENOUGH, BESIDE_BEST * max(scores.values(), default=0.0))
    near = sorted((-score, name) for name, score in scores.items() if score >= least)
    return [name for _, name in near[:limit]]


def _words_like(word: str, words: Iterable[str]) -> dict[str, float]:
    """Words that may be meant by one, and how alike they are."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    every = list(words)
    like = {
        found: float(score)
        for found, score, _ in process.extract(
            word, every, scorer=OSA.normalized_similarity, score_cutoff=WORDS_ALIKE, limit=None
        )
    }
    if len(word) >= PREFIX_LETTERS:
        begun = (w for w in every if w.startswith(word))
        like |= {w: max(PREFIX_ALIKE, like.get(w, 0.0)) for w in begun}
    return like
