"""What is still to be looked at, highest bound first, in buckets of nearly equal bounds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.recommend.compose.rack import Index, Mask, Vector

# A bucket's bounds differ by no more than this, and so many buckets are kept in order.
_WIDTH: Final = 0.01
_NEAR: Final = 32


@dataclass(frozen=True, slots=True, eq=False)
class Nodes:
    """Parts of the space, one entry each, with an upper bound on every drink in it.

    kind : what the part is (see `opening`); group, body : its bottles and jigger amounts
    item : the cell, or the drink, among bitters, saline and doses
    Millions may wait at once, so the numbers are kept short.
    """

    kind: Index
    group: Index
    body: Index
    item: Index
    bound: Vector

    @classmethod
    def of(cls, kind: int, group: Index, body: Index, item: Index, bound: Vector) -> Nodes:
        """Nodes of one kind."""
        return cls(
            np.full(len(bound), kind, dtype=np.int8),
            group.astype(np.int32, copy=False),
            body.astype(np.int32, copy=False),
            item.astype(np.int32, copy=False),
            bound,
        )

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
    """Nodes by falling bound. Taking is by whole buckets, so a few come out early: no harm.

    What lies far below the highest bucket is put aside unsorted: most of it is never asked for.
    """

    def __init__(self, highest: float) -> None:
        self.highest = highest
        self.buckets: dict[int, list[Nodes]] = {}
        self.aside: list[Nodes] = []
        self._first = 0  # of the buckets that are kept in order

    def put(self, nodes: Nodes) -> None:
        """Add nodes; those that hold nothing are dropped."""
        below = (self.highest - nodes.bound) / _WIDTH - self._first
        far = below >= _NEAR
        if far.any():
            self._put_aside(nodes.some(far & (nodes.bound > -np.inf)))
            nodes, below = nodes.some(~far), below[~far]
        if not len(nodes):
            return
        # Short integers, because those are sorted by counting.
        keys = np.maximum(below, 0).astype(np.int16)
        order = np.argsort(keys, kind="stable")
        nodes, keys = nodes.some(order), keys[order]
        ends = [*(np.flatnonzero(keys[1:] != keys[:-1]) + 1).tolist(), len(keys)]
        start = 0
        for end in ends:
            bucket = self._first + int(keys[start])
            self.buckets.setdefault(bucket, []).append(nodes.some(slice(start, end)))
            start = end

    @property
    def bound(self) -> float:
        """The highest bound in the queue; minus infinity when it is empty."""
        if self.buckets:
            return max(float(part.bound.max()) for part in self.buckets[min(self.buckets)])
        return max((float(part.bound.max()) for part in self.aside), default=-np.inf)

    def take(self) -> Nodes:
        """The highest bucket."""
        if not self.buckets:
            self._reach_further()
        return joined(self.buckets.pop(min(self.buckets)))

    def _put_aside(self, nodes: Nodes) -> None:
        if len(nodes):
            self.aside.append(nodes)

    def _reach_further(self) -> None:
        """Sort in what was put aside and lies next. Nothing higher can come after it: what is
        found inside a part is never worth more than the part."""
        aside, self.aside = self.aside, []
        highest = max(float(part.bound.max()) for part in aside)
        self._first = int(max(self.highest - highest, 0.0) / _WIDTH)
        while aside:
            self.put(aside.pop())
