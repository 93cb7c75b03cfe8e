"""The words for a coffee on every page: roast, process, species and grind."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from service.counter.coffees import Coffee
from service.ingredients.coffee import TRADE_WORDS
from service.web.pages.pieces import Option


def term(word: StrEnum) -> str:
    """A word as a person reads it.

    >>> from service.ingredients.records import Roast, Species
    >>> term(Roast.MEDIUM_DARK), term(Species.CANEPHORA)
    ('medium dark', 'robusta (canephora)')
    """
    return TRADE_WORDS.get(word, str(word).replace("-", " "))


def term_options(words: Iterable[StrEnum], chosen: str | None) -> tuple[Option, ...]:
    """All words of a kind to choose from; `chosen` is one of them as an address writes it."""
    return tuple(Option(str(word), term(word), str(word) == chosen) for word in words)


def profile_words(coffee: Coffee) -> str:
    """`medium roast, washed arabica`."""
    profile = coffee.profile
    words = f"{term(profile.roast)} roast, {term(profile.process)} {term(profile.species)}"
    return f"{words}, decaffeinated" if coffee.decaf else words
