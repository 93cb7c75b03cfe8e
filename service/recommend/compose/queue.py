"""What is still to be looked at, highest bound first, in buckets of nearly equal bounds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.recommend.compose.rack import Index, Mask, Vector

# A bucket's bounds differ by no more than this; what lies lower than the last bucket shares it.
_WIDTH: Final = 0.01
_LAST: Final = 3_000


@dataclass(frozen=True, slots=True, eq=False)
class Nodes:
    """Parts of the space, one entry each, with an upper bound on every drink in it.

    kind : what the part is (see `opening`); group, body : its bottles and jigger amounts
    item : the cell, or the drink, among bitters, saline and doses
    """

    kind: Index
    group: Index
    body: Index
    item: Index
    bound: Vector

    def __len__(self) -> int:
        return len(self.bound)

    def some(self, chosen: Index | Mask | slice) -> Nodes:
        return Nodes(
            self.kind[chosen],
            self.group[chosen],
            self.body[chosen],
            self.item[chosen],
            self.bound[chosen],
        )


def joined(parts: list[Nodes]) -> Nodes:
    return Nodes(
        *(
            np.concatenate([getattr(part, name) for part in parts])
            for name in ("kind", "group", "body", "item", "bound")
        )
    )


class Queue:
    """Nodes by falling bound. Taking is by whole buckets, so a few come out early: no harm."""

    def __init__(self, highest: float) -> None:
        self.highest = highest
        self.buckets: dict[int, list[Nodes]] = {}

    def put(self, nodes: Nodes) -> None:
        """Add nodes; those that hold nothing are dropped."""
        nodes = nodes.some(nodes.bound > -np.inf)
        if not len(nodes):
            return
        below = (self.highest - nodes.bound) / _WIDTH
        # Short integers, because those are sorted by counting.
        keys = np.clip(below, 0, _LAST).astype(np.int16)
        order = np.argsort(keys, kind="stable")
        nodes, keys = nodes.some(order), keys[order]
        ends = [*(np.flatnonzero(keys[1:] != keys[:-1]) + 1).tolist(), len(keys)]
        start = 0
        for end in ends:
            self.buckets.setdefault(int(keys[start]), []).append(nodes.some(slice(start, end)))
            start = end

    @property
    def bound(self) -> float:
        """The highest bound in the queue; minus infinity when it is empty."""
        if not self.buckets:
            return -np.inf
        return max(float(part.bound.max()) for part in self.buckets[min(self.buckets)])

    def take(self) -> Nodes:
        """The highest bucket."""
        return joined(self.buckets.pop(min(self.buckets)))
