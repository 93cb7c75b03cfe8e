"""The smallest step of a bar's jiggers: one word for it wherever it is asked for or shown."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from service.kit.errors import BadData
from service.kit.units import US_FLUID_OUNCE_ML


class JiggerStep(StrEnum):
    """The three steps, by the words that people and files use."""

    FIVE_ML = "5 ml"
    SEVEN_AND_A_HALF_ML = "7.5 ml"
    QUARTER_OUNCE = "1/4 oz"

    @property
    def ml(self) -> float:
        """The step [mL].

        >>> JiggerStep.SEVEN_AND_A_HALF_ML.ml
        7.5
        """
        return _ML[self]

    @classmethod
    def read(cls, word: str, field: str = "step") -> JiggerStep:
        """A step as a person types it, with or without the space.

        >>> JiggerStep.read("7.5ml"), JiggerStep.read("quarter-ounce")
        (<JiggerStep.SEVEN_AND_A_HALF_ML: '7.5 ml'>, <JiggerStep.QUARTER_OUNCE: '1/4 oz'>)
        """
        found = _SPELLED.get(word.replace(" ", "").lower())
        if found is None:
            raise BadData(f"{word!r} is no step of a jigger; use {', '.join(cls)}", field=field)
        return found


_ML: Final = {
    JiggerStep.FIVE_ML: 5.0,
    JiggerStep.SEVEN_AND_A_HALF_ML: 7.5,
    JiggerStep.QUARTER_OUNCE: US_FLUID_OUNCE_ML / 4.0,
}
_SPELLED: Final = {
    **{step.replace(" ", ""): step for step in JiggerStep},
    "quarter-ounce": JiggerStep.QUARTER_OUNCE,
}
