"""What somebody else's list would find: learnt from some sources, tried on the pairs of others.

python -m benchmarks.other_lists

Each list is made of the dataset's own sources, but of sources that are then left out of all that is
learnt: drinks written from 1930 on, the drinks before, and quarters of the sources on coffee and
food. As with any outside list, many of its pairs stand in the other sources too, and some of the
pairs that it does not hold do; "new" pairs are in none of them. The four weights are the shipped.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from benchmarks.affinity import shipped_bench
from benchmarks.held_out import Bench, contrast_table, custom_table
from benchmarks.matched_pairs import (
    Matched,
    World,
    area_under_curve,
    by_lot,
    matched_pairs,
    world_of,
)
from service.ingredients import Catalogue
from service.ingredients.records import Combination, Spec
from service.recommend import attested
from service.recommend.custom import CustomSettings

Matrix = NDArray[np.float64]
MODERN_FROM = 1930
QUARTERS = 4
DRAWS = 3


def lists_of(catalogue: Catalogue) -> dict[str, tuple[Catalogue, Catalogue]]:
    """By name: the list, and what is left to learn from."""
    sources = sorted({c.source for c in catalogue.combinations})

    def modern(spec: Spec) -> bool:
        return int("".join(c for c in spec.year if c.isdigit())[:4]) >= MODERN_FROM

    def quarter(number: int) -> Callable[[Combination], bool]:
        chosen = set(sources[number::QUARTERS])
        return lambda combination: combination.source in chosen

    found = {
        "drinks from 1930 on": _drinks(catalogue, modern),
        "drinks before 1930": _drinks(catalogue, lambda spec: not modern(spec)),
    }
    for number in range(QUARTERS):
        found[f"coffee and food {number + 1}"] = _foods(catalogue, quarter(number))
    return found


def _drinks(catalogue: Catalogue, chosen: Callable[[Spec], bool]) -> tuple[Catalogue, Catalogue]:
    listed = tuple(s for s in catalogue.specs if chosen(s))
    left = tuple(s for s in catalogue.specs if not chosen(s))
    return replace(catalogue, specs=listed, combinations=()), replace(catalogue, specs=left)


def _foods(
    catalogue: Catalogue, chosen: Callable[[Combination], bool]
) -> tuple[Catalogue, Catalogue]:
    listed = tuple(c for c in catalogue.combinations if chosen(c))
    left = tuple(c for c in catalogue.combinations if not chosen(c))
    return replace(catalogue, specs=(), combinations=listed), replace(catalogue, combinations=left)


def tables_of(bench: Bench, left: Catalogue) -> dict[str, Matrix]:
    """Scores of all pairs, from what is left: the service's, and that without practice."""
    weights, known = bench.catalogue.affinity_weights, attested(left)
    smells = (
        weights["echo"] * bench.echo
        + weights["bridge"] * bench.bridge
        + weights["contrast"] * contrast_table(bench, known)
    )
    books = CustomSettings(practice=0.0)
    return {
        "all four": smells + weights["custom"] * custom_table(bench, known),
        "without practice": smells + weights["custom"] * custom_table(bench, known, books),
    }


def areas(table: Matrix, pairs: Matched, unknown: Matrix) -> tuple[float, float]:
    """Area under the curve over all pairs of a list, and over the new ones."""
    sides = [(table[p[:, 0], p[:, 1]], unknown[p[:, 0], p[:, 1]] == 0)
             for p in (pairs.attested, pairs.unattested)]  # fmt: skip
    (yes, yes_new), (no, no_new) = sides
    return area_under_curve(yes, no), area_under_curve(yes[yes_new], no[no_new])


def report(bench: Bench) -> list[str]:
    """A line for each list: how many pairs, how many of them new, and the areas."""
    lines = [
        "| list | pairs | new | all four | new pairs | by lot | without practice | new pairs |",
        "|---" * 8 + "|",
    ]
    for name, (listed, left) in lists_of(bench.catalogue).items():
        world, rest = world_of(listed), world_of(left)
        if name.startswith("coffee"):  # a list of foods has no popularity: that of drinks stands in
            world = replace(world, popularity_log=rest.popularity_log)
        lines.append(_line(name, world, rest, tables_of(bench, left)))
    return lines


def _line(name: str, world: World, rest: World, tables: dict[str, Matrix]) -> str:
    found = []
    for seed in range(DRAWS):
        pairs = matched_pairs(world, seed)
        a, b = pairs.attested.T
        whole, plain = tables.values()
        found.append([
            len(a), float((rest.counts[a, b] == 0).mean()),
            *areas(whole, pairs, rest.counts),
            areas(whole, by_lot(world, pairs, seed), rest.counts)[0],
            *areas(plain, pairs, rest.counts),
        ])  # fmt: skip
    pairs_, new, *values = np.mean(found, axis=0)
    cells = " | ".join(f"{value:.2f}" for value in values)
    return f"| {name} | {pairs_:.0f} | {new:.0%} | {cells} |"


def main() -> None:
    """Print the table of `pairing_data/AFFINITY.md`."""
    print("\n".join(report(shipped_bench())))


if __name__ == "__main__":
    main()
