"""The weights of the four ways to belong together: one frozen record, printed with each result."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass

import numpy as np
from numpy.typing import NDArray

from service.kit import OutOfRange

TRIED, BALANCED, NEW = 0.0, 0.5, 1.0


@dataclass(frozen=True, slots=True)
class Weights:
    """What each part counts for, and where the person stands between *tried* and *new*.

    `novelty` 0 is tried (custom counts double), 0.5 as fitted, 1 is new (custom counts nothing).
    """

    echo: float
    bridge: float
    contrast: float
    custom: float
    novelty: float = BALANCED

    def __post_init__(self) -> None:
        if not TRIED <= self.novelty <= NEW:
            raise OutOfRange.of("novelty", self.novelty, TRIED, NEW, "(tried to new)")

    @property
    def custom_in_force(self) -> float:
        return self.custom * 2.0 * (1.0 - self.novelty)

    def as_json(self) -> dict[str, float]:
        return asdict(self)


def contrast_table(
    family_ids: Iterable[str], learnt: Mapping[tuple[str, str], float]
) -> NDArray[np.float64]:
    """The learnt contrasts as a symmetric (families, families) table."""
    place = {name: row for row, name in enumerate(family_ids)}
    table = np.zeros((len(place), len(place)))
    for (a, b), value in learnt.items():
        table[place[a], place[b]] = table[place[b], place[a]] = value
    return table
