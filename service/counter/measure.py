"""Any drink: what it is before and after the coffee, whether it is in balance, what would help."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from service.bed import Bed
from service.counter.known import Known
from service.counter.naming import Lines, line_ml
from service.counter.standard import Check, checks_of
from service.drink import DEFAULT_COUNTRY, STANDARD_DRINK_G, Drink, Pour, Reading, read
from service.kit import BadData
from service.kit.units import Amount, check_volume_ml, parse_amount
from service.liquid import Preparation, Stirring


@dataclass(frozen=True, slots=True)
class Measured:
    """A drink, its reading, and the two checks."""

    drink: Drink
    reading: Reading
    sweetness: Check
    bitterness: Check


@dataclass(frozen=True, slots=True)
class Measure:
    """What is to be measured: pours by any name and amount, a preparation, a bed or none."""

    pours: Lines
    preparation: Preparation = field(default_factory=Stirring)
    bed: Bed | None = None
    country: str = DEFAULT_COUNTRY
    name: str = ""


def measure(known: Known, asked: Measure) -> Measured:
    """Read one drink, with the smallest remedies where it is not in balance."""
    check_country(asked.country)
    drink = drink_of(known, asked)
    reading = read(
        drink, known.band, priors=known.priors, country=asked.country, larder=known.larder
    )
    (sweetness,), (bitterness,) = checks_of(known.band, [reading])
    return Measured(drink, reading, sweetness, bitterness)


def check_country(country: str) -> None:
    """Only where a standard drink is defined can one be counted."""
    if country not in STANDARD_DRINK_G:
        raise BadData(
            f"no standard drink is known for {country!r}; use one of "
            f"{', '.join(sorted(STANDARD_DRINK_G))}",
            field="country",
        )


def drink_of(known: Known, asked: Measure) -> Drink:
    """The drink that a question is about."""
    return Drink(
        poured(known, asked.pours), preparation=asked.preparation, bed=asked.bed, name=asked.name
    )


def poured(known: Known, pours: Lines) -> tuple[Pour, ...]:
    """Pours by id, name or trade word, measured or weighed; an error names the line."""
    if not pours:
        raise BadData("a drink needs at least one pour", field="pours")
    lines = []
    for number, (name, amount) in enumerate(pours):
        ingredient = known.names.find(name, field=f"pours.{number}.ingredient")
        volume_ml = line_ml(ingredient, amount, f"pours.{number}")
        check_volume_ml(volume_ml, field=f"pours.{number}.volume_ml")
        try:
            lines.append(Pour(ingredient, volume_ml))
        except BadData as error:
            raise BadData(error.message, field=f"pours.{number}.{error.field}") from error
    return tuple(lines)


def parse_pours(texts: Iterable[str]) -> list[tuple[str, Amount]]:
    """`bourbon=45ml`, `bourbon=45g` and the like into names and amounts."""
    pours = []
    for text in texts:
        name, separator, amount = text.partition("=")
        if not separator or not name.strip():
            raise BadData(
                f"{text[:80]!r} is no pour; write it like bourbon=45ml or bourbon=42g",
                field="pour",
            )
        pours.append((name.strip(), parse_amount(amount, field="pour")))
    return pours
