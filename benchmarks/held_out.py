"""Contrast and custom of pairs that were never seen, by the service's own functions."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from benchmarks.matched_pairs import Matched, World
from service.aroma import Aroma, AromaSpace, build_bridges, coffee_aroma
from service.aroma.contrast import likeness
from service.ingredients import Catalogue, CoffeeProfile
from service.recommend.affinity import knowledge_of, parts_with_all
from service.recommend.attested import Attested, surplus
from service.recommend.custom import CustomSettings, build_custom
from service.recommend.rank import aroma_of
from service.recommend.weights import Weights

Matrix = NDArray[np.float64]
INGREDIENT_FOLDS, PAIR_FOLDS, DRINK_FOLDS = 8, 10, 40
# What is left of an id without the kind of thing it is: walnut liqueur and walnut bitters are
# one, for the stricter folds.
KIND_WORDS = re.compile(r"-(liqueur|bitters|syrup|garnish|spirit|peel|stick|sprig)(-.*)?$")


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What the folds share: nothing here was learnt from attested pairs."""

    catalogue: Catalogue
    space: AromaSpace
    coffee: Aroma
    world: World
    families: Matrix
    echo: Matrix
    bridge: Matrix
    shared_compounds: Matrix


def bench_of(catalogue: Catalogue, space: AromaSpace, world: World) -> Bench:
    coffee = coffee_aroma(space, catalogue, CoffeeProfile())
    rows = [space.index[i] for i in world.ids[:-1]]
    notes = np.vstack([space.notes[rows].toarray(), coffee.notes])
    odorants = np.vstack([space.odorants[rows].toarray(), coffee.odorants]) > 0
    return Bench(
        catalogue,
        space,
        coffee,
        world,
        np.vstack([space.families[rows], coffee.families]),
        notes @ notes.T,
        _bridge(catalogue, space, coffee, world, rows),
        odorants.astype(float) @ odorants.T.astype(float),
    )


def _bridge(
    catalogue: Catalogue, space: AromaSpace, coffee: Aroma, world: World, rows: list[int]
) -> Matrix:
    """Bridges of all pairs, read from the service with every other part switched off."""
    size = len(world.ids)
    nothing = Attested(world.ids, np.zeros((size, size)), np.zeros((size, size)))
    knowledge = knowledge_of(catalogue, space, build_bridges(space), nothing)
    only = Weights(0.0, 1.0, 0.0, 0.0)
    table = np.zeros((size, size))
    for place, name in enumerate(world.ids):
        aroma = coffee if place == size - 1 else aroma_of(knowledge, catalogue, name)
        table[place, :-1] = parts_with_all(knowledge, aroma, only).bridge[rows]
    table[:-1, -1] = table[-1, :-1]
    return table


def learnt(bench: Bench, counts: Matrix, usable: NDArray[np.bool_]) -> Attested:
    """What is attested without the pairs that are held out."""
    world = bench.world
    kept = np.where(usable, counts, 0.0)
    return Attested(world.ids, kept, surplus(kept, list(world.roles), world.popularity_log, usable))


def contrast_table(bench: Bench, known: Attested) -> Matrix:
    alike = likeness(bench.families, bench.families)
    return np.asarray(alike @ known.surplus @ alike.T)


def custom_table(bench: Bench, known: Attested, settings: CustomSettings | None = None) -> Matrix:
    custom = build_custom(bench.catalogue, bench.space, bench.coffee, known, settings)
    rows = [bench.space.index[i] for i in bench.world.ids[:-1]]
    size = len(custom.ids)
    coffee = custom.voice_of(bench.space, bench.coffee)[: 2 * size]
    voices = np.vstack([custom.voices[rows], coffee])
    return np.asarray(custom.heard(voices) @ np.hstack([voices, voices[:, size:]]).T)


def unseen_ingredient_contrast(
    bench: Bench, matched: Matched, seed: int, *, siblings_too: bool = False
) -> NDArray[np.float64]:
    """Contrast of each pair, learnt without one of its ingredients (and all pairs of that fold).

    With `siblings_too` the bitters, syrup and liqueur of one thing are held out together.
    """
    names = [KIND_WORDS.sub("", i) if siblings_too else i for i in bench.world.ids]
    unique = sorted(set(names))
    order = np.random.default_rng(seed).permutation(len(unique)) % INGREDIENT_FOLDS
    fold = np.array([dict(zip(unique, order, strict=True))[name] for name in names])
    fold[-1] = -1  # coffee is in all of its pairs: the other ingredient is the unseen one
    pairs = matched.pairs
    total, times = np.zeros(len(pairs)), np.zeros(len(pairs))
    for number in range(INGREDIENT_FOLDS):
        kept = fold != number
        tested = ~(kept[pairs[:, 0]] & kept[pairs[:, 1]])
        table = contrast_table(bench, learnt(bench, bench.world.counts, np.outer(kept, kept)))
        total[tested] += table[pairs[tested, 0], pairs[tested, 1]]
        times[tested] += 1
    return np.asarray(total / times)


def unseen_pair_custom(
    bench: Bench,
    matched: Matched,
    seed: int,
    *,
    drinks_too: bool = False,
    settings: CustomSettings | None = None,
) -> NDArray[np.float64]:
    """Custom of each pair, learnt without it; with `drinks_too` also without the other pairs of
    every drink that holds it."""
    pairs = matched.pairs
    folds = DRINK_FOLDS if drinks_too else PAIR_FOLDS
    fold = np.random.default_rng(seed).permutation(len(pairs)) % folds
    drinks = _drinks(bench)
    found = np.zeros(len(pairs))
    for number in range(folds):
        tested = fold == number
        usable = np.ones_like(bench.world.counts, dtype=bool)
        usable[pairs[tested, 0], pairs[tested, 1]] = False
        usable &= usable.T
        counts = bench.world.counts
        if drinks_too:
            counts = counts - _counts_of(bench, drinks, ~usable)
            usable &= ~((counts < 1e-9) & (bench.world.counts > 0))
        table = custom_table(bench, learnt(bench, counts, usable), settings)
        found[tested] = table[pairs[tested, 0], pairs[tested, 1]]
    return found


def _drinks(bench: Bench) -> list[tuple[list[int], float]]:
    place = {name: row for row, name in enumerate(bench.world.ids)}
    versions = Counter(spec.name for spec in bench.catalogue.specs)
    return [
        (sorted({place[p.ingredient] for p in s.pours if p.ingredient in place}),
         1.0 / versions[s.name])
        for s in bench.catalogue.specs
    ]  # fmt: skip


def _counts_of(
    bench: Bench, drinks: list[tuple[list[int], float]], held_out: NDArray[np.bool_]
) -> Matrix:
    """Counts of the drinks that hold a held-out pair."""
    table = np.zeros_like(bench.world.counts)
    for parts, share in drinks:
        if held_out[np.ix_(parts, parts)].any():
            for a, b in combinations(parts, 2):
                table[a, b] += share
                table[b, a] += share
    return table
