"""The records of the catalogue. All frozen; behaviour lives in plain functions elsewhere."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from service.kit import Interval


class Role(StrEnum):
    """What an ingredient does in a drink."""

    BASE = "base"
    MODIFIER = "modifier"
    BITTERS = "bitters"
    SWEETENER = "sweetener"
    SEASONING = "seasoning"
    GARNISH = "garnish"
    COFFEE = "coffee"


class Grade(StrEnum):
    """How a number came to be known, best first."""

    MEASURED = "measured"
    DERIVED = "derived"
    RECALLED = "recalled"
    ESTIMATE = "estimate"


class Impact(StrEnum):
    """How much an odorant matters where no concentration is published."""

    CHARACTER = "character"
    KEY = "key"
    BACKGROUND = "background"


class Roast(StrEnum):
    LIGHT = "light"
    MEDIUM_LIGHT = "medium-light"
    MEDIUM = "medium"
    MEDIUM_DARK = "medium-dark"
    DARK = "dark"


class Process(StrEnum):
    WASHED = "washed"
    HONEY = "honey"
    NATURAL = "natural"
    FERMENTED = "fermented"  # long or inoculated fermentation before drying


class Species(StrEnum):
    ARABICA = "arabica"
    CANEPHORA = "canephora"  # sold as robusta


class Grind(StrEnum):
    """Trade words for particle size; the bed room says what each means in micrometres."""

    FINE = "fine"
    MEDIUM_FINE = "medium-fine"
    MEDIUM = "medium"
    MEDIUM_COARSE = "medium-coarse"
    COARSE = "coarse"


@dataclass(frozen=True, slots=True)
class Composition:
    """What a bottle holds. Strength as a fraction by volume at 20 °C, the rest per litre.

    Acid is titratable acidity as tartaric acid; bitterness is mg/L of quinine-hydrochloride
    equivalents (QHE). Ranges are what the category spans, `mid` what is usual.
    """

    abv: Interval
    sugar_g_per_l: Interval
    acid_g_per_l: Interval
    qhe_mg_per_l: Interval
    caffeine_mg_per_l: Interval
    salt_g_per_l: Interval


@dataclass(frozen=True, slots=True)
class Legal:
    """The category's legal limits, where law sets any; None where it does not."""

    category: str
    abv_min: float | None = None
    sugar_min_g_per_l: float | None = None
    sugar_max_g_per_l: float | None = None


@dataclass(frozen=True, slots=True)
class Ingredient:
    """A generic category of bottle, syrup, seasoning, garnish or coffee; never a brand."""

    id: str
    name: str
    role: Role
    style: str
    composition: Composition
    grade: Grade
    sources: tuple[str, ...]
    legal: Legal | None = None
    allergens: frozenset[str] = field(default_factory=frozenset)
    cautions: frozenset[str] = field(default_factory=frozenset)
    aliases: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Odorant:
    """A volatile compound that can be smelled."""

    id: str
    name: str
    cas: str


@dataclass(frozen=True, slots=True)
class Descriptor:
    """A word for a smell, in one family."""

    id: str
    name: str
    family: str


@dataclass(frozen=True, slots=True)
class Occurrence:
    """An odorant in an ingredient: a concentration where one is known, else an impact class.

    `concentration_ug_per_l` is in the ingredient as poured [µg/L].
    """

    ingredient: str
    odorant: str
    concentration_ug_per_l: Interval | None
    impact: Impact | None
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class Threshold:
    """Lowest concentration that is smelled, in a matrix [µg/L]; ethanol as volume fraction."""

    odorant: str
    ethanol: float
    ug_per_l: float
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number comes from."""

    id: str
    citation: str
    doi: str
    standard: str


@dataclass(frozen=True, slots=True)
class Note:
    """A descriptor of an odorant or of an ingredient, with its share of the impression (0 to 1]."""

    subject: str
    descriptor: str
    weight: float
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class CoffeeEffect:
    """How a roast, process or species multiplies an odorant of the reference coffee."""

    dimension: str
    level: str
    odorant: str
    factor: Interval
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class SpecPour:
    """One line of a public specification."""

    ingredient: str
    volume_ml: float


@dataclass(frozen=True, slots=True)
class Spec:
    """A public drink specification; `reference` marks those that define the balance band."""

    id: str
    name: str
    year: str
    method: str
    reference: bool
    source: str
    pours: tuple[SpecPour, ...]


@dataclass(frozen=True, slots=True)
class Combination:
    """Something that open literature puts together with coffee."""

    id: str
    food: str
    ingredient: str
    source: str


@dataclass(frozen=True, slots=True)
class NoteWord:
    """A tasting word as coffee bags print it, and the descriptor it stands for ('' for none)."""

    phrase: str
    descriptor: str
    weight: float
