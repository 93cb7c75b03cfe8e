"""What bartenders reach for together, kind by kind: what custom knows before any book is read.

`practice.csv` is our own table: common practice, no source, every weight an estimate (1 reached for
together, 2 a standard, less where it is only now and then; half to double is its range). It
speaks of the jobs that bottles do (`jobs.csv`), never of two bottles or of a drink, and of what
is put with coffee. It was written by people who know the classic drinks and had seen what the
dataset puts with coffee: `pairing_data/AFFINITY.md` says what that means for the figures.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from functools import lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from service.aroma import COFFEE
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.recommend.jobs import JobTable, build_jobs

Matrix = NDArray[np.float64]
Rows = NDArray[np.intp]
TABLE = "practice.csv"
# The name under which the table speaks of the coffee in the filter.
FILTER_COFFEE = "filter-coffee"
# Bottles whose kinds the table sets side by side; coffee is set beside every role.
TOGETHER = (
    (Role.BASE, Role.MODIFIER),
    (Role.BASE, Role.BITTERS),
    (Role.MODIFIER, Role.BITTERS),
    (Role.MODIFIER, Role.MODIFIER),
    (Role.BITTERS, Role.BITTERS),
)
WITH_COFFEE = (Role.BASE, Role.MODIFIER, Role.BITTERS, Role.SWEETENER, Role.GARNISH)
# What is put with coffee was chosen for the coffee: its weights count twice. Our estimate; the
# area under the curve moves by less than 0.005 between one and two.
COFFEE_COUNTS = 2.0


@lru_cache(maxsize=1)
def read_practice() -> tuple[tuple[str, str, float], ...]:
    """The table: two jobs (or `filter-coffee` and a job) and a weight above 0."""
    text = (files(__package__) / TABLE).read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return tuple((row["job_a"], row["job_b"], float(row["weight"])) for row in rows)


def practice_of(catalogue: Catalogue, ids: Sequence[str]) -> Matrix:
    """(anchors, anchors), symmetric: how far practice puts each two together, against what it
    puts each of them with on the whole. The last anchor is `coffee`.

    In every table of two roles the rows and the columns sum to 0, so that a kind which goes with
    everything gains nothing by it.
    """
    bottles = ids[:-1]
    jobs = build_jobs(bottles, catalogue.ingredients)
    with_jobs, with_coffee = _weights(jobs)
    table = np.zeros((len(ids), len(ids)))
    role = np.array([str(catalogue.ingredients[name].role) for name in bottles] + [COFFEE])
    said = jobs.rows @ with_jobs @ jobs.rows.T
    for a, b in TOGETHER:
        first, second = np.flatnonzero(role == str(a)), np.flatnonzero(role == str(b))
        block = _centred(said[np.ix_(first, second)])
        table[np.ix_(first, second)] = block
        table[np.ix_(second, first)] = block.T
    of_coffee = COFFEE_COUNTS * (jobs.rows @ with_coffee)
    for a in WITH_COFFEE:
        rows = np.flatnonzero(role == str(a))
        if len(rows):
            table[rows, -1] = table[-1, rows] = of_coffee[rows] - of_coffee[rows].mean()
    return table


def _weights(jobs: JobTable) -> tuple[Matrix, NDArray[np.float64]]:
    """Job with job, and job with coffee. A job that nobody here does is passed over."""
    place = {job: column for column, job in enumerate(jobs.names)}
    table = np.zeros((len(place), len(place)))
    with_coffee = np.zeros(len(place))
    for a, b, weight in read_practice():
        if b not in place or (a != FILTER_COFFEE and a not in place):
            continue
        if a == FILTER_COFFEE:
            with_coffee[place[b]] = weight
        else:
            table[place[a], place[b]] = table[place[b], place[a]] = weight
    return table, with_coffee


def _centred(block: Matrix) -> Matrix:
    """Without the means of rows and columns."""
    if not block.size:
        return block
    rows, columns = block.mean(axis=1, keepdims=True), block.mean(axis=0, keepdims=True)
    return np.asarray(block - rows - columns + block.mean())
