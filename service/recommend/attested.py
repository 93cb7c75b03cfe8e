"""What is poured together more often than popularity explains: the surplus of attested pairs.

Popular bottles meet everything, so that being poured together says little of them. Each attested
pair is therefore set against pairs of the same two roles, equally popular, that nobody poured.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from service.aroma import COFFEE
from service.ingredients import Catalogue
from service.ingredients.records import Role

Matrix = NDArray[np.float64]
Vector = NDArray[np.float64]
Pair = tuple[str, str]
# Roles whose pairs are compared; coffee is compared with all of them at once.
BLOCKS: tuple[tuple[Role, Role], ...] = (
    (Role.BASE, Role.MODIFIER),
    (Role.BASE, Role.BITTERS),
    (Role.MODIFIER, Role.BITTERS),
    (Role.BASE, Role.BASE),
    (Role.MODIFIER, Role.MODIFIER),
    (Role.BASE, Role.SWEETENER),
    (Role.MODIFIER, Role.SWEETENER),
    (Role.BITTERS, Role.SWEETENER),
)
WITH_COFFEE = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.GARNISH)
# How near two popularities must be to be compared (in the natural logarithm), and how many
# equally popular pairs make an attested one half believed. Our estimates; the AUC moves by less
# than 0.01 between half and double of either.
NEAR_POPULARITY = 0.25
ENOUGH_LIKE_IT = 1.0
# Up to this many ingredients all are learnt from; beyond it only those somebody poured, so that
# what is learnt stays small however long the list of bottles grows.
MOST_ANCHORS = 512


@dataclass(frozen=True, slots=True, eq=False)
class Attested:
    """Who is poured with whom.

    ids : the anchors, ingredients in order of the catalogue, the last is `coffee`
    counts : (anchors, anchors) weighted number of drinks or dishes that hold both
    surplus : (anchors, anchors) symmetric: attested minus equally popular unattested
    """

    ids: tuple[str, ...]
    counts: Matrix
    surplus: Matrix


def attested(catalogue: Catalogue) -> Attested:
    """All that the catalogue's specifications and coffee combinations attest."""
    counts = pair_counts(catalogue)
    ids = anchors(catalogue, counts)
    table = count_table(ids, counts)
    roles = [str(catalogue.ingredients[i].role) for i in ids[:-1]] + [COFFEE]
    popular = popularity(catalogue)
    logs = np.log1p([popular.get(i, 0.0) for i in ids])
    return Attested(ids, table, surplus(table, roles, logs, np.ones(table.shape, dtype=bool)))


def pair_counts(catalogue: Catalogue) -> dict[Pair, float]:
    """How often each pair (in order of id) is attested. Versions of one drink share one count."""
    versions = Counter(spec.name for spec in catalogue.specs)
    counts: dict[Pair, float] = defaultdict(float)
    for spec in catalogue.specs:
        parts = sorted({pour.ingredient for pour in spec.pours})
        for pair in combinations(parts, 2):
            counts[pair] += 1.0 / versions[spec.name]
    for combination in catalogue.combinations:
        a, b = sorted((combination.ingredient, COFFEE))
        counts[a, b] += 1.0
    return dict(counts)


def popularity(catalogue: Catalogue) -> dict[str, float]:
    """In how many drinks each ingredient is poured; versions of one drink share one count."""
    versions = Counter(spec.name for spec in catalogue.specs)
    found: dict[str, float] = defaultdict(float)
    for spec in catalogue.specs:
        for part in {pour.ingredient for pour in spec.pours}:
            found[part] += 1.0 / versions[spec.name]
    return dict(found)


def anchors(catalogue: Catalogue, counts: Mapping[Pair, float]) -> tuple[str, ...]:
    """The ids that are learnt from; `coffee` comes last."""
    known = [i.id for i in catalogue.ingredients.values() if i.role is not Role.COFFEE]
    if len(known) > MOST_ANCHORS:
        seen = {name for pair in counts for name in pair}
        known = [name for name in known if name in seen][:MOST_ANCHORS]
    return (*known, COFFEE)


def count_table(ids: Sequence[str], counts: Mapping[Pair, float]) -> Matrix:
    """Counts of pairs as a symmetric table; pairs left out of `counts` are as if never seen."""
    place = {name: row for row, name in enumerate(ids)}
    table = np.zeros((len(ids), len(ids)))
    for (a, b), count in counts.items():
        if a in place and b in place:
            table[place[a], place[b]] = table[place[b], place[a]] = count
    return table


def surplus(
    counts: Matrix, roles: Sequence[str], popularity_log: Vector, usable: NDArray[np.bool_]
) -> Matrix:
    """Attested pairs at +1, less the same weight spread over equally popular unattested ones.

    An attested pair of bottles that has no equal among the unattested tells nothing (everything
    popular meets) and counts little. With coffee it counts in full, by how often it is attested:
    what is put with coffee was chosen for the coffee. `usable` masks pairs that must be
    neither (held out).
    """
    role = np.array(roles)
    table = np.zeros_like(counts)
    for a, b in BLOCKS:
        _add_block(table, counts, np.flatnonzero(role == a), np.flatnonzero(role == b),
                   popularity_log, usable)  # fmt: skip
    anything = np.flatnonzero(np.isin(role, [str(r) for r in WITH_COFFEE]))
    coffee = np.flatnonzero(role == COFFEE)
    _add_block(table, counts, coffee, anything, popularity_log, usable, with_coffee=True)
    return table + table.T


def _add_block(
    table: Matrix,
    counts: Matrix,
    first: NDArray[np.intp],
    second: NDArray[np.intp],
    popularity_log: Vector,
    usable: NDArray[np.bool_],
    with_coffee: bool = False,
) -> None:
    chosen = usable[np.ix_(first, second)]
    if np.array_equal(first, second):
        chosen = np.triu(chosen, 1)
    rows, columns = np.nonzero(chosen)
    i, j = first[rows], second[columns]
    poured = counts[i, j] > 0
    if not poured.any() or poured.all():
        return
    places = np.stack([popularity_log[i], popularity_log[j]], axis=1)
    like = _likeness(places[poured], places[~poured])
    like_it = like.sum(axis=1)
    believed = like_it / (like_it + ENOUGH_LIKE_IT)
    share = np.divide(believed, like_it, out=np.zeros_like(believed), where=like_it > 0)
    table[i[~poured], j[~poured]] -= share @ like
    table[i[poured], j[poured]] += _evidence(counts[i, j][poured]) if with_coffee else believed


def _evidence(counts: Vector) -> Vector:
    """What is attested by many counts more than what is attested once, and less and less so:
    0.75 for one, 1 for two, towards 1.5."""
    return np.asarray(1.5 * counts / (counts + 1.0))


def _likeness(a: Matrix, b: Matrix) -> Matrix:
    """How near two pairs are in the popularity of both their parts, 0 to 1."""
    apart = np.subtract.outer(a[:, 0], b[:, 0]) ** 2 + np.subtract.outer(a[:, 1], b[:, 1]) ** 2
    return np.asarray(np.exp(apart / (-2.0 * NEAR_POPULARITY**2)))
