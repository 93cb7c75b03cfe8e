"""The rule of variety: the second drink is the best of those unlike the first, and so on.

The answer is a sequence. Its first drink is the best of all; each next is the best of those that
the rule still allows beside the ones before. What is allowed only ever shrinks.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from service.recommend.compose.problem import Variety
from service.recommend.compose.rack import Index, Mask


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

    def leaves(self, bodies: Index, base: int, modifiers: tuple[int, ...]) -> Mask:
        """Which bodies that were allowed before a drink was added still are.

        `bodies` is (3, groups): the base, and two modifiers or the base again for none.
        """
        most = self.variety.most_per_bottle
        left = np.ones(bodies.shape[1], dtype=bool)
        for row in (base, *modifiers):
            if most is not None and self.times[row] >= most:
                for part in bodies:
                    left &= part != row
        if not self.variety.repeat_pairs:
            for modifier in modifiers:
                left &= (bodies[0] != base) | ((bodies[1] != modifier) & (bodies[2] != modifier))
        return left
