"""The fixed words of the bar's records. What they say is what stands in the database."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from service.kit.jigger import JiggerStep


class Units(StrEnum):
    """In what a bar writes its amounts."""

    ML = "ml"
    CL = "cl"
    OZ = "oz"


class Lattice(StrEnum):
    """The smallest step of a bar's jiggers."""

    FIVE_ML = JiggerStep.FIVE_ML.value
    SEVEN_AND_A_HALF_ML = JiggerStep.SEVEN_AND_A_HALF_ML.value
    QUARTER_OUNCE = JiggerStep.QUARTER_OUNCE.value

    @property
    def step_ml(self) -> float:
        """The step [mL].

        >>> Lattice.SEVEN_AND_A_HALF_ML.step_ml
        7.5
        """
        return JiggerStep(self).ml


class Language(StrEnum):
    """The language whose spreadsheets a bar uses: it says how numbers stand in CSV files, and
    nothing else. Pages and answers write a decimal point; typed numbers may have either mark."""

    ENGLISH = "en"
    FRENCH = "fr"
    GERMAN = "de"
    ITALIAN = "it"
    SPANISH = "es"

    @property
    def decimal_comma(self) -> bool:
        """Whether a spreadsheet in that language writes 22,5 (and parts cells by semicolons)."""
        return self is not Language.ENGLISH


class SpecStatus(StrEnum):
    """How far a spec has come."""

    DRAFT = "draft"
    LISTED = "on the list"
    RETIRED = "retired"


class BlindKind(StrEnum):
    """The three plans of a blind test."""

    TRIANGLE = "triangle"
    PAIRED = "paired"
    DUO_TRIO = "duo-trio"


class Scope(StrEnum):
    """What an API token may do."""

    READ = "read"
    WRITE = "write"


# The fourteen of Annex II of Regulation (EU) No 1169/2011, in the words of the dataset.
ALLERGENS: Final = frozenset({
    "celery", "crustaceans", "eggs", "fish", "gluten", "lupin", "milk", "molluscs",
    "mustard", "nuts", "peanuts", "sesame", "soybeans", "sulphites",
})  # fmt: skip
