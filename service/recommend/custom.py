"""The fourth way to belong together: what public specifications have long poured together."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from service.aroma import COFFEE
from service.ingredients import Catalogue
from service.ingredients.records import Role

Matrix = NDArray[np.float64]
# An explanation looks at this many of an ingredient's closest relatives.
CLOSEST = 12


@dataclass(frozen=True, slots=True)
class CustomSettings:
    """How specifications become a score. Our estimates, checked by `benchmarks/affinity.py`.

    own: weight of an ingredient's own specifications against those of its relatives
    style: weight of ingredients of the same style
    usage: weight of ingredients poured with the same things
    rank: dimensions kept of the usage
    smoothing: pseudo-count against chance pairs
    """

    own: float = 1.0
    style: float = 0.5
    usage: float = 0.5
    rank: int = 12
    smoothing: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Custom:
    """How firmly any two ingredients (and coffee) belong together by custom.

    ids : rows and columns; the last is `coffee`
    index : id to row
    together : (n, n) positive pointwise mutual information of being poured together
    relatives : (n, n) rows sum to 1: whose specifications speak for whom
    score : (n, n) relatives @ together @ relatives.T
    specs : (n, n) weighted number of specifications that hold both
    """

    ids: tuple[str, ...]
    index: Mapping[str, int]
    together: Matrix
    relatives: Matrix
    score: Matrix
    specs: Matrix


def build_custom(catalogue: Catalogue, settings: CustomSettings | None = None) -> Custom:
    """Custom from the catalogue's specifications and coffee combinations."""
    ids = (*(i.id for i in catalogue.ingredients.values() if i.role is not Role.COFFEE), COFFEE)
    styles = {i: f"{catalogue.ingredients[i].role}/{catalogue.ingredients[i].style}"
              for i in ids[:-1]}  # fmt: skip
    counts = pair_counts(catalogue)
    return custom_of_counts(ids, counts, styles, settings or CustomSettings())


def pair_counts(catalogue: Catalogue) -> dict[tuple[str, str], float]:
    """How often each pair (in order of id) is attested. Versions of one drink share one count."""
    versions = Counter(spec.name for spec in catalogue.specs)
    counts: dict[tuple[str, str], float] = defaultdict(float)
    for spec in catalogue.specs:
        parts = sorted({pour.ingredient for pour in spec.pours})
        for pair in combinations(parts, 2):
            counts[pair] += 1.0 / versions[spec.name]
    for combination in catalogue.combinations:
        a, b = sorted((combination.ingredient, COFFEE))
        counts[a, b] += 1.0
    return dict(counts)


def custom_of_counts(
    ids: tuple[str, ...],
    counts: Mapping[tuple[str, str], float],
    styles: Mapping[str, str],
    settings: CustomSettings,
) -> Custom:
    """Custom from attested pairs alone; pairs left out of `counts` are as if never seen."""
    index = {name: row for row, name in enumerate(ids)}
    specs = np.zeros((len(ids), len(ids)))
    for (a, b), count in counts.items():
        if a in index and b in index:
            specs[index[a], index[b]] = specs[index[b], index[a]] = count
    together = mutual_information(specs, settings.smoothing)
    relatives = _relatives(ids, together, styles, settings)
    return Custom(ids, index, together, relatives, relatives @ together @ relatives.T, specs)


def mutual_information(counts: Matrix, smoothing: float) -> Matrix:
    """Positive pointwise mutual information of a symmetric table of counts.

    Context counts are raised to 0.75 so that rare partners do not look exclusive (Levy, Goldberg
    and Dagan 2015, Trans. ACL 3:211), and each cell is shrunk by count / (count + smoothing).
    """
    totals = counts.sum(axis=1)
    total = totals.sum()
    if total == 0:
        return np.zeros_like(counts)
    context = totals**0.75
    expected = np.outer(totals, context) / context.sum()
    ratio = np.divide(counts, expected, out=np.ones_like(counts), where=counts > 0)
    information = np.log(np.maximum(ratio, 1.0)) * counts / (counts + smoothing)
    return np.asarray((information + information.T) / 2.0)


def _relatives(
    ids: tuple[str, ...], together: Matrix, styles: Mapping[str, str], settings: CustomSettings
) -> Matrix:
    same_style = np.array(
        [[a != b and styles.get(a, a) == styles.get(b, b) for b in ids] for a in ids], dtype=float
    )
    seen = (together > 0).sum(axis=1) > 0
    same_style *= seen.astype(float)
    kernel = (
        settings.own * np.diag(seen.astype(float))
        + settings.style * _rows_sum_to_one(same_style)
        + settings.usage * _rows_sum_to_one(_usage(together, settings.rank))
    )
    return _rows_sum_to_one(kernel)


def _usage(together: Matrix, rank: int) -> Matrix:
    """Cosine of two ingredients' partners in the `rank` strongest dimensions; 0 on the diagonal."""
    values, vectors = np.linalg.eigh(together)
    strongest = np.argsort(-np.abs(values), kind="stable")[:rank]
    place = vectors[:, strongest] * np.abs(values[strongest])
    lengths = np.linalg.norm(place, axis=1, keepdims=True)
    unit = np.divide(place, lengths, out=np.zeros_like(place), where=lengths > 1e-9)
    cosine = np.clip(unit @ unit.T, 0.0, 1.0) ** 4
    np.fill_diagonal(cosine, 0.0)
    return np.asarray(cosine)


def _rows_sum_to_one(matrix: Matrix) -> Matrix:
    totals = matrix.sum(axis=1, keepdims=True)
    return np.asarray(np.divide(matrix, totals, out=np.zeros_like(matrix), where=totals > 0))


def attested_by(custom: Custom, a: str, b: str, limit: int = 3) -> list[tuple[str, str, float]]:
    """Which attested pairs (like a, like b) the custom of a and b rests on, strongest first."""
    like_a = _closest(custom.relatives[custom.index[a]])
    like_b = _closest(custom.relatives[custom.index[b]])
    amounts = (
        custom.relatives[custom.index[a], like_a][:, np.newaxis]
        * custom.together[np.ix_(like_a, like_b)]
        * custom.relatives[custom.index[b], like_b]
    )
    strongest = np.argsort(-amounts, axis=None, kind="stable")[:limit]
    places = (divmod(int(place), amounts.shape[1]) for place in strongest)
    return [
        (custom.ids[like_a[i]], custom.ids[like_b[j]], float(amounts[i, j]))
        for i, j in places
        if amounts[i, j] > 0
    ]


def _closest(relatives: NDArray[np.float64]) -> NDArray[np.intp]:
    """The ids that speak most for one ingredient, in a stable order."""
    return np.argsort(-relatives, kind="stable")[:CLOSEST]
