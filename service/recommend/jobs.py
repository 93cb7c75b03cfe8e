"""The jobs an ingredient does in a drink, as bartenders speak of them: red bitter, dry nutty wine.

`jobs.csv` is our own table: common practice, no source. A weight of 1 means that the ingredient
is what the job is named for; less, that it is reached for where that one is missing.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from service.ingredients.records import Ingredient

Matrix = NDArray[np.float64]
JobsOf = Mapping[str, Mapping[str, float]]
TABLE = "jobs.csv"


@dataclass(frozen=True, slots=True, eq=False)
class JobTable:
    """Jobs by name, and each ingredient's jobs as a row of length 1 (or 0 where none is known)."""

    names: tuple[str, ...]
    rows: Matrix

    def likeness(self, row: int) -> NDArray[np.float64]:
        """Cosine of one ingredient's jobs with everyone's."""
        return np.asarray(self.rows @ self.rows[row])

    def shared(self, a: int, b: int, limit: int = 3) -> tuple[str, ...]:
        """The jobs that both do, the most telling first, in words."""
        both = self.rows[a] * self.rows[b]
        strongest = np.argsort(-both, kind="stable")[:limit]
        return tuple(self.names[i].replace("-", " ") for i in strongest if both[i] > 0)


@lru_cache(maxsize=1)
def read_jobs() -> JobsOf:
    """The table: ingredient to job to weight (0 to 1]."""
    found: dict[str, dict[str, float]] = defaultdict(dict)
    text = (files(__package__) / TABLE).read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        found[row["ingredient_id"]][row["job"]] = float(row["weight"])
    return MappingProxyType({name: MappingProxyType(jobs) for name, jobs in found.items()})


def build_jobs(
    ids: Sequence[str], ingredients: Mapping[str, Ingredient], table: JobsOf | None = None
) -> JobTable:
    """Jobs of every id; an ingredient that is not in the table does what its style does."""
    table = read_jobs() if table is None else table
    names = tuple(sorted({job for jobs in table.values() for job in jobs}))
    column = {job: place for place, job in enumerate(names)}
    rows = np.zeros((len(ids), len(names)))
    for row, name in zip(rows, ids, strict=True):
        for job, weight in table.get(name, {}).items():
            row[column[job]] = weight
    rows = _unit(rows)
    styles = [(ingredients[name].role, ingredients[name].style) for name in ids]
    for place, name in enumerate(ids):
        if name not in table:
            alike = [i for i, other in enumerate(ids) if styles[i] == styles[place] if i != place]
            known = [i for i in alike if ids[i] in table]
            if known:
                rows[place] = rows[known].mean(axis=0)
    return JobTable(names, _unit(rows))


def _unit(rows: Matrix) -> Matrix:
    lengths = np.linalg.norm(rows, axis=1, keepdims=True)
    return np.asarray(np.divide(rows, lengths, out=np.zeros_like(rows), where=lengths > 0))
