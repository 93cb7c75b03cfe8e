"""Does affinity mean something? Attested pairs against equally popular pairs nobody poured.

python -m benchmarks.affinity            the figures of pairing_data/AFFINITY.md
python -m benchmarks.affinity --write    fit, and rewrite the two learnt tables
"""

from __future__ import annotations

import argparse
import csv
from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

import pairing_data
from benchmarks.held_out import (
    Bench,
    bench_of,
    learnt,
    unseen_ingredient_contrast,
    unseen_pair_custom,
)
from benchmarks.matched_pairs import (
    KINDS,
    MATCHINGS,
    Matched,
    area_under_curve,
    by_lot,
    interval,
    matched_pairs,
    world_of,
)
from service.aroma import build_space
from service.ingredients import load_catalogue
from service.recommend.affinity import Part
from service.recommend.custom import CustomSettings
from service.recommend.learning import fit_weights

Scores = NDArray[np.float64]
AROMA = (Part.ECHO, Part.BRIDGE, Part.CONTRAST)
WEIGHT_FOLDS = 10
# Ridge on the table of families: our choice, the same within 0.01 AUC from 1 to 10.
FAMILY_RIDGE = 3.0


def parts_of(bench: Bench, matched: Matched, seed: int, *, strict: bool) -> dict[Part, Scores]:
    """The four parts of every matched pair, each learnt without what it is tested on."""
    a, b = matched.pairs.T
    return {
        Part.ECHO: bench.echo[a, b],
        Part.BRIDGE: bench.bridge[a, b],
        Part.CONTRAST: unseen_ingredient_contrast(bench, matched, seed, siblings_too=strict),
        Part.CUSTOM: unseen_pair_custom(bench, matched, seed, drinks_too=strict),
    }


def labels(matched: Matched) -> NDArray[np.bool_]:
    return np.arange(2 * len(matched.attested)) < len(matched.attested)


def weighed(parts: Mapping[Part, Scores], chosen: tuple[Part, ...], seed: int) -> Scores:
    """Scores by weights that were fitted on the other folds of pairs."""
    size = len(parts[Part.ECHO])
    half = size // 2
    attested = np.arange(size) < half
    # An attested pair and its equal stay in one fold.
    fold = np.tile(np.random.default_rng(seed).permutation(half) % WEIGHT_FOLDS, 2)
    total = np.zeros(size)
    for number in range(WEIGHT_FOLDS):
        train, test = fold != number, fold == number
        weights = fit_weights({p: parts[p][train] for p in chosen}, attested[train])
        scale = np.sqrt(sum((w * parts[p][train].std()) ** 2 for p, w in weights.items()))
        total[test] = sum(w * parts[p][test] for p, w in weights.items()) / scale
    return total


def scored(bench: Bench, matched: Matched, seed: int, *, strict: bool) -> dict[str, Scores]:
    a, b = matched.pairs.T
    logs = bench.world.popularity_log
    parts = parts_of(bench, matched, seed, strict=strict)
    books = CustomSettings(practice=0.0)
    read = unseen_pair_custom(bench, matched, seed, drinks_too=strict, settings=books)
    return {
        "(a) shared compounds": bench.shared_compounds[a, b],
        "(b) popularity": logs[a] + logs[b],
        "(c) echo": parts[Part.ECHO],
        "(d) echo + bridge + contrast": weighed(parts, AROMA, seed),
        "(e) all four": weighed(parts, tuple(Part), seed),
        "(e) without practice": weighed({**parts, Part.CUSTOM: read}, tuple(Part), seed),
        "contrast alone": parts[Part.CONTRAST],
        "custom alone": parts[Part.CUSTOM],
    }


def report(bench: Bench, *, strict: bool) -> list[str]:
    """One table of AUC: all pairs with interval, each kind of pair, and against the lot."""
    matchings = [matched_pairs(bench.world, seed) for seed in range(MATCHINGS)]
    scores = [scored(bench, m, seed, strict=strict) for seed, m in enumerate(matchings)]
    sizes = [round(np.mean([(m.kind == k).sum() for m in matchings])) for k in range(len(KINDS))]
    heads = [f"{kind} ({size})" for kind, size in zip(KINDS, sizes, strict=True)]
    lots = [by_lot(bench.world, m, seed) for seed, m in enumerate(matchings)]
    random = [scored(bench, m, seed, strict=strict) for seed, m in enumerate(lots)]
    lines = [
        f"| score | all ({sum(sizes)}) | {' | '.join(heads)} | by lot |",
        "|---" * 7 + "|",
    ]
    for name in scores[0]:
        halves = [np.split(s[name], 2) for s in scores]
        mean, low, high = interval([(h[0], h[1]) for h in halves])
        by_kind = [
            np.mean([
                area_under_curve(h[0][m.kind == k], h[1][m.kind == k])
                for h, m in zip(halves, matchings, strict=True)
            ])
            for k in range(len(KINDS))
        ]  # fmt: skip
        lot = np.mean([area_under_curve(*np.split(s[name], 2)) for s in random])
        cells = " | ".join(f"{value:.2f}" for value in (*by_kind, lot))
        lines.append(f"| {name} | {mean:.3f} [{low:.3f}, {high:.3f}] | {cells} |")
    return lines


def fitted_weights(bench: Bench, matchings: int = MATCHINGS) -> dict[Part, float]:
    """The weights that ship: fitted on every matching, averaged."""
    found = []
    for seed in range(matchings):
        matched = matched_pairs(bench.world, seed)
        found.append(fit_weights(parts_of(bench, matched, seed, strict=False), labels(matched)))
    return {part: float(np.mean([weights[part] for weights in found])) for part in Part}


def fitted_families(bench: Bench) -> NDArray[np.float64]:
    """How far families of notes are poured together beyond chance: the surplus of pairs, read
    family by family (ridge regression on both sides, Stock et al. 2018, Neural Comput. 30:2245).
    """
    everything = np.ones_like(bench.world.counts, dtype=bool)
    known = learnt(bench, bench.world.counts, everything)
    families = bench.families
    square = families.T @ families + FAMILY_RIDGE * np.eye(families.shape[1])
    read = np.linalg.solve(square, families.T)
    return np.asarray(read @ known.surplus @ read.T)


def write_tables(bench: Bench, folder: Path) -> None:
    weights = fitted_weights(bench)
    _write(
        folder / "affinity_weights.csv",
        ("part", "weight"),
        [(str(part), f"{weights[part]:.3f}") for part in sorted(Part)],
    )
    table, ids = fitted_families(bench), bench.space.family_ids
    rows = [
        (*sorted((ids[i], ids[j])), f"{table[i, j]:.3f}")
        for i in range(len(ids))
        for j in range(i, len(ids))
    ]
    _write(folder / "family_contrasts.csv", ("family_a", "family_b", "contrast"), sorted(rows))


def _write(path: Path, head: tuple[str, ...], rows: list[tuple[str, ...]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerows([head, *rows])


def shipped_bench() -> Bench:
    catalogue = load_catalogue()
    return bench_of(catalogue, build_space(catalogue), world_of(catalogue))


def main() -> None:
    """Print the figures, or write the tables."""
    asked = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    asked.add_argument("--write", action="store_true", help="rewrite the learnt tables")
    bench = shipped_bench()
    if asked.parse_args().write:
        write_tables(bench, pairing_data.FOLDER / "tables")
        return
    print("Pair never seen (custom), ingredient never seen (the rest):\n")
    print("\n".join(report(bench, strict=False)))
    print("\nStricter: nor any drink that holds the pair, nor the same thing in another bottle:\n")
    print("\n".join(report(bench, strict=True)))


if __name__ == "__main__":
    main()
