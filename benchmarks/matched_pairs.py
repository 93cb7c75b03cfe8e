"""Attested pairs, each beside a pair of the same roles, equally popular, that nobody poured."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma import COFFEE
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.recommend.attested import WITH_COFFEE, anchors, count_table, pair_counts, popularity

KINDS = ("base-modifier", "base-bitters", "modifier-bitters", "coffee-anything")
# Two pairs are equally popular when the logarithms of (1 + drinks) lie within this distance.
CALIPER = 0.3
MATCHINGS = 5


@dataclass(frozen=True, slots=True, eq=False)
class World:
    """The catalogue's anchors with their roles, popularity and counts of attested pairs."""

    ids: tuple[str, ...]
    roles: NDArray[np.str_]
    popularity_log: NDArray[np.float64]
    counts: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Matched:
    """(pairs, 2) rows of attested pairs, the same of their unattested equals, and their kind."""

    attested: NDArray[np.intp]
    unattested: NDArray[np.intp]
    kind: NDArray[np.intp]

    @property
    def pairs(self) -> NDArray[np.intp]:
        """Attested first, then unattested."""
        return np.vstack([self.attested, self.unattested])


def world_of(catalogue: Catalogue) -> World:
    counts = pair_counts(catalogue)
    ids = anchors(catalogue, counts)
    roles = np.array([str(catalogue.ingredients[i].role) for i in ids[:-1]] + [COFFEE])
    drinks = popularity(catalogue)
    logs = np.log1p([drinks.get(i, 0.0) for i in ids])
    logs[-1] = 0.0  # coffee is in all of its pairs
    return World(ids, roles, logs, count_table(ids, counts))


def matched_pairs(world: World, seed: int) -> Matched:
    """One unattested partner for each attested pair, none used twice; ties broken by the seed.

    The partner is chosen by least total distance in the popularity of both things (linear
    assignment, Crouse 2016, IEEE Trans. Aerosp. Electron. Syst. 52:1679). An attested pair
    that no unattested one equals is left out: what everybody pours has no equal.
    """
    from scipy.optimize import linear_sum_assignment

    random = np.random.default_rng(seed)
    found = []
    for kind, (first, second) in enumerate(_blocks(world)):
        grid = np.array([(a, b) for a in first for b in second])
        poured = world.counts[grid[:, 0], grid[:, 1]] > 0
        yes, no = grid[poured], grid[~poured]
        places = world.popularity_log[yes], world.popularity_log[no]
        apart = np.sqrt(((places[0][:, None] - places[1][None]) ** 2).sum(axis=2))
        cost = np.where(apart <= CALIPER, apart, 1e3) + 1e-3 * random.random(apart.shape)
        rows, columns = linear_sum_assignment(cost)
        near = apart[rows, columns] <= CALIPER
        found.append((yes[rows[near]], no[columns[near]], np.full(near.sum(), kind)))
    return Matched(*(np.concatenate(part) for part in zip(*found, strict=True)))


def by_lot(world: World, matched: Matched, seed: int) -> Matched:
    """The same attested pairs, each beside an unattested pair of the same roles drawn by lot:
    telling these apart is helped by popularity, which no equal allows."""
    random = np.random.default_rng(seed)
    found = []
    for kind, (first, second) in enumerate(_blocks(world)):
        grid = np.array([(a, b) for a in first for b in second])
        unattested = grid[world.counts[grid[:, 0], grid[:, 1]] == 0]
        count = int((matched.kind == kind).sum())
        found.append(unattested[random.choice(len(unattested), count, replace=False)])
    return Matched(matched.attested, np.concatenate(found), matched.kind)


def _blocks(world: World) -> list[tuple[NDArray[np.intp], NDArray[np.intp]]]:
    of = {role: np.flatnonzero(world.roles == str(role)) for role in Role}
    anything = np.flatnonzero(np.isin(world.roles, [str(role) for role in WITH_COFFEE]))
    return [
        (of[Role.BASE], of[Role.MODIFIER]),
        (of[Role.BASE], of[Role.BITTERS]),
        (of[Role.MODIFIER], of[Role.BITTERS]),
        (of[Role.COFFEE], anything),
    ]


def area_under_curve(attested: NDArray[np.float64], unattested: NDArray[np.float64]) -> float:
    """Chance that an attested pair scores above an unattested one; ties count half."""
    from scipy.stats import rankdata

    ranks = rankdata(np.concatenate([attested, unattested]))
    n, m = len(attested), len(unattested)
    return float((ranks[:n].sum() - n * (n + 1) / 2) / (n * m))


def interval(
    scores: list[tuple[NDArray[np.float64], NDArray[np.float64]]], draws: int = 2000
) -> tuple[float, float, float]:
    """Mean AUC over the matchings, with a 95 % bootstrap interval over matched pairs.

    Each draw takes one matching and resamples its pairs with their equals (Efron 1979).
    """
    random = np.random.default_rng(0)
    mean = float(np.mean([area_under_curve(*both) for both in scores]))
    found = np.empty(draws)
    for draw in range(draws):
        attested, unattested = scores[draw % len(scores)]
        chosen = random.integers(0, len(attested), len(attested))
        found[draw] = area_under_curve(attested[chosen], unattested[chosen])
    low, high = np.quantile(found, [0.025, 0.975])
    return mean, float(low), float(high)
