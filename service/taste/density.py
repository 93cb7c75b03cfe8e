"""Densities over what is tasted: points, families as Gaussians, distances in standard spreads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from service.taste.styles import Style
from service.taste.suppression import Percept

if TYPE_CHECKING:
    from numpy.typing import NDArray

AXES: Final = ("sweet", "bitter", "sour", "salt", "heat")
SOUR: Final = AXES.index("sour")


@dataclass(frozen=True, slots=True, eq=False)
class Cluster:
    """One family: its middle, and the matrix that turns a difference into standard spreads."""

    style: Style
    middle: NDArray[np.float64]
    whitening: NDArray[np.float64]
    log_height: float


def coordinates(percept: Percept) -> NDArray[np.float64]:
    """Percepts as points, `AXES` first; sour by its logarithm, because its scale runs past 15."""
    tastes = (percept.sweet, percept.bitter, percept.sour, percept.salt, percept.heat)
    points = np.empty((len(AXES), *np.broadcast_shapes(*(np.shape(taste) for taste in tastes))))
    for axis, taste in enumerate(tastes):
        points[axis] = taste
    points[SOUR] = np.log1p(points[SOUR])
    return points


def whitening_of(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    """The matrix that turns differences (in columns) into standard spreads."""
    return np.asarray(np.linalg.inv(np.linalg.cholesky(covariance)))


def log_density(clusters: Sequence[Cluster], where: NDArray[np.float64]) -> NDArray[np.float64]:
    logs = log_densities(clusters, where)
    highest = logs.max(axis=0)
    return np.asarray(highest + np.log(np.exp(logs - highest).sum(axis=0)))


def log_densities(clusters: Sequence[Cluster], where: NDArray[np.float64]) -> NDArray[np.float64]:
    """The part of each family in the density, one after the other along the first axis."""
    points = where.reshape(len(AXES), -1)
    logs = np.empty((len(clusters), points.shape[-1]))
    for row, cluster in zip(logs, clusters, strict=True):
        steps = cluster.whitening @ points
        steps -= (cluster.whitening @ cluster.middle)[:, None]
        np.einsum("ij,ij->j", steps, steps, out=row)
        row *= -0.5
        row += cluster.log_height
    return logs.reshape(len(clusters), *where.shape[1:])


def steps_between(
    where: NDArray[np.float64], others: NDArray[np.float64], whitening: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Distances from each of the others (first axis) to each point [standard spreads]."""
    points = where.reshape(len(AXES), -1)
    steps = [np.linalg.norm(whitening @ (points - other[:, None]), axis=0) for other in others]
    return np.stack(steps).reshape(len(others), *where.shape[1:])


def radius(log_density: NDArray[np.float64], peak: float) -> NDArray[np.float64]:
    """Log density as a distance: exact for one Gaussian, its natural likeness for several."""
    return np.sqrt(np.maximum(2.0 * (peak - log_density), 0.0))
