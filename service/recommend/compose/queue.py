"""What is still to be looked at, highest bound first, in buckets of nearly equal bounds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.recommend.compose.rack import Index, Mask, Vector

_WIDTH: Final = 0.01


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

    def __init__(self) -> None:
        self.buckets: dict[int, list[Nodes]] = {}

    def put(self, nodes: Nodes) -> None:
        nodes = nodes.some(np.flatnonzero(nodes.bound > -np.inf))
        if not len(nodes):
            return
        keys = np.floor(nodes.bound / _WIDTH).astype(np.intp)
        order = np.argsort(keys, kind="stable")
        nodes, keys = nodes.some(order), keys[order]
        starts = np.flatnonzero(np.r_[True, keys[1:] != keys[:-1]])
        for start, end in zip(starts.tolist(), [*starts[1:].tolist(), len(keys)], strict=True):
            part = nodes.some(np.arange(start, end))
            self.buckets.setdefault(int(keys[start]), []).append(part)

    @property
    def bound(self) -> float:
        """The highest bound in the queue; minus infinity when it is empty."""
        if not self.buckets:
            return -np.inf
        return max(float(part.bound.max()) for part in self.buckets[max(self.buckets)])

    def take(self, fewest: int) -> Nodes:
        """The highest buckets, at least so many nodes if there are."""
        taken: list[Nodes] = []
        while self.buckets and sum(len(part) for part in taken) < fewest:
            taken += self.buckets.pop(max(self.buckets))
        return joined(taken)
