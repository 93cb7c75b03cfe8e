"""Two of the four ways to belong together: echo and bridge. Both are additive."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma.coffee import Aroma
from service.aroma.space import AromaSpace, Vector
from service.aroma.tables import Rows, Table, table_of

# Up to this many ingredients every one may be a bridge; beyond it only the hubs, so that the
# table of paths stays linear in the number of ingredients.
MOST_BRIDGES = 512
HUBS = 64
# A bridge needs a firm path; below this echo a third ingredient does not count as near.
# Our estimate: the median echo of two unrelated ingredients lies near 0.2.
NEAR = 0.25


@dataclass(frozen=True, slots=True, eq=False)
class Bridges:
    """The third ingredients over which a path may lead, and their echo with everything.

    hubs : rows of the space that may be a bridge, rising
    notes : (descriptors, hubs) what the hubs smell of
    step : (ingredients, hubs) root of the echo where it is firm, else 0: half of a path; an
        ingredient is no bridge to itself
    """

    hubs: Rows
    notes: NDArray[np.float64]
    step: Table


def build_bridges(space: AromaSpace) -> Bridges:
    """Echo of every ingredient with every possible bridge."""
    count = len(space.ingredients)
    if count <= MOST_BRIDGES:
        hubs = np.arange(count)
    else:
        centre = np.asarray(space.notes.sum(axis=0)).ravel()
        closeness = np.asarray(space.notes @ centre).ravel()
        hubs = np.sort(np.argsort(-closeness, kind="stable")[:HUBS])
    notes = np.asarray(space.notes[hubs].toarray().T)

    def step(rows: Rows) -> NDArray[np.float64]:
        echo = np.asarray(space.notes[rows] @ notes)
        places = np.minimum(np.searchsorted(hubs, rows), max(len(hubs) - 1, 0))
        itself = np.flatnonzero(hubs[places] == rows)
        echo[itself, places[itself]] = 0.0
        return np.sqrt(_firm(echo))

    return Bridges(hubs, notes, table_of(count, step))


def echo(space: AromaSpace, aroma: Aroma, rows: Rows | None = None) -> Vector:
    """Strong shared notes: the cosine of two note vectors, for every ingredient or some rows.

    Rare notes weigh more (TF-IDF, Salton and Buckley 1988, Inf. Process. Manag. 24:513).
    """
    notes = space.notes if rows is None else space.notes[rows]
    return np.asarray(notes @ aroma.notes)


def shared_notes(a: Aroma, b: Aroma) -> Vector:
    """What each note adds to the echo of two aromas; the sum is the echo."""
    return a.notes * b.notes


def bridge(
    space: AromaSpace,
    bridges: Bridges,
    aroma: Aroma,
    rows: Rows | None = None,
    to_hubs: Vector | None = None,
) -> tuple[Vector, NDArray[np.intp]]:
    """No direct overlap, but a short strong path over a third ingredient.

    For each ingredient (or each of the rows) the strength of its best path, (1 - echo) *
    sqrt(echo to the third * echo from the third), and the row of that third ingredient (-1 where
    no path is firm). `to_hubs` are the aroma's own steps, where they are known already.
    """
    steps = steps_to_hubs(space, bridges, aroma) if to_hubs is None else to_hubs
    found = [_best_hubs(piece * steps) for piece in bridges.step.pieces(rows)]
    best = np.concatenate([places for places, _ in found])
    strength = np.concatenate([strengths for _, strengths in found])
    distance = np.clip(1.0 - echo(space, aroma, rows), 0.0, 1.0)
    third = np.where(strength > 0, bridges.hubs[best], -1)
    return distance * strength, third


def steps_to_hubs(space: AromaSpace, bridges: Bridges, aroma: Aroma) -> Vector:
    """Half of a path, from the aroma to each hub."""
    to_hub = _firm(aroma.notes @ bridges.notes)
    if aroma.id in space.index:
        to_hub[bridges.hubs == space.index[aroma.id]] = 0.0
    return np.sqrt(to_hub)


def _best_hubs(paths: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    best = paths.argmax(axis=1)
    return best, paths[np.arange(len(paths)), best]


def _firm(values: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.where(values >= NEAR, values, 0.0)
