"""A spec of the bar as a drink that can be measured: its pours, its stir, its coffee."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any, Final

from service.bar import BarCoffee, BarSpec, SpecDraft
from service.counter.coffee_records import as_described
from service.counter.coffees import Coffee
from service.counter.explain import Poured
from service.counter.known import Known
from service.counter.measure import Measure, Measured, drink_of
from service.counter.readings import METHODS
from service.counter.standard import checks_of
from service.counter.suggest import bed_of
from service.drink import DEFAULT_COUNTRY, STANDARD_DRINK_G, read, read_many
from service.ingredients import CoffeeProfile
from service.ingredients.records import Grind, Process, Roast, Species, SpecPour
from service.kit import BadData
from service.liquid import Preparation, Stirring

_KINDS: Final = {word: kind for kind, word in METHODS.items()}
_WORDS: Final = {"roast": Roast, "process": Process, "species": Species, "grind": Grind}


def coffee_of(spec: SpecDraft, kept: BarCoffee | None) -> Coffee | None:
    """The coffee of a spec: one of the bar's with what the spec says otherwise, or one that only
    the spec describes; None for a drink without coffee."""
    if kept is None and not spec.bed:
        return None
    coffee = Coffee() if kept is None else as_described(kept)
    said = {name: _word(name, value) for name, value in spec.bed.items()}
    profile = {name: said.pop(name) for name in ("roast", "process", "species") if name in said}
    return replace(coffee, profile=replace(coffee.profile, **profile), **said)


def bed_words(coffee: Coffee, kept: BarCoffee | None) -> dict[str, Any]:
    """What a spec has to say of its coffee beyond the one kept; the reverse of `coffee_of`."""
    usual = Coffee() if kept is None else as_described(kept)
    profile: CoffeeProfile = coffee.profile
    every = {
        "roast": (str(profile.roast), str(usual.profile.roast)),
        "process": (str(profile.process), str(usual.profile.process)),
        "species": (str(profile.species), str(usual.profile.species)),
        "notes": (coffee.notes, usual.notes),
        "dose_g": (coffee.dose_g, usual.dose_g),
        "grind": (str(coffee.grind), str(usual.grind)),
        "decaf": (coffee.decaf, usual.decaf),
    }
    said = {name: now for name, (now, was) in every.items() if kept is None or now != was}
    return {name: value for name, value in said.items() if value != ""}


def preparation_of(spec: SpecDraft) -> Preparation:
    """How a spec is made cold; the usual stir where it says nothing."""
    said = dict(spec.preparation)
    kind = _KINDS.get(str(said.pop("method", "stirred")), Stirring)
    known = {each.name for each in fields(kind)}
    return kind(**{name: float(value) for name, value in said.items() if name in known})


def measure_of(
    spec: SpecDraft,
    coffee: Coffee | None,
    country: str = DEFAULT_COUNTRY,
    pours: Sequence[SpecPour] | None = None,
) -> Measure:
    """The question to the counter; `pours` are tonight's where they differ."""
    return Measure(
        [(pour.ingredient, pour.volume_ml) for pour in (spec.pours if pours is None else pours)],
        preparation=preparation_of(spec),
        bed=None if coffee is None else bed_of(coffee),
        country=country if country in STANDARD_DRINK_G else DEFAULT_COUNTRY,
        name=spec.name,
    )


def measure_many(known: Known, every: Sequence[Measure]) -> list[Measured]:
    """Many specs read in one pass, without remedies: for a list."""
    drinks = [drink_of(known, asked) for asked in every]
    readings = read_many(drinks, known.band, priors=known.priors) if drinks else []
    sweet, bitter = checks_of(known.band, readings) if readings else ([], [])
    return [Measured(*four) for four in zip(drinks, readings, sweet, bitter, strict=True)]


def measured_alone(known: Known, asked: Measure) -> Measured:
    """One drink read with all its draws, without looking for remedies."""
    drink = drink_of(known, asked)
    reading = read(drink, known.band, priors=known.priors, country=asked.country)
    (sweet,), (bitter,) = checks_of(known.band, [reading])
    return Measured(drink, reading, sweet, bitter)


def poured_of(asked: Measure, coffee: Coffee | None) -> Poured:
    """The question to whoever explains."""
    return Poured(asked.pours, coffee, asked.preparation)


def kept_alike(coffee: Coffee, kept: Sequence[BarCoffee]) -> BarCoffee | None:
    """The bar's coffee that a person has just described, if it is one of them."""
    for each in kept:
        described = as_described(each)
        same = (described.profile, described.notes, described.decaf)
        if each.in_use and same == (coffee.profile, coffee.notes, coffee.decaf):
            return each
    return None


def draft_of(
    name: str,
    pours: Sequence[tuple[str, float]],
    coffee: Coffee | None,
    kept: Sequence[BarCoffee],
    seconds: float | None = None,
) -> SpecDraft:
    """A drink that somebody has just put together, as a draft of a spec."""
    of_bar = None if coffee is None else kept_alike(coffee, kept)
    stir = {} if seconds is None else {"method": "stirred", "seconds": seconds}
    return SpecDraft(
        name=name,
        pours=tuple(SpecPour(ingredient, volume_ml) for ingredient, volume_ml in pours),
        coffee_id=None if of_bar is None else of_bar.id,
        preparation=stir,
        bed={} if coffee is None else bed_words(coffee, of_bar),
    )


def made_of(known: Known, spec: BarSpec) -> bool:
    """Whether everything that a spec pours is still known."""
    return all(pour.ingredient in known.catalogue.ingredients for pour in spec.pours)


def _word(name: str, value: Any) -> Any:
    if name not in _WORDS:
        return value
    try:
        return _WORDS[name](str(value))
    except ValueError:
        known = ", ".join(_WORDS[name])
        raise BadData(f"{value!r} is no {name}; use one of {known}", field=f"bed.{name}") from None
