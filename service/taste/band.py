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
FEWEST_CORE_POINTS: Final = 8


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
    beyond_edge: float = 0.12
    # Each family's covariance is its own plus this many drinks' worth of the common one.
    borrowed_drinks: float = 10.0
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

    def verdict(self) -> Verdict:
        """The word for a single judged point."""
        return _word(bool(self.inside), bool(self.outside))

    def usual_verdicts(self) -> list[Verdict]:
        """The words for drinks by draws, of which the first draw is the usual one."""
        columns = zip(self.inside[:, 0].tolist(), self.outside[:, 0].tolist(), strict=True)
        return [_word(inside, outside) for inside, outside in columns]


def _word(inside: bool, outside: bool) -> Verdict:
    if inside:
        return Verdict.INSIDE
    return Verdict.OUTSIDE if outside else Verdict.EDGE


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
    styles = [point.style for point in points]
    core = np.array([not style.of_its_own for style in styles], dtype=bool)
    if len(points) < FEWEST_POINTS or core.sum() < FEWEST_CORE_POINTS:
        raise BadData(
            f"a band needs {FEWEST_POINTS} reference drinks, {FEWEST_CORE_POINTS} of them led by "
            f"their spirit; these are {len(points)} and {int(core.sum())}"
        )
    rows = np.array([_coordinates(point.percept) for point in points])
    labels = np.array([style for style in styles if not style.of_its_own], dtype=object)
    clusters, common = _clusters(rows[core], labels, settings)
    left_out = _left_out_log_density(rows[core], labels, settings)
    peak = max(float(_log_density(clusters, c.middle)) for c in clusters)
    inside, edge = (
        float(_radius(_lowest_share(left_out, share), peak))
        for share in (settings.beyond_inside, settings.beyond_edge)
    )
    own_styles = {
        style: rows[[s is style for s in styles]]
        for style in Style
        if style.of_its_own and style in styles
    }
    whitening = _whitening(common)
    return Band(
        clusters=clusters,
        own_styles=own_styles,
        common_whitening=whitening,
        spread=np.sqrt(np.diag(common)),
        peak=peak,
        inside_radius=inside,
        edge_width=edge - inside,
        own_reach=_own_reach(own_styles, whitening, settings.beyond_edge),
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

    >>> from service.taste import perceive, Style
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> undiluted = perceive(sugar_g_per_l=65.0, qhe_mg_per_l=29.0, abv=0.33)
    >>> judge(fit_band(drinks), undiluted).verdict().value
    'outside'
    """
    where = _coordinates(percept)
    distance = _radius(_log_density(band.clusters, where), band.peak) - band.inside_radius
    excused = np.zeros(distance.shape, dtype=bool)
    if style is not None and style in band.own_styles:
        steps = _steps(where, band.own_styles[style], band.common_whitening)
        excused = steps.min(axis=0) <= band.own_reach
    return Judgement(distance, excused, band.edge_width)


def leanings(band: Band, percept: Percept) -> NDArray[np.float64]:
    """How far drinks lean from the classics they are nearest to, by taste [standard spreads].

    The last axis runs over `AXES`. Positive is too much of a taste, negative too little.

    Parameters
    ----------
    band : Band
        From `fit_band` [-]
    percept : Percept
        One drink, or arrays of them [points]

    Valid for: any percept of `perceive`.
    Source: as `fit_band`; the middle of the nearest families, each by its share in the density.

    >>> from service.taste import perceive, Style
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> syrupy = perceive(sugar_g_per_l=95.0, qhe_mg_per_l=20.0, abv=0.23)
    >>> AXES[int(leanings(fit_band(drinks), syrupy).argmax())]
    'sweet'
    """
    where = _coordinates(percept)
    logs = _log_densities(band.clusters, where)
    shares = np.exp(logs - logs.max(axis=0))
    middles = np.array([cluster.middle for cluster in band.clusters])
    nearest = np.tensordot(middles.T, shares / shares.sum(axis=0), axes=1)
    return np.asarray(np.moveaxis(where - nearest, 0, -1) / band.spread)


def _coordinates(percept: Percept) -> NDArray[np.float64]:
    """Percepts as points, `AXES` first; sour by its logarithm, because its scale runs past 15."""
    tastes = (percept.sweet, percept.bitter, percept.sour, percept.salt, percept.heat)
    points = np.empty((len(AXES), *np.broadcast_shapes(*(np.shape(taste) for taste in tastes))))
    for axis, taste in enumerate(tastes):
        points[axis] = taste
    sour = AXES.index("sour")
    points[sour] = np.log1p(points[sour])
    return points


def _clusters(
    rows: NDArray[np.float64], labels: NDArray[np.object_], settings: BandSettings
) -> tuple[tuple[Cluster, ...], NDArray[np.float64]]:
    """One cluster per family, and the common covariance they borrow from."""
    families = [style for style in Style if (labels == style).any()]
    members = [rows[labels == style] for style in families]
    scatters = [(m - m.mean(axis=0)).T @ (m - m.mean(axis=0)) for m in members]
    least = np.diag(np.square(settings.least_spread))
    common = sum(scatters) / max(len(rows) - len(families), 1)
    clusters = []
    for style, own, scatter in zip(families, members, scatters, strict=True):
        worth = len(own) - 1 + settings.borrowed_drinks
        covariance = (scatter + settings.borrowed_drinks * common) / worth + least
        half_log_volume = 0.5 * float(np.linalg.slogdet(covariance)[1])
        height = float(np.log(len(own) / len(rows))) - half_log_volume
        clusters.append(Cluster(style, own.mean(axis=0), _whitening(covariance), height))
    return tuple(clusters), np.asarray(common + least)


def _whitening(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    """The matrix that turns differences (in columns) into standard spreads."""
    return np.asarray(np.linalg.inv(np.linalg.cholesky(covariance)))


def _log_density(clusters: Sequence[Cluster], where: NDArray[np.float64]) -> NDArray[np.float64]:
    logs = _log_densities(clusters, where)
    highest = logs.max(axis=0)
    return np.asarray(highest + np.log(np.exp(logs - highest).sum(axis=0)))


def _log_densities(clusters: Sequence[Cluster], where: NDArray[np.float64]) -> NDArray[np.float64]:
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


def _left_out_log_density(
    rows: NDArray[np.float64], labels: NDArray[np.object_], settings: BandSettings
) -> NDArray[np.float64]:
    """How dense the others lie around each reference drink."""
    left_out = np.empty(len(rows))
    for i, row in enumerate(rows):
        rest = np.arange(len(rows)) != i
        clusters, _ = _clusters(rows[rest], labels[rest], settings)
        left_out[i] = _log_density(clusters, row)
    return left_out


def _steps(
    where: NDArray[np.float64], others: NDArray[np.float64], whitening: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Distances from each of the others (first axis) to each point [standard spreads]."""
    points = where.reshape(len(AXES), -1)
    steps = [np.linalg.norm(whitening @ (points - other[:, None]), axis=0) for other in others]
    return np.stack(steps).reshape(len(others), *where.shape[1:])


def _own_reach(
    own_styles: Mapping[Style, NDArray[np.float64]],
    whitening: NDArray[np.float64],
    beyond: float,
) -> float:
    """How far a drink of an own style usually lies from the next of its kind."""
    nearest: list[float] = []
    for rows in own_styles.values():
        steps = _steps(rows.T, rows, whitening)
        np.fill_diagonal(steps, np.inf)
        if len(rows) > 1:
            nearest.extend(steps.min(axis=0).tolist())
    return -float(_lowest_share(-np.array(nearest), beyond)) if nearest else 0.0


def _lowest_share(values: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """The value that a share of new draws from the same source would fall below."""
    rank = int(np.floor(share * (len(values) + 1)))
    return np.asarray(np.sort(values)[max(rank, 1) - 1])


def _radius(log_density: NDArray[np.float64], peak: float) -> NDArray[np.float64]:
    """Log density as a distance: exact for one Gaussian, its natural likeness for several."""
    return np.sqrt(np.maximum(2.0 * (peak - log_density), 0.0))
