"""The aroma space: every ingredient as weighted notes, in sparse matrices built once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from service.aroma.intensity import ImpactFit, Thresholds, fit_impact, intensity, steadiness
from service.ingredients import Catalogue
from service.ingredients.records import Grade, Note, Occurrence, Role

Vector = NDArray[np.float64]
# scipy's sparse classes carry no useful type parameters at run time.
Sparse = Any

# How far a grade is trusted, 0 to 1: our estimate, printed with every ranking.
TRUST: Mapping[Grade, float] = {
    Grade.MEASURED: 1.0,
    Grade.DERIVED: 0.8,
    Grade.RECALLED: 0.6,
    Grade.ESTIMATE: 0.3,
}


@dataclass(frozen=True, slots=True)
class SpaceSettings:
    """How notes are weighed. Our estimates, checked by `benchmarks/affinity.py`.

    word_share: how much of an ingredient's vector comes from its descriptor words where it has
        odorants as well; an ingredient without odorants is known by its words alone.
    compression: exponent on the note weights (1 = linear); below 1 a single loud note does not
        drown the rest.
    """

    word_share: float = 0.5
    compression: float = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class AromaSpace:
    """All ingredients as unit vectors over the notes.

    notes : sparse (ingredients x descriptors), TF-IDF weighted, each row of length 1 (or 0)
    trust : sparse, same shape: how well each cell is known, 0 to 1
    families : dense (ingredients x families), each row of length 1 (or 0): see `family_profile`
    odorants : sparse (ingredients x odorants), intensities log10(1 + OAV)
    odorant_notes : sparse (odorants x descriptors)
    rarity : (descriptors,), the inverse document frequency of each note
    """

    settings: SpaceSettings
    ingredients: tuple[str, ...]
    descriptors: tuple[str, ...]
    family_ids: tuple[str, ...]
    odorant_ids: tuple[str, ...]
    index: Mapping[str, int]
    descriptor_index: Mapping[str, int]
    notes: Sparse
    trust: Sparse
    families: NDArray[np.float64]
    odorants: Sparse
    odorant_notes: Sparse
    rarity: Vector
    family_of: Sparse
    thresholds: Thresholds
    impact: ImpactFit


@dataclass(frozen=True, slots=True, eq=False)
class Smelled:
    """What is known of ingredients, row by row, before it is weighed.

    odorants : sparse (ingredients x odorants), intensities; odorants_trust the same times trust
    words : sparse (ingredients x descriptors), weights; words_trust the same times trust
    """

    odorants: Sparse
    odorants_trust: Sparse
    words: Sparse
    words_trust: Sparse


def build_space(catalogue: Catalogue, settings: SpaceSettings | None = None) -> AromaSpace:
    """Turn the catalogue into matrices. The coffee profiles have no row: see `coffee_aroma`."""
    ids = tuple(i.id for i in catalogue.ingredients.values() if i.role is not Role.COFFEE)
    index = _places(ids)
    ethanol = {i.id: i.composition.abv.mid for i in catalogue.ingredients.values()}
    thresholds = Thresholds.of(catalogue.thresholds)
    impact = fit_impact((*catalogue.occurrences, *catalogue.coffee), thresholds, ethanol)
    loudness = _odorant_matrices(
        catalogue.occurrences, index, _places(catalogue.odorants), thresholds, impact, ethanol
    )
    words = _note_matrices(catalogue.ingredient_notes, index, _places(catalogue.descriptors))
    return space_of(
        catalogue, ids, Smelled(*loudness, *words), thresholds, impact, settings or SpaceSettings()
    )


def space_of(
    catalogue: Catalogue,
    ids: Sequence[str],
    smelled: Smelled,
    thresholds: Thresholds,
    impact: ImpactFit,
    settings: SpaceSettings,
) -> AromaSpace:
    """The space of any ingredients, over the catalogue's odorants, notes and families."""
    descriptors = tuple(catalogue.descriptors)
    family_ids = tuple(catalogue.families)
    columns = _places(descriptors)
    odorant_notes, _ = _note_matrices(catalogue.odorant_notes, _places(catalogue.odorants), columns)
    raw, trust = mixed_notes(
        smelled.odorants @ odorant_notes, smelled.odorants_trust @ odorant_notes,
        smelled.words, smelled.words_trust, settings,
    )  # fmt: skip
    rarity = inverse_frequency(raw)
    family_of = _family_matrix(catalogue, descriptors, family_ids)
    notes = _narrow(unit_rows(raw @ sparse.diags_array(rarity)))
    return AromaSpace(
        settings=settings,
        ingredients=tuple(ids),
        descriptors=descriptors,
        family_ids=family_ids,
        odorant_ids=tuple(catalogue.odorants),
        index=_places(ids),
        descriptor_index=columns,
        notes=notes,
        trust=_narrow(trust),
        families=np.sqrt((notes.power(2) @ family_of).toarray()),
        odorants=smelled.odorants,
        odorant_notes=odorant_notes,
        rarity=rarity,
        family_of=family_of,
        thresholds=thresholds,
        impact=impact,
    )


def _places(names: Iterable[str]) -> dict[str, int]:
    return {name: place for place, name in enumerate(names)}


def mixed_notes(
    smelled: Sparse, smelled_trust: Sparse, words: Sparse, words_trust: Sparse, s: SpaceSettings
) -> tuple[Sparse, Sparse]:
    """Notes from odorants and from words, joined row by row; and how far each cell is trusted.

    Both come compressed and scaled to length 1 before they are joined, so that neither the
    number of odorants nor the number of words decides.
    """
    from_odorants = unit_rows(smelled.power(s.compression))
    from_words = unit_rows(words.power(s.compression))
    has_odorants = _nonzero_rows(from_odorants)
    has_words = _nonzero_rows(from_words)
    share = np.where(has_odorants, np.where(has_words, s.word_share, 0.0), 1.0)
    left = sparse.diags_array(1.0 - share) @ from_odorants
    right = sparse.diags_array(share) @ from_words
    total = (left + right).tocsr()
    trusted = left.multiply(_ratio(smelled_trust, smelled)) + right.multiply(
        _ratio(words_trust, words)
    )
    return total, _ratio(trusted.tocsr(), total)


def inverse_frequency(raw: Sparse) -> Vector:
    """Rarity of each note: 1 + ln((1 + n) / (1 + df)), df the summed presence of the note.

    Presence of a note in an ingredient is its weight relative to that ingredient's loudest, so
    that a trace does not count as having the note (after Sparck Jones 1972, J. Doc. 28:11).
    """
    loudest = raw.max(axis=1).toarray().ravel()
    loudest[loudest == 0] = 1.0
    presence = (sparse.diags_array(1.0 / loudest) @ raw).sum(axis=0)
    return np.asarray(1.0 + np.log((1.0 + raw.shape[0]) / (1.0 + np.asarray(presence).ravel())))


def unit_rows(matrix: Sparse) -> Sparse:
    """Each row scaled to length 1; empty rows stay empty."""
    lengths = np.sqrt(np.asarray(matrix.multiply(matrix).sum(axis=1)).ravel())
    lengths[lengths == 0] = 1.0
    return (sparse.diags_array(1.0 / lengths) @ matrix).tocsr()


def family_profile(notes: Vector, family_of: Sparse) -> Vector:
    """How strongly each family speaks in a note vector; of length 1 where the notes are.

    The root of the summed squares of a family's notes, so that the cosine of two profiles tells
    how far two aromas are of one kind, whichever notes of a family they have.
    """
    return np.asarray(np.sqrt(notes**2 @ family_of))


def _odorant_matrices(
    occurrences: tuple[Occurrence, ...],
    index: Mapping[str, int],
    odorant_index: Mapping[str, int],
    thresholds: Thresholds,
    impact: ImpactFit,
    ethanol: Mapping[str, float],
) -> tuple[Sparse, Sparse]:
    known = [o for o in occurrences if o.ingredient in index]
    rows = [index[o.ingredient] for o in known]
    columns = [odorant_index[o.odorant] for o in known]
    values = np.array([intensity(o, thresholds, impact, ethanol[o.ingredient]) for o in known])
    trust = np.array(
        [TRUST[o.grade] * steadiness(o, v) for o, v in zip(known, values.tolist(), strict=True)]
    )
    shape = (len(index), len(odorant_index))
    return (
        sparse.csr_array((values, (rows, columns)), shape=shape),
        sparse.csr_array((values * trust, (rows, columns)), shape=shape),
    )


def _note_matrices(
    notes: tuple[Note, ...], rows_of: Mapping[str, int], columns_of: Mapping[str, int]
) -> tuple[Sparse, Sparse]:
    known = [n for n in notes if n.subject in rows_of]
    rows = [rows_of[n.subject] for n in known]
    columns = [columns_of[n.descriptor] for n in known]
    values = np.array([n.weight for n in known])
    trust = np.array([TRUST[n.grade] for n in known])
    shape = (len(rows_of), len(columns_of))
    return (
        sparse.csr_array((values, (rows, columns)), shape=shape),
        sparse.csr_array((values * trust, (rows, columns)), shape=shape),
    )


def _family_matrix(
    catalogue: Catalogue, descriptors: tuple[str, ...], family_ids: tuple[str, ...]
) -> Sparse:
    place = {name: column for column, name in enumerate(family_ids)}
    columns = [place[catalogue.descriptors[d].family] for d in descriptors]
    ones = np.ones(len(descriptors))
    return sparse.csr_array(
        (ones, (range(len(descriptors)), columns)), shape=(len(descriptors), len(family_ids))
    )


def _narrow(matrix: Sparse) -> Sparse:
    """Rows with places of 32 bits: less to read for each product."""
    rows = matrix.tocsr()
    places = (rows.indices.astype(np.int32), rows.indptr.astype(np.int32))
    return sparse.csr_array((rows.data, *places), shape=rows.shape)


def _nonzero_rows(matrix: Sparse) -> NDArray[np.bool_]:
    return np.asarray(np.diff(matrix.tocsr().indptr) > 0)


def _ratio(part: Sparse, whole: Sparse) -> Sparse:
    """Cell by cell part / whole, on the cells of `whole`; 0 elsewhere."""
    inverse = whole.tocsr(copy=True)
    inverse.data = np.divide(
        1.0, inverse.data, out=np.zeros_like(inverse.data), where=inverse.data != 0
    )
    return part.multiply(inverse).tocsr()
