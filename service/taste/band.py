"""The balance band: where classic stirred drinks lie, learnt as a density and not as limits.

One regularised Gaussian per family of drinks, in the space of what is tasted. Families are
small, so each borrows the spread of all (a shrunk covariance). How thin a density still counts
as inside or as the edge is set by leaving each reference drink out in turn and looking how thin
it lies to the rest: the share of classics that the band turns away is chosen, not the limits.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Final

import numpy as np

from service.kit import BadData
from service.taste.styles import Style
from service.taste.suppression import Percept

if TYPE_CHECKING:
    from numpy.typing import NDArray

AXES: Final = ("sweet", "bitter", "sour", "salt", "heat")
FEWEST_POINTS: Final = 12


class Verdict(StrEnum):
    INSIDE = "inside"
    EDGE = "edge"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Reference:
    """A reference drink as it tastes, and its family."""

    name: str
    percept: Percept
    style: Style


@dataclass(frozen=True, slots=True)
class BandSettings:
    """How the band is drawn."""

    # Shares of left-out classics that lie thinner than the inside, and than the edge.
    beyond_inside: float = 0.33
    beyond_edge: float = 0.14
    # Each family's covariance is its own plus this many drinks' worth of the common one.
    borrowed_drinks: float = 15.0
    # Least spread of any family: what two makers of the same drink differ by (estimate). Sour
    # is measured on ln(1 + points); salt rests on this alone, since no classic is salty.
    least_spread: tuple[float, ...] = (0.3, 0.3, 0.15, 0.6, 0.7)


@dataclass(frozen=True, slots=True, eq=False)
class Cluster:
    """One family: its middle, and the matrix that turns a difference into standard spreads."""

    style: Style
    middle: NDArray[np.float64]
    whitening: NDArray[np.float64]
    log_height: float


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """The learnt band. Distances are in standard spreads from the border of the inside."""

    clusters: tuple[Cluster, ...]
    own_styles: Mapping[Style, NDArray[np.float64]]
    common_whitening: NDArray[np.float64]
    spread: NDArray[np.float64]
    peak: float
    inside_radius: float
    edge_width: float
    own_reach: float
    settings: BandSettings


@dataclass(frozen=True, slots=True, eq=False)
class Judgement:
    """Distance from the border of the inside (below 0: inside) and whether a style excuses it."""

    distance: NDArray[np.float64]
    excused: NDArray[np.bool_]
    edge_width: float

    @property
    def inside(self) -> NDArray[np.bool_]:
        return self.distance <= 0.0

    @property
    def outside(self) -> NDArray[np.bool_]:
        return (self.distance > self.edge_width) & ~self.excused

    def verdict(self, index: tuple[int, ...] = ()) -> Verdict:
        """The word for one of the judged points."""
        if self.inside[index]:
            return Verdict.INSIDE
        return Verdict.OUTSIDE if self.outside[index] else Verdict.EDGE


def fit_band(points: Sequence[Reference], settings: BandSettings | None = None) -> Band:
    """The band of a set of reference drinks [distances in standard spreads].

    Parameters
    ----------
    points : Sequence[Reference]
        At least 12 drinks, tasted by the same palate at the same temperature [points]
    settings : BandSettings
        How it is drawn [-]

    Valid for: 12 drinks or more of which 8 are no style of their own; BadData otherwise.
    Source: our estimate: density by regularised Gaussians (shrinkage as Friedman 1989,
    Regularized Discriminant Analysis), thresholds by leaving one out (conformal prediction,
    Vovk, Gammerman & Shafer 2005).

    >>> import numpy as np
    >>> from service.taste import perceive, Style
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> band = fit_band(drinks)
    >>> judge(band, perceive(sugar_g_per_l=45.0, qhe_mg_per_l=20.0, abv=0.23)).verdict().value
    'inside'
    """
    settings = settings or BandSettings()
    coordinates = np.array([_coordinates(point.percept) for point in points])
    styles = [point.style for point in points]
    core = np.array([not style.of_its_own for style in styles], dtype=bool)
    if len(points) < FEWEST_POINTS or core.sum() < 2 * FEWEST_POINTS // 3:
        raise BadData(f"a band needs {FEWEST_POINTS} reference drinks, not {len(points)}")
    where = coordinates[core]
    labels = np.array([style for style in styles if not style.of_its_own], dtype=object)
    clusters, common = _clusters(where, labels, settings)
    left_out = _left_out_log_density(where, labels, settings)
    peak = max(float(_log_density(clusters, c.middle)) for c in clusters)
    inside, edge = (
        _radius(_lowest_share(left_out, share), peak)
        for share in (settings.beyond_inside, settings.beyond_edge)
    )
    own_styles = {
        style: coordinates[[s is style for s in styles]]
        for style in Style
        if style.of_its_own and style in styles
    }
    return Band(
        clusters=clusters,
        own_styles=own_styles,
        common_whitening=_whitening(common),
        spread=np.sqrt(np.diag(common)),
        peak=peak,
        inside_radius=float(inside),
        edge_width=float(edge - inside),
        own_reach=_own_reach(own_styles, _whitening(common), settings.beyond_edge),
        settings=settings,
    )


def judge(band: Band, percept: Percept, style: Style | None = None) -> Judgement:
    """How far what is tasted lies from the border of the band's inside [standard spreads].

    Parameters
    ----------
    band : Band
        From `fit_band` [-]
    percept : Percept
        One drink, or arrays of draws [points]
    style : Style
        The drink's family, if known: a style of its own is excused near its own references [-]

    Valid for: any percept of `perceive`.
    Source: as `fit_band`.

    >>> # see `fit_band`
    """
    where = _coordinates(percept)
    distance = _radius(_log_density(band.clusters, where), band.peak) - band.inside_radius
    excused = np.zeros(distance.shape, dtype=bool)
    if style is not None and style in band.own_styles:
        steps = _steps(where, band.own_styles[style], band.common_whitening)
        excused = steps.min(axis=-1) <= band.own_reach
    return Judgement(distance, excused, band.edge_width)


def leanings(band: Band, percept: Percept) -> dict[str, float]:
    """How far one drink leans from the classics it is nearest to, by taste [standard spreads].

    Positive is too much of it, negative too little.

    Parameters
    ----------
    band : Band
        From `fit_band` [-]
    percept : Percept
        One drink [points]

    Valid for: a single percept.
    Source: as `fit_band`; the middle of the nearest families, each by its share in the density.

    >>> # see `fit_band`
    """
    where = _coordinates(percept)
    logs = np.array([float(_log_density((cluster,), where)) for cluster in band.clusters])
    shares = np.exp(logs - logs.max())
    middle = shares @ np.array([c.middle for c in band.clusters]) / shares.sum()
    return dict(zip(AXES, ((where - middle) / band.spread).tolist(), strict=True))


def _coordinates(percept: Percept) -> NDArray[np.float64]:
    """Percepts as points; sourness by its logarithm, because its scale runs far past 15."""
    values = (
        percept.sweet,
        percept.bitter,
        np.log1p(percept.sour),
        percept.salt,
        percept.heat,
    )
    return np.stack(np.broadcast_arrays(*values), axis=-1).astype(np.float64)


def _clusters(
    where: NDArray[np.float64], labels: NDArray[np.object_], settings: BandSettings
) -> tuple[tuple[Cluster, ...], NDArray[np.float64]]:
    """One cluster per family, and the common covariance they borrow from."""
    families = [style for style in Style if (labels == style).any()]
    members = [where[labels == style] for style in families]
    scatters = [(m - m.mean(axis=0)).T @ (m - m.mean(axis=0)) for m in members]
    least = np.diag(np.square(settings.least_spread))
    common = sum(scatters) / max(len(where) - len(families), 1)
    clusters = []
    for style, rows, scatter in zip(families, members, scatters, strict=True):
        worth = len(rows) - 1 + settings.borrowed_drinks
        covariance = (scatter + settings.borrowed_drinks * common) / worth + least
        half_log_volume = 0.5 * float(np.linalg.slogdet(covariance)[1])
        height = float(np.log(len(rows) / len(where))) - half_log_volume
        clusters.append(Cluster(style, rows.mean(axis=0), _whitening(covariance), height))
    return tuple(clusters), np.asarray(common + least)


def _whitening(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(np.linalg.inv(np.linalg.cholesky(covariance)).T)


def _log_density(clusters: Sequence[Cluster], where: NDArray[np.float64]) -> NDArray[np.float64]:
    logs = [
        c.log_height - 0.5 * np.square((where - c.middle) @ c.whitening).sum(axis=-1)
        for c in clusters
    ]
    return np.asarray(np.logaddexp.reduce(logs, axis=0))


def _left_out_log_density(
    where: NDArray[np.float64], labels: NDArray[np.object_], settings: BandSettings
) -> NDArray[np.float64]:
    left_out = np.empty(len(where))
    for i in range(len(where)):
        rest = np.arange(len(where)) != i
        clusters, _ = _clusters(where[rest], labels[rest], settings)
        left_out[i] = _log_density(clusters, where[i])
    return left_out


def _steps(
    where: NDArray[np.float64], others: NDArray[np.float64], whitening: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Distances from each point to each of the others [standard spreads]."""
    steps = (where[..., None, :] - others) @ whitening
    return np.asarray(np.sqrt(np.square(steps).sum(axis=-1)))


def _own_reach(
    own_styles: Mapping[Style, NDArray[np.float64]],
    whitening: NDArray[np.float64],
    beyond: float,
) -> float:
    """How far a drink of an own style usually lies from the next of its kind."""
    nearest: list[float] = []
    for rows in own_styles.values():
        steps = _steps(rows, rows, whitening)
        np.fill_diagonal(steps, np.inf)
        nearest.extend(steps.min(axis=-1)[np.isfinite(steps.min(axis=-1))].tolist())
    return -float(_lowest_share(-np.array(nearest), beyond)) if nearest else 0.0


def _lowest_share(values: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """The value that a share of new draws from the same source would fall below."""
    rank = int(np.floor(share * (len(values) + 1)))
    return np.asarray(np.sort(values)[max(rank, 1) - 1])


def _radius(log_density: NDArray[np.float64], peak: float) -> NDArray[np.float64]:
    """Log density as a distance: exact for one Gaussian, its natural likeness for several."""
    return np.sqrt(np.maximum(2.0 * (peak - log_density), 0.0))
