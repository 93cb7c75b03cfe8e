"""The balance band: where classic stirred drinks lie, as a density and not as limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from service.taste.density import (
    SOUR,
    Cluster,
    coordinates,
    log_densities,
    log_density,
    radius,
    steps_between,
)
from service.taste.styles import Style
from service.taste.suppression import Percept

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Verdict(StrEnum):
    INSIDE = "inside"
    EDGE = "edge"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """The learnt band. Distances are in standard spreads from the border of the inside.

    moved : the tastes along which a house has moved it far enough away from the classics to say so
    """

    clusters: tuple[Cluster, ...]
    own_styles: Mapping[Style, NDArray[np.float64]]
    common_whitening: NDArray[np.float64]
    spread: NDArray[np.float64]
    peak: float
    inside_radius: float
    edge_width: float
    own_reach: float
    moved: frozenset[str] = frozenset()


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

    >>> from service.taste import Reference, Style, fit_band, perceive
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> undiluted = perceive(sugar_g_per_l=65.0, qhe_mg_per_l=29.0, abv=0.33)
    >>> judge(fit_band(drinks), undiluted).verdict().value
    'outside'
    """
    where = coordinates(percept)
    distance = radius(log_density(band.clusters, where), band.peak) - band.inside_radius
    excused = np.zeros(distance.shape, dtype=bool)
    if style is not None and style in band.own_styles:
        steps = steps_between(where, band.own_styles[style], band.common_whitening)
        excused = steps.min(axis=0) <= band.own_reach
    return Judgement(distance, excused, band.edge_width)


def leanings(band: Band, percept: Percept) -> NDArray[np.float64]:
    """How far drinks lean from the classics they are nearest to, by taste [standard spreads].

    The last axis runs over `AXES`. Positive is too much of a taste, negative too little. Families
    differ in acid by whether wine is in them, so no drink leans to or lacks acid that has no more
    than the sharpest family and no less than the least sharp.

    Parameters
    ----------
    band : Band
        From `fit_band` [-]
    percept : Percept
        One drink, or arrays of them [points]

    Valid for: any percept of `perceive`.
    Source: as `fit_band`; the middle of the nearest families, each by its share in the density.

    >>> from service.taste import AXES, Reference, Style, fit_band, perceive
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> syrupy = perceive(sugar_g_per_l=95.0, qhe_mg_per_l=20.0, abv=0.23)
    >>> AXES[int(leanings(fit_band(drinks), syrupy).argmax())]
    'sweet'
    """
    where = coordinates(percept)
    logs = log_densities(band.clusters, where)
    shares = np.exp(logs - logs.max(axis=0))
    middles = np.array([cluster.middle for cluster in band.clusters])
    nearest = np.tensordot(middles.T, shares / shares.sum(axis=0), axes=1)
    sharpness = middles[:, SOUR]
    nearest[SOUR] = np.clip(where[SOUR], sharpness.min(), sharpness.max())
    return np.asarray(np.moveaxis(where - nearest, 0, -1) / band.spread)
