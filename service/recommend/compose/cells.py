"""Finishes and doses put into cells within cells: the narrower a cell, the tighter its ceiling."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from service.kit.units import DASH_ML
from service.recommend.compose.bounds import Boxes
from service.recommend.compose.rack import QHE, Index, Vector
from service.recommend.compose.space import Space


@dataclass(frozen=True, slots=True)
class Cut:
    """How one level is cut: by dashes (None: each number by itself, else from these numbers on),
    by the amount of saline or not, into steps of bitterness [mg QHE], and by doses together.
    Two finishes with the same dashes and saline differ in little but bitterness."""

    dashes_from: tuple[int, ...] | None
    saline: bool
    qhe_mg: float | None
    doses_together: int


CUTS: Final = (
    Cut((), False, None, 4),
    Cut((1, 3, 5), True, None, 2),
    Cut(None, True, 1.0, 2),
    Cut(None, True, 0.3, 1),
)


@dataclass(frozen=True, slots=True, eq=False)
class Tree:
    """Cells within cells, numbered through: those of the first level, of the second, and so on.

    levels : the first cell of each level, and the number of cells
    children : the cells within cell c are `children[c]` to `children[c + 1]`, the last level apart
    """

    levels: tuple[int, ...]
    children: Index

    @property
    def finest(self) -> int:
        """The first cell of the last level."""
        return self.levels[-2]

    def best_within(self, of_finest: Vector) -> Vector:
        """The largest value in each cell; (cells, groups) from (cells of last level, groups)."""
        found = np.empty((self.levels[-1], of_finest.shape[1]))
        found[self.finest :] = of_finest
        spans = zip(self.levels[:-2], self.levels[1:-1], self.levels[2:], strict=True)
        for first, after, end in reversed(list(spans)):
            starts = self.children[first:after] - after
            np.maximum.reduceat(found[after:end], starts, axis=0, out=found[first:after])
        return found


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Partitions of options by doses, each finer than the one before.

    boxes : what each cell adds to a body
    drinks, drinks_from : option * doses + dose of every drink, by cells of the last level in turn
    finishes : the same partitions of the options alone; `finish_of` a cell is its cell there
    choices, choices_from : the choices of bitters in each last cell of `finishes`, in turn
    """

    tree: Tree
    boxes: Boxes
    drinks: Index
    drinks_from: Index
    finishes: Tree
    finish_of: Index
    choices: Index
    choices_from: Index

    def tops(self, scores: Vector) -> Vector:
        """The best score of any choice in each cell of the finishes; (groups, cells) from
        (groups, choices). Groups lie innermost on the way, where one step takes many of them."""
        each = np.ascontiguousarray(scores.T)[self.choices]
        found = np.maximum.reduceat(each, self.choices_from[:-1], axis=0)
        return self.finishes.best_within(found).T


def build_cells(space: Space) -> Cells:
    """The cells of one space, which must have a finish."""
    finishes, doses = space.finishes, space.doses_g
    parts, alone = _partitions(space, len(doses)), _partitions(space, 1)
    tree, of_finishes = _tree(parts), _tree(alone)
    drinks, drinks_from = _members(parts[-1], np.arange(parts[-1].size))
    choices, choices_from = _members(alone[-1], finishes.choice_of)
    boxes = [_boxes(part, finishes.contents, doses) for part in parts]
    finish_of = []
    for part, single, first in zip(parts, alone, of_finishes.levels, strict=False):
        where = np.unique(part, return_index=True)[1]
        finish_of.append(first + single[where // len(doses), 0])
    return Cells(
        tree=tree,
        boxes=Boxes(
            np.concatenate([b.low for b in boxes], axis=1),
            np.concatenate([b.high for b in boxes], axis=1),
            np.concatenate([b.dose_low for b in boxes]),
            np.concatenate([b.dose_high for b in boxes]),
        ),
        drinks=drinks,
        drinks_from=drinks_from,
        finishes=of_finishes,
        finish_of=np.concatenate(finish_of),
        choices=choices,
        choices_from=choices_from,
    )


def _partitions(space: Space, doses: int) -> list[Index]:
    """At each level, the cell of every option (rows) with every dose (columns)."""
    finishes = space.finishes
    place = np.zeros((len(finishes.set_of), doses), dtype=np.intp)
    parts: list[Index] = []
    for cut in CUTS:
        key = place
        for part in _keys(cut, finishes.contents[QHE], finishes.amounts_ml, doses):
            key = key * (int(part.max()) + 1) + part
        place = np.unique(key, return_inverse=True)[1].reshape(place.shape)
        parts.append(place)
    return parts


def _tree(parts: list[Index]) -> Tree:
    levels = (0, *np.cumsum([int(part.max()) + 1 for part in parts]).tolist())
    found = []
    for part, finer, after in zip(parts, parts[1:], levels[1:], strict=False):
        _, starts = _members(part, finer.ravel())
        found.append(after + starts[:-1])
    return Tree(levels, np.append(np.concatenate(found), levels[-1]))


def _keys(cut: Cut, qhe_mg: Vector, amounts_ml: Vector, doses: int) -> tuple[Index, ...]:
    dashes = np.rint(amounts_ml[:, :2].sum(axis=1) / DASH_ML).astype(np.intp)
    if cut.dashes_from is not None:
        dashes = np.digitize(dashes, cut.dashes_from)
    saline = np.rint(amounts_ml[:, 2] * 1000.0 * cut.saline).astype(np.intp)
    qhe = np.zeros_like(dashes) if cut.qhe_mg is None else (qhe_mg // cut.qhe_mg).astype(np.intp)
    dose = np.arange(doses) // cut.doses_together
    return dashes[:, None], saline[:, None], qhe[:, None], dose[None, :]


def _members(cells: Index, values: Index) -> tuple[Index, Index]:
    """The different values of each cell in turn, and where each cell's begin."""
    flat = cells.ravel()
    width = int(values.max()) + 1
    pairs = np.unique(flat * width + values)
    cell, value = np.divmod(pairs, width)
    return value, np.searchsorted(cell, np.arange(int(flat.max()) + 2))


def _boxes(cell: Index, contents: Vector, doses_g: Vector) -> Boxes:
    option, dose = (axis.ravel() for axis in np.indices(cell.shape))
    flat = cell.ravel()
    order = np.argsort(flat, kind="stable")
    first = np.searchsorted(flat[order], np.arange(int(flat.max()) + 1))
    held, grams = contents[:, option[order]], doses_g[dose[order]]
    return Boxes(
        np.minimum.reduceat(held, first, axis=1),
        np.maximum.reduceat(held, first, axis=1),
        np.minimum.reduceat(grams, first),
        np.maximum.reduceat(grams, first),
    )
