"""The table of jobs: complete, sound, and what is done for bottles that are not in it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from service.counter.known import Known
from service.ingredients.records import Role
from service.recommend.jobs import build_jobs, read_jobs
from service.recommend.swap import SwapKnowledge, build_swap_knowledge
from tests.conftest import small_ingredient


def test_every_bottle_of_the_dataset_does_some_job(known: Known) -> None:
    bottles = {i.id for i in known.catalogue.ingredients.values() if i.role is not Role.COFFEE}
    assert set(read_jobs()) == bottles


def test_weights_lie_above_zero_and_at_most_one() -> None:
    weights = [weight for jobs in read_jobs().values() for weight in jobs.values()]
    assert all(0 < weight <= 1 for weight in weights)


def test_every_job_but_the_lonely_ones_is_shared() -> None:
    """A job that one bottle alone does would find nothing; those that do are known by name."""
    doing: dict[str, int] = {}
    for jobs in read_jobs().values():
        for job in jobs:
            doing[job] = doing.get(job, 0) + 1
    lonely = {job for job, count in doing.items() if count == 1}
    assert lonely <= {
        "cranberry", "fruit-garnish", "rice-wine", "savoury-garnish", "water",
    }  # fmt: skip


def test_likeness_is_the_cosine_of_the_jobs() -> None:
    """By hand: (3, 4) and (4, 3) share 24 of 25; (3, 4) and (0, 5) share 20 of 25."""
    table = {"a": {"x": 0.3, "y": 0.4}, "b": {"x": 0.4, "y": 0.3}, "c": {"y": 0.5}}
    ingredients = {name: small_ingredient(name) for name in table}
    jobs = build_jobs(list(table), ingredients, table)
    assert jobs.likeness(0) == pytest.approx([1.0, 0.96, 0.8])
    assert jobs.shared(0, 1) == ("x", "y")
    assert jobs.shared(0, 2) == ("y",)


def test_a_bottle_of_the_bars_own_does_what_its_style_does() -> None:
    table = {"a": {"x": 1.0}, "b": {"y": 1.0}}
    own = replace(small_ingredient("own"), style="mine")
    ingredients = {
        "a": replace(small_ingredient("a"), style="mine"),
        "b": small_ingredient("b"),
        "own": own,
    }
    jobs = build_jobs(["a", "b", "own"], ingredients, table)
    assert jobs.likeness(2) == pytest.approx([1.0, 0.0, 1.0])


def test_a_bottle_of_an_unknown_style_does_no_known_job() -> None:
    ingredients = {"a": small_ingredient("a"), "own": small_ingredient("own", style="odd")}
    jobs = build_jobs(["a", "own"], ingredients, {"a": {"x": 1.0}})
    assert not np.any(jobs.rows[1])


def test_swaps_can_be_built_for_a_catalogue_with_own_bottles(known: Known) -> None:
    from service.recommend import build_knowledge

    own = replace(known.catalogue.ingredients["fino-sherry"], id="our-sherry", name="our sherry",
                  aliases=())  # fmt: skip
    catalogue = known.catalogue.extended([own])
    replacing: SwapKnowledge = build_swap_knowledge(catalogue, build_knowledge(catalogue))
    assert "our-sherry" in replacing.index
