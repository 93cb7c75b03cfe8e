"""The fourth way to belong together: what public specifications have long poured together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.aroma import Aroma, AromaSpace, Rows, Table, raised, table_of
from service.ingredients import Catalogue
from service.recommend.attested import Attested
from service.recommend.practice import practice_of

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
    record: what a written record of these very two counts for, per natural logarithm of
        1 + drinks; popular or not, what is poured is poured
    practice: what a weight of 1 in the table of common practice counts for
    bag: how many times as much as that it counts with what a coffee's bag names; no attested pair
        tells of a bag, so this cannot be checked
    """

    own: float = 1.0
    aroma: float = 1.0
    sharpness: int = 4
    style: float = 0.5
    usage: float = 2.0
    rank: int = 12
    smoothing: float = 1.0
    record: float = 0.06
    practice: float = 0.03
    bag: float = 16.0


@dataclass(frozen=True, slots=True, eq=False)
class Custom:
    """How firmly any two ingredients belong together by custom.

    attested : the pairs it rests on; its ids are the columns below
    index : the column of each anchor
    notes : (anchors, descriptors) what the anchors smell of
    voices : (ingredients, 2 anchors) first the relatives, whose specifications speak for it (rows
        sum to 1); then who is taken for the ingredient itself: itself alone where it is an
        anchor, its relatives where it is not
    record : (anchors, anchors) what it counts for that two are themselves poured together
    practice : (anchors, anchors) what it counts for that practice puts their kinds together
    together : (anchors, anchors) positive pointwise mutual information of being poured together

    Custom is the surplus of what relatives are poured with, and what record and practice say.
    """

    settings: CustomSettings
    attested: Attested
    index: Mapping[str, int]
    notes: Matrix
    voices: Table
    record: Matrix
    practice: Matrix
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
        speaks = np.vstack([self.voices[rows][:, : len(self.ids)], itself])
        return np.asarray(speaks @ self.together @ speaks.T)

    def voice_of(self, space: AromaSpace, aroma: Aroma) -> Vector:
        """(3 anchors,) who speaks for an aroma: its relatives, who is taken for it in what is
        recorded, and who in what is practised. A coffee is one with every coffee, and with the
        bottles it smells of, so that a bag that says chocolate is poured as chocolate is."""
        size = len(self.ids)
        if aroma.id in space.index:
            row = self.voices[[space.index[aroma.id]]][0]
            return np.concatenate([row, row[size:]])
        voice = np.zeros(3 * size)
        for share, notes in aroma.sides:
            near = self.settings.aroma * likeness(self.notes @ notes, self.settings)
            plain = notes is aroma.plain
            near[-1] = self.settings.own + self.settings.aroma if plain else 0.0
            near /= max(float(near.sum()), TINY)
            voice[:size] += share * near
            if plain:
                voice[[2 * size - 1, 3 * size - 1]] += share
            else:
                voice[2 * size :] += self.settings.bag * share * near
        return voice

    def heard(self, voices: Matrix) -> Matrix:
        """(rows, 3 anchors) of rows of `voices`: times the voice of an aroma it is their custom."""
        size = len(self.ids)
        relatives, itself = voices[:, :size], voices[:, size:]
        return np.hstack(
            [relatives @ self.attested.surplus, itself @ self.record, itself @ self.practice]
        )

    def asked_of(self, voice: Vector) -> Vector:
        """(2 anchors,) of the voice of an aroma: times a row of `voices` it is their custom."""
        relatives, recorded, practised = np.split(voice, 3)
        said = self.record @ recorded + self.practice @ practised
        return np.concatenate([self.attested.surplus @ relatives, said])


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
    voices = _voices(catalogue, space, ids, notes, _usage(together, settings), settings)
    practice = settings.practice * practice_of(catalogue, ids)
    record = settings.record * np.log1p(known.counts)
    return Custom(settings, known, index, notes, voices, record, practice, together)


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


def _voices(
    catalogue: Catalogue,
    space: AromaSpace,
    anchors: Sequence[str],
    notes: Matrix,
    used_alike: Matrix,
    settings: CustomSettings,
) -> Table:
    """Relatives (own, alike, of one style, used alike; rows sum to 1), and who stands for it."""
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
        relatives = _rows_sum_to_one(weighed)
        itself = relatives.copy()
        itself[is_anchor] = 0.0
        itself[is_anchor, columns] = 1.0
        return np.hstack([relatives, itself])

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


def custom_with_all(custom: Custom, voice: Vector, rows: Rows | None = None) -> Vector:
    """Custom of one thing, known by its voice, with every ingredient (or some rows)."""
    return custom.voices.times(custom.asked_of(voice), rows)


def attested_by(
    custom: Custom, voice: Vector, rows: NDArray[np.intp], limit: int = NAMED
) -> list[list[tuple[str, str, float]]]:
    """Which attested pairs (like a, like b) the custom of a with each row rests on.

    Strongest first, ties in order of id, among the closest relatives of both. Only pairs that
    are poured together and speak for it are named, each with all that it adds.
    """
    ids, known, size = custom.ids, custom.attested, len(custom.ids)
    of_rows = custom.voices[rows]
    like_a = np.argsort(-voice[:size], kind="stable")[:CLOSEST]
    like_b = np.argsort(-of_rows[:, :size], axis=1, kind="stable")[:, :CLOSEST]
    cells = like_a[np.newaxis, :, np.newaxis], like_b[:, np.newaxis, :]

    def added(ours: Vector, theirs: Matrix, table: Matrix) -> Matrix:
        of_b = np.take_along_axis(theirs, like_b, axis=1)[:, np.newaxis, :]
        return np.asarray(ours[like_a][np.newaxis, :, np.newaxis] * of_b * table[cells])

    relatives, recorded, practised = np.split(voice, 3)
    told = added(relatives, of_rows[:, :size], known.surplus)
    told += added(recorded, of_rows[:, size:], custom.record)
    told += added(practised, of_rows[:, size:], custom.practice)
    amounts = np.where(known.counts[cells] > 0, told, 0.0).reshape(len(rows), -1)
    strongest = np.argsort(-amounts, axis=1, kind="stable")[:, :limit]
    return [
        [
            (ids[like_a[k // CLOSEST]], ids[of_b[k % CLOSEST]], float(amount[k]))
            for k in best
            if amount[k] > 0
        ]
        for best, of_b, amount in zip(strongest, like_b, amounts, strict=True)
    ]
