"""The rule of variety: the second drink is the best of those unlike the first, and so on.

The answer is a sequence. Its first drink is the best of all; each next is the best of those that
the rule still allows beside the ones before. What is allowed only ever shrinks.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from service.recommend.compose.problem import Variety
from service.recommend.compose.rack import Index


@dataclass(slots=True)
class Chosen:
    """What the drinks chosen so far leave open."""

    variety: Variety
    pairs: set[tuple[int, int]] = field(default_factory=set)
    times: Counter[int] = field(default_factory=Counter)

    def add(self, base: int, modifiers: tuple[int, ...]) -> None:
        """One more drink of the answer, by its bottles' rows."""
        self.pairs |= {(base, modifier) for modifier in modifiers}
        self.times.update((base, *modifiers))

    def allows(self, base: int, modifiers: tuple[int, ...]) -> bool:
        """Whether such a drink may still come."""
        most = self.variety.most_per_bottle
        if most is not None and any(self.times[row] >= most for row in (base, *modifiers)):
            return False
        return self.variety.repeat_pairs or all(
            (base, modifier) not in self.pairs for modifier in modifiers
        )

    def leaves(self, bodies: Index, base: int, modifiers: tuple[int, ...]) -> NDArray[np.bool_]:
        """Which bodies that were allowed before a drink was added still are.

        `bodies` has a column for the base and one for each modifier, one of them twice if need be.
        """
        most = self.variety.most_per_bottle
        left = np.ones(len(bodies), dtype=bool)
        for row in (base, *modifiers):
            if most is not None and self.times[row] >= most:
                left &= (bodies != row).all(axis=1)
        if not self.variety.repeat_pairs:
            same_base = bodies[:, 0] == base
            for modifier in modifiers:
                left &= ~(same_base & (bodies == modifier).any(axis=1))
        return left
