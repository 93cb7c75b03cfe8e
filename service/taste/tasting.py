"""What tasters say of a drink, and what being off costs it in liking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Final

import numpy as np

from service.kit import BadData
from service.taste.styles import Style
from service.taste.suppression import Percept

if TYPE_CHECKING:
    from numpy.typing import NDArray

# A side is worth acting on where a fifth of the answers say so, as is usual in the field (Lawless
# & Heymann 2010, Sensory Evaluation of Food, ch. 14), and the drop is beyond its error.
WORTH_SHARE: Final = 0.2
_LEAST, _MOST = -2, 2
_LEAST_LIKING, _MOST_LIKING = 1, 9


class Attribute(StrEnum):
    """What is asked on a just-about-right scale."""

    SWEETNESS = "sweetness"
    BITTERNESS = "bitterness"
    STRENGTH = "strength"
    COFFEE_STRENGTH = "coffee strength"


@dataclass(frozen=True, slots=True)
class Tasting:
    """What one taster said of one drink; whatever was not asked stays None.

    Parameters
    ----------
    key : str
        What tells this tasting from all others.
    taster : str
        Initials; answers of one taster hang together.
    percept : Percept
        What the drink was foretold to taste of, after the coffee [points]
    style : Style
        The family of the drink, if known; one of its own is measured by its own kind
    coffee_qhe_share : float
        Share of its bitterness that is the coffee's, as foretold [0..1]
    coffee_g_per_l : float
        Dissolved coffee in it, as foretold; None without coffee [g/L]
    sweetness : int
        Just about right is 0, -2 much too little, 2 much too much; the three below likewise [steps]
    bitterness : int
        As sweetness [steps]
    strength : int
        As sweetness, of the alcohol [steps]
    coffee_strength : int
        As sweetness, of the coffee [steps]
    liking : int
        Nine-point liking, 1 to 9 [points]

    Valid for: answers of -2 to 2, liking of 1 to 9, shares of 0 to 1; BadData outside.
    Source: just-about-right scales as in Lawless & Heymann 2010, ch. 14; liking by Peryam &
    Pilgrim 1957.

    >>> Tasting("t1", "ab", Percept(4.0, 3.5, 1.0, 0.0, 21.0), sweetness=1, liking=6).sweetness
    1
    """

    key: str
    taster: str
    percept: Percept
    style: Style | None = None
    coffee_qhe_share: float = 0.0
    coffee_g_per_l: float | None = None
    sweetness: int | None = None
    bitterness: int | None = None
    strength: int | None = None
    coffee_strength: int | None = None
    liking: int | None = None

    def __post_init__(self) -> None:
        if not 0.0 <= self.coffee_qhe_share <= 1.0:
            raise BadData(
                f"{self.coffee_qhe_share:g} is no share; give 0 to 1", field="coffee_qhe_share"
            )
        for attribute in Attribute:
            answer = self.answer(attribute)
            if answer is not None and answer not in range(_LEAST, _MOST + 1):
                raise BadData(
                    f"{answer} is not on the scale; use -2 (much too little) to 2 (much too much)",
                    field=attribute.name.lower(),
                )
        if self.liking is not None and not _LEAST_LIKING <= self.liking <= _MOST_LIKING:
            raise BadData(f"{self.liking} is not on the scale; use 1 to 9", field="liking")

    def answer(self, attribute: Attribute) -> int | None:
        """The answer to one question."""
        answer: int | None = getattr(self, attribute.name.lower())
        return answer


@dataclass(frozen=True, slots=True)
class Penalty:
    """What it costs in liking to be off on one side; `drop` is None where nobody is, or nobody
    finds it right. `worth_acting` where a fifth say so and like it less, beyond its error."""

    attribute: Attribute
    too_much: bool
    people: int
    share: float
    just_right: int
    drop: float | None
    error: float | None
    worth_acting: bool


def penalties(tastings: Sequence[Tasting]) -> tuple[Penalty, ...]:
    """What being off costs in liking, for each attribute and side [points of nine].

    Parameters
    ----------
    tastings : Sequence[Tasting]
        Answers with a liking beside them [points]

    Valid for: any number; the standard error needs two on both sides.
    Source: penalty analysis as in Lawless & Heymann 2010, Sensory Evaluation of Food, ch. 14:
    mean liking of those who call it just right, less that of those who call it off.

    >>> a_drink = Percept(4.0, 3.5, 1.0, 0.0, 21.0)
    >>> said = [Tasting(str(i), "ab", a_drink, sweetness=s, liking=l)
    ...         for i, (s, l) in enumerate([(0, 8), (0, 7), (1, 6), (2, 4)])]
    >>> [(p.people, p.drop) for p in penalties(said) if p.attribute == "sweetness"]
    [(0, None), (2, 2.5)]
    """
    found = []
    for attribute in Attribute:
        pairs = [
            (answer, tasting.liking)
            for tasting in tastings
            if (answer := tasting.answer(attribute)) is not None and tasting.liking is not None
        ]
        right = np.array([liking for answer, liking in pairs if answer == 0], dtype=float)
        for too_much in (False, True):
            side = [liking for answer, liking in pairs if answer and (answer > 0) is too_much]
            off = np.array(side, dtype=float)
            found.append(_penalty(attribute, too_much, right, off, len(pairs)))
    return tuple(found)


def _penalty(
    attribute: Attribute,
    too_much: bool,
    right: NDArray[np.float64],
    off: NDArray[np.float64],
    answers: int,
) -> Penalty:
    share = len(off) / answers if answers else 0.0
    drop = float(right.mean() - off.mean()) if len(right) and len(off) else None
    error = None
    if min(len(right), len(off)) >= 2:
        error = float(np.sqrt(right.var(ddof=1) / len(right) + off.var(ddof=1) / len(off)))
    beyond = drop is not None and error is not None and drop > error
    return Penalty(
        attribute=attribute,
        too_much=too_much,
        people=len(off),
        share=share,
        just_right=len(right),
        drop=drop,
        error=error,
        worth_acting=share >= WORTH_SHARE and beyond,
    )
