"""Learning the balance band from reference drinks.

One regularised Gaussian per family of drinks, in the space of what is tasted. Families are
small, so each borrows the spread of all (a shrunk covariance). How thin a density still counts
as inside or as the edge is set by leaving each reference drink out in turn and looking how thin
it lies to the rest: the share of classics that the band turns away is chosen, not the limits.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from service.kit import BadData
from service.taste.band import Band
from service.taste.density import (
    Cluster,
    coordinates,
    log_density,
    radius,
    steps_between,
    whitening_of,
)
from service.taste.styles import Style
from service.taste.suppression import Percept

if TYPE_CHECKING:
    from numpy.typing import NDArray

FEWEST_POINTS: Final = 12
FEWEST_CORE_POINTS: Final = 8


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
    # Share of drinks of a style of their own that lie further from the next of their kind than
    # it excuses: where classics turned away (10 %) and spoils let through (10 %) balance.
    beyond_own: float = 0.2
    # Each family's covariance is its own plus this many drinks' worth of the common one.
    borrowed_drinks: float = 10.0
    # Least spread of any family: what two makers of the same drink differ by (estimate). Sour
    # is measured on ln(1 + points); salt rests on this alone, since no classic is salty.
    least_spread: tuple[float, ...] = (0.3, 0.3, 0.15, 0.6, 0.7)


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

    >>> from service.taste import judge, perceive
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
    rows = np.array([coordinates(point.percept) for point in points])
    labels = np.array([style for style in styles if not style.of_its_own], dtype=object)
    clusters, common = _clusters(rows[core], labels, settings)
    left_out = _left_out_log_density(rows[core], labels, settings)
    peak = max(float(log_density(clusters, c.middle)) for c in clusters)
    inside, edge = (
        float(radius(_lowest_share(left_out, share), peak))
        for share in (settings.beyond_inside, settings.beyond_edge)
    )
    own_styles = {
        style: rows[[s is style for s in styles]]
        for style in Style
        if style.of_its_own and style in styles
    }
    whitening = whitening_of(common)
    return Band(
        clusters=clusters,
        own_styles=own_styles,
        common_whitening=whitening,
        spread=np.sqrt(np.diag(common)),
        peak=peak,
        inside_radius=inside,
        edge_width=edge - inside,
        own_reach=_own_reach(own_styles, whitening, settings.beyond_own),
    )


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
        clusters.append(Cluster(style, own.mean(axis=0), whitening_of(covariance), height))
    return tuple(clusters), np.asarray(common + least)


def _left_out_log_density(
    rows: NDArray[np.float64], labels: NDArray[np.object_], settings: BandSettings
) -> NDArray[np.float64]:
    """How dense the others lie around each reference drink."""
    left_out = np.empty(len(rows))
    for i, row in enumerate(rows):
        rest = np.arange(len(rows)) != i
        clusters, _ = _clusters(rows[rest], labels[rest], settings)
        left_out[i] = log_density(clusters, row)
    return left_out


def _own_reach(
    own_styles: Mapping[Style, NDArray[np.float64]],
    whitening: NDArray[np.float64],
    beyond: float,
) -> float:
    """How far a drink of an own style usually lies from the next of its kind."""
    nearest: list[float] = []
    for rows in own_styles.values():
        steps = steps_between(rows.T, rows, whitening)
        np.fill_diagonal(steps, np.inf)
        if len(rows) > 1:
            nearest.extend(steps.min(axis=0).tolist())
    return -float(_lowest_share(-np.array(nearest), beyond)) if nearest else 0.0


def _lowest_share(values: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """The value that a share of new draws from the same source would fall below."""
    rank = int(np.floor(share * (len(values) + 1)))
    return np.asarray(np.sort(values)[max(rank, 1) - 1])
