"""The bag's words read back: what was heard, how, and what to tap where it was misheard."""

from __future__ import annotations

from dataclasses import dataclass, replace

from service.aroma.vocabulary import How
from service.aroma.words import Mention, Unknown
from service.counter.coffees import Coffee, CoffeeReading
from service.counter.known import Known
from service.web.pages.coffee_form import address, coffee_fields
from service.web.pages.coffee_terms import profile_words, term

NEAREST_SHOWN = 3
STRONGEST_SHOWN = 5


@dataclass(frozen=True, slots=True)
class HeardWord:
    """One phrase that was understood; `said` is what else was understood of it."""

    phrase: str
    said: str
    without: bool = False


@dataclass(frozen=True, slots=True)
class Replacement:
    """A word to tap, and the address with it in place of the unknown one."""

    phrase: str
    address: str


@dataclass(frozen=True, slots=True)
class UnknownWord:
    """A word that is not known, and what it may have been."""

    written: str
    nearest: tuple[Replacement, ...]
    without: Replacement


@dataclass(frozen=True, slots=True)
class NoteShare:
    """A note of the coffee's aroma and its share in per cent."""

    name: str
    percent: str
    share: float


@dataclass(frozen=True, slots=True)
class ReadBack:
    """A coffee as it was understood."""

    profile: str
    bed: str
    heard: tuple[HeardWord, ...]
    unknown: tuple[UnknownWord, ...]
    strongest: tuple[NoteShare, ...]
    empty: bool


def read_back(
    known: Known, reading: CoffeeReading, path: str, others: list[tuple[str, str]]
) -> ReadBack:
    """What was understood of a coffee. `path` and `others` make the links that correct it."""
    coffee, notes = reading.coffee, reading.notes
    heard = [
        *(HeardWord(m.phrase, _said(m)) for m in notes.mentions),
        *(HeardWord(m.phrase, "not in it", without=True) for m in notes.negated),
        *(HeardWord(m.phrase, "a feel, no smell") for m in notes.without_aroma),
    ]
    return ReadBack(
        profile=profile_words(coffee),
        bed=f"{coffee.dose_g:g} g, {term(coffee.grind)} grind",
        heard=tuple(heard),
        unknown=tuple(_unknown(u, coffee, path, others) for u in notes.unknown),
        strongest=tuple(
            NoteShare(known.catalogue.descriptors[d].name, f"{share:.0%}", round(share * 100, 1))
            for d, share in list(reading.strongest.items())[:STRONGEST_SHOWN]
        ),
        empty=not notes.read_back,
    )


def _said(mention: Mention) -> str:
    said = []
    if mention.how is How.NEAREST_ACCEPTED:
        said.append(f"for \u201c{mention.text}\u201d")
    if mention.intensity != 1:
        said.append("a little" if mention.intensity < 1 else "a lot")
    return ", ".join(said)


def _unknown(
    unknown: Unknown, coffee: Coffee, path: str, others: list[tuple[str, str]]
) -> UnknownWord:
    start, end = unknown.span

    def put(phrase: str) -> str:
        text = f"{coffee.notes[:start]}{phrase}{coffee.notes[end:]}"
        return address(path, coffee_fields(replace(coffee, notes=text)) + others)

    return UnknownWord(
        written=unknown.text,
        nearest=tuple(
            Replacement(near.phrase, put(near.phrase)) for near in unknown.nearest[:NEAREST_SHOWN]
        ),
        without=Replacement("leave it out", put("").strip()),
    )
