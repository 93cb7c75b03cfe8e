"""Catalogues of any size with the statistics of the real one, from a seed.

Each synthetic ingredient is bred from two real ones of the same role: from each parent it takes
about half of the odorants and half of the words, louder or softer by chance. So the number of
notes, their weights, families and styles, and what resembles what, stay as in the dataset. The
real ingredients come first, because what is poured together is known of them alone.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from service.aroma import Smelled, build_bridges, build_space, space_of
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.recommend import Knowledge, attested, knowledge_of

# Spread of a bred ingredient's intensities about its parents', in the natural logarithm.
SPREAD = 0.3
# Of what one parent alone has, about this much is passed on; of what both have, all.
PASSED_ON = 0.5
AT_ONCE = 50_000
ROLES = tuple(role for role in Role if role is not Role.COFFEE)


@dataclass(frozen=True, slots=True, eq=False)
class Synthetic:
    """Knowledge of a synthetic catalogue, and which rows have which role."""

    catalogue: Catalogue
    knowledge: Knowledge
    role: NDArray[np.int8]

    def of_role(self, role: Role) -> NDArray[np.intp]:
        return np.flatnonzero(self.role == ROLES.index(role))


def breed(catalogue: Catalogue, count: int, seed: int = 20_261_125) -> Synthetic:
    """A catalogue of `count` ingredients, the real ones first."""
    random = np.random.default_rng(seed)
    real = build_space(catalogue)
    smelled, roles = _smelled(catalogue, real)
    bred = max(count - len(real.ingredients), 0)
    mothers = random.integers(len(real.ingredients), size=bred)
    fathers = _of_same_role(roles, mothers, random)
    matrices = [_children(part, mothers, fathers, random) for part in smelled]
    ids = (*real.ingredients, *(f"bred-{n:07d}" for n in range(bred)))
    space = space_of(
        catalogue, ids, Smelled(*_with_trust(matrices)), real.thresholds, real.impact, real.settings
    )
    records = dict(catalogue.ingredients)
    # The record of the mother stands for the child: only its role and style are asked for.
    mother = [catalogue.ingredients[i] for i in real.ingredients]
    records.update(zip(ids[len(mother) :], (mother[m] for m in mothers.tolist()), strict=True))
    bigger = replace(catalogue, ingredients=records)
    known = attested(catalogue)
    return Synthetic(
        catalogue=bigger,
        knowledge=knowledge_of(bigger, space, build_bridges(space), known),
        role=np.concatenate([roles, roles[mothers]]),
    )


def _smelled(catalogue: Catalogue, real: Any) -> tuple[list[Any], NDArray[np.int8]]:
    """Odorants and words of the real ingredients, and their roles."""
    roles = [ROLES.index(catalogue.ingredients[i].role) for i in real.ingredients]
    cells: dict[tuple[int, int], float] = defaultdict(float)
    for note in catalogue.ingredient_notes:
        if note.subject in real.index:
            cells[real.index[note.subject], real.descriptor_index[note.descriptor]] += note.weight
    rows, columns = (np.array(axis) for axis in zip(*cells, strict=True))
    words = sparse.csr_array(
        (list(cells.values()), (rows, columns)), shape=(len(roles), len(real.descriptors))
    )
    return [real.odorants, words], np.array(roles, dtype=np.int8)


def _of_same_role(
    roles: NDArray[np.int8], mothers: NDArray[np.intp], random: np.random.Generator
) -> NDArray[np.intp]:
    fathers = np.empty_like(mothers)
    for role in np.unique(roles):
        of_role = np.flatnonzero(roles == role)
        children = np.flatnonzero(roles[mothers] == role)
        fathers[children] = random.choice(of_role, size=len(children))
    return fathers


def _children(
    parents: Any, mothers: NDArray[np.intp], fathers: NDArray[np.intp], random: np.random.Generator
) -> Any:
    """Rows of the parents, then of their children, with 32-bit places as is usual for sparse."""
    made = [parents]
    for start in range(0, len(mothers), AT_ONCE):
        mother = parents[mothers[start : start + AT_ONCE]]
        father = parents[fathers[start : start + AT_ONCE]]
        mean = ((mother + father) * 0.5).tocsr()
        both = (mother != 0).multiply(father != 0).astype(float)
        in_both = np.asarray((mean.sign() + both).tocsr().data) > 1.5
        kept = in_both | (random.random(mean.nnz) < PASSED_ON)
        mean.data *= np.exp(SPREAD * random.standard_normal(mean.nnz)) * kept
        mean.eliminate_zeros()
        made.append(mean)
    whole = sparse.vstack(made, format="csr")
    return sparse.csr_array(
        (whole.data, whole.indices.astype(np.int32), whole.indptr.astype(np.int32)),
        shape=whole.shape,
    )


def _with_trust(matrices: list[Any]) -> list[Any]:
    """Each matrix followed by itself times a middling trust: trust is no part of a score."""
    return [each for matrix in matrices for each in (matrix, matrix * 0.6)]
