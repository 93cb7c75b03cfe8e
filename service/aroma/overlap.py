"""Two of the four ways to belong together: echo and bridge. Both are additive."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma.coffee import Aroma
from service.aroma.space import AromaSpace, Sparse, Vector

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

    hubs : rows of the space that may be a bridge
    echo : (ingredients, hubs) echo of each ingredient with each hub; with itself 0
    step : (ingredients, hubs) root of the echo where it is firm, else 0: half of a path
    """

    hubs: NDArray[np.intp]
    echo: NDArray[np.float64]
    step: NDArray[np.float64]


def build_bridges(space: AromaSpace) -> Bridges:
    """Echo of every ingredient with every possible bridge."""
    count = len(space.ingredients)
    if count <= MOST_BRIDGES:
        hubs = np.arange(count)
    else:
        centre = np.asarray(space.notes.sum(axis=0)).ravel()
        closeness = np.asarray(space.notes @ centre).ravel()
        hubs = np.sort(np.argsort(-closeness, kind="stable")[:HUBS])
    echo = np.asarray((space.notes @ space.notes[hubs].T).todense())
    echo[hubs, np.arange(len(hubs))] = 0.0
    return Bridges(hubs, echo, np.sqrt(_firm(echo)))


def echo(space: AromaSpace, aroma: Aroma) -> Vector:
    """Strong shared notes: the cosine of two note vectors, for every ingredient.

    Rare notes weigh more (TF-IDF, Salton and Buckley 1988, Inf. Process. Manag. 24:513).
    """
    return np.asarray(space.notes @ aroma.notes)


def shared_notes(a: Aroma, b: Aroma) -> Vector:
    """What each note adds to the echo of two aromas; the sum is the echo."""
    return a.notes * b.notes


def bridge(space: AromaSpace, bridges: Bridges, aroma: Aroma) -> tuple[Vector, NDArray[np.intp]]:
    """No direct overlap, but a short strong path over a third ingredient.

    For each ingredient the strength of its best path, (1 - echo) * sqrt(echo to the third *
    echo from the third), and the row of that third ingredient (-1 where no path is firm).
    """
    path = bridges.step * np.sqrt(_to_hubs(space, bridges, aroma))
    best = np.argmax(path, axis=1)
    strength = path[np.arange(len(path)), best]
    distance = np.clip(1.0 - echo(space, aroma), 0.0, 1.0)
    third = np.where(strength > 0, bridges.hubs[best], -1)
    return distance * strength, third


def _to_hubs(space: AromaSpace, bridges: Bridges, aroma: Aroma) -> Vector:
    to_hub = _firm(np.asarray(_hub_notes(space, bridges) @ aroma.notes))
    if aroma.id in space.index:
        to_hub[bridges.hubs == space.index[aroma.id]] = 0.0
    return to_hub


def _hub_notes(space: AromaSpace, bridges: Bridges) -> Sparse:
    return space.notes[bridges.hubs] if len(bridges.hubs) < space.notes.shape[0] else space.notes


def _firm(values: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.where(values >= NEAR, values, 0.0)
