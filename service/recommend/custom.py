"""The fourth way to belong together: what public specifications have long poured together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma import Aroma, AromaSpace, Rows, Table, raised, table_of
from service.ingredients import Catalogue
from service.recommend.attested import Attested

Matrix = NDArray[np.float64]
Vector = NDArray[np.float64]
# An explanation looks at this many of the closest relatives, and names this many pairs.
CLOSEST, NAMED = 12, 3
TINY = 1e-12
# How sharply two ingredients' partners must agree to be relatives by usage.
USAGE_SHARPNESS = 4


@dataclass(frozen=True, slots=True)
class CustomSettings:
    """Whose specifications speak for whom. Our estimates, checked by `benchmarks/affinity.py`.

    own: weight of an ingredient's own specifications
    aroma: weight of ingredients that smell alike, by the power `sharpness` of their echo
    style: weight of ingredients of the same role and style
    usage: weight of ingredients poured with the same things, in the `rank` strongest dimensions
    smoothing: pseudo-count against chance pairs
    """

    own: float = 1.0
    aroma: float = 1.0
    sharpness: int = 4
    style: float = 0.5
    usage: float = 1.0
    rank: int = 12
    smoothing: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Custom:
    """How firmly any two ingredients belong together by custom.

    attested : the pairs it rests on; its ids are the columns below
    notes : (anchors, descriptors) what the anchors smell of
    relatives : (ingredients, anchors) rows sum to 1: whose specifications speak for whom
    together : (anchors, anchors) positive pointwise mutual information of being poured together
    """

    settings: CustomSettings
    attested: Attested
    index: Mapping[str, int]
    notes: Matrix
    relatives: Table
    together: Matrix

    @property
    def ids(self) -> tuple[str, ...]:
        """The anchors: what the tables' rows and columns are of; the last is `coffee`."""
        return self.attested.ids

    @property
    def specs(self) -> Matrix:
        """Weighted number of specifications that hold both of two anchors."""
        return self.attested.counts

    def partners(self, space: AromaSpace) -> Matrix:
        """(anchors, anchors): what each anchor and its relatives are poured with."""
        rows = [space.index[i] for i in self.ids[:-1]]
        itself = np.zeros(len(self.ids))
        itself[-1] = 1.0
        speaks = np.vstack([self.relatives[rows], itself])
        return np.asarray(speaks @ self.together @ speaks.T)

    def relatives_of(self, space: AromaSpace, aroma: Aroma) -> Vector:
        """Whose specifications speak for an aroma. A coffee is one with every coffee, and with
        the bottles it smells of, so that a bag that says chocolate is poured as chocolate is."""
        if aroma.id in space.index:
            return np.asarray(self.relatives[[space.index[aroma.id]]][0])
        speaks = np.zeros(len(self.ids))
        for share, notes in aroma.sides:
            near = self.settings.aroma * likeness(self.notes @ notes, self.settings)
            near[-1] = self.settings.own + self.settings.aroma if notes is aroma.plain else 0.0
            speaks += share * near / max(float(near.sum()), TINY)
        return np.asarray(speaks)


def build_custom(
    catalogue: Catalogue,
    space: AromaSpace,
    coffee: Aroma,
    known: Attested,
    settings: CustomSettings | None = None,
) -> Custom:
    """Custom from attested pairs; `coffee` is the coffee that the literature means."""
    settings = settings or CustomSettings()
    ids = known.ids
    index = {name: column for column, name in enumerate(ids)}
    notes = np.vstack([space.notes[[space.index[i] for i in ids[:-1]]].toarray(), coffee.notes])
    together = mutual_information(known.counts, settings.smoothing)
    relatives = _relatives(catalogue, space, ids, notes, _usage(together, settings), settings)
    return Custom(settings, known, index, notes, relatives, together)


def likeness(echo: NDArray[np.float64], settings: CustomSettings) -> NDArray[np.float64]:
    """How far what smells alike speaks for one another, 0 to 1."""
    return raised(np.clip(echo, 0.0, 1.0), settings.sharpness)


def mutual_information(counts: Matrix, smoothing: float) -> Matrix:
    """Positive pointwise mutual information of a symmetric table of counts.

    Context counts are raised to 0.75 so that rare partners do not look exclusive (Levy, Goldberg
    and Dagan 2015, Trans. ACL 3:211), and each cell is shrunk by count / (count + smoothing).
    """
    totals = counts.sum(axis=1)
    if totals.sum() == 0:
        return np.zeros_like(counts)
    context = totals**0.75
    expected = np.outer(totals, context) / context.sum()
    ratio = np.divide(counts, expected, out=np.ones_like(counts), where=counts > 0)
    information = np.log(np.maximum(ratio, 1.0)) * counts / (counts + smoothing)
    return np.asarray((information + information.T) / 2.0)


def _relatives(
    catalogue: Catalogue,
    space: AromaSpace,
    anchors: Sequence[str],
    notes: Matrix,
    used_alike: Matrix,
    settings: CustomSettings,
) -> Table:
    """(ingredients, anchors): own, alike, of one style, used alike; each row sums to 1."""
    anchor_rows = np.array([space.index[i] for i in anchors[:-1]], dtype=np.intp)
    column = np.full(len(space.ingredients), -1)
    column[anchor_rows] = np.arange(len(anchor_rows))
    style = _styles(catalogue, space.ingredients)
    anchor_style = np.append(style[anchor_rows], -1)

    def make(rows: Rows) -> Matrix:
        weighed = settings.aroma * likeness(space.notes[rows].toarray() @ notes.T, settings)
        same_style = (style[rows, np.newaxis] == anchor_style).astype(float)
        is_anchor = np.flatnonzero(column[rows] >= 0)
        columns = column[rows[is_anchor]]
        same_style[is_anchor, columns] = 0.0
        weighed += settings.style * _rows_sum_to_one(same_style)
        weighed[is_anchor, columns] += settings.own
        weighed[is_anchor] += settings.usage * _rows_sum_to_one(used_alike[columns])
        return _rows_sum_to_one(weighed)

    return table_of(len(space.ingredients), make)


def _styles(catalogue: Catalogue, ids: Sequence[str]) -> Rows:
    """A number for the role and style of each ingredient."""
    number: dict[tuple[str, str], int] = {}
    ingredients = (catalogue.ingredients[name] for name in ids)
    return np.array(
        [number.setdefault((i.role, i.style), len(number)) for i in ingredients], dtype=np.intp
    )


def _usage(together: Matrix, settings: CustomSettings) -> Matrix:
    """Cosine of two ingredients' partners in the strongest dimensions; 0 on the diagonal."""
    values, vectors = np.linalg.eigh(together)
    strongest = np.argsort(-np.abs(values), kind="stable")[: settings.rank]
    place = vectors[:, strongest] * np.abs(values[strongest])
    lengths = np.linalg.norm(place, axis=1, keepdims=True)
    unit = np.divide(place, lengths, out=np.zeros_like(place), where=lengths > 1e-9)
    cosine = np.clip(unit @ unit.T, 0.0, 1.0) ** USAGE_SHARPNESS
    np.fill_diagonal(cosine, 0.0)
    return np.asarray(cosine)


def _rows_sum_to_one(matrix: Matrix) -> Matrix:
    totals = matrix.sum(axis=1, keepdims=True)
    return np.asarray(np.divide(matrix, totals, out=np.zeros_like(matrix), where=totals > 0))


def custom_with_all(custom: Custom, relatives: Vector, rows: Rows | None = None) -> Vector:
    """Custom of one thing, known by its relatives, with every ingredient (or some rows)."""
    return custom.relatives.times(custom.attested.surplus @ relatives, rows)


def attested_by(
    custom: Custom, relatives: Vector, rows: NDArray[np.intp], limit: int = NAMED
) -> list[list[tuple[str, str, float]]]:
    """Which attested pairs (like a, like b) the custom of a with each row rests on.

    Strongest first, ties in order of id, among the closest relatives of both. Only pairs that
    speak for it are named.
    """
    ids = custom.attested.ids
    like_a = np.argsort(-relatives, kind="stable")[:CLOSEST]
    of_rows = custom.relatives[rows]
    like_b = np.argsort(-of_rows, axis=1, kind="stable")[:, :CLOSEST]
    theirs = np.take_along_axis(of_rows, like_b, axis=1)
    amounts = (
        relatives[like_a][np.newaxis, :, np.newaxis]
        * custom.attested.surplus[like_a[np.newaxis, :, np.newaxis], like_b[:, np.newaxis, :]]
        * theirs[:, np.newaxis, :]
    ).reshape(len(rows), -1)
    strongest = np.argsort(-amounts, axis=1, kind="stable")[:, :limit]
    return [
        [
            (ids[like_a[k // CLOSEST]], ids[of_b[k % CLOSEST]], float(amount[k]))
            for k in best
            if amount[k] > 0
        ]
        for best, of_b, amount in zip(strongest, like_b, amounts, strict=True)
    ]
