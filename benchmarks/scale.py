"""How ranking grows with the catalogue, against a sparse product and scikit-learn in one run.

    python -m benchmarks.scale [--largest 1000000]

For each size: the ten best modifiers for a coffee by all four parts, found without reasons and
told with them; one product of the whole note matrix and a vector; scikit-learn's brute-force
cosine neighbours on that same matrix. All on one thread, taken in turns; medians of the time the
processor spent, so that whatever else runs on the machine counts little. Prints a table and draws
`build/scale.svg`.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from benchmarks.synthetic import Synthetic, breed
from service.aroma import Aroma, coffee_aroma
from service.counter.pictures import Picture, svg_of
from service.counter.pictures.look import AFTER, BEFORE, SOFT, amount, layer, picture_of
from service.ingredients import Catalogue, CoffeeProfile, load_catalogue
from service.ingredients.records import Roast, Role
from service.recommend import Pool, best_of, pool_of_rows, rank

SIZES: Final = (1_000, 10_000, 100_000, 1_000_000)
BEST: Final = 10
BAGS: Final = ((), ("dark-chocolate",), ("jasmine", "bergamot"), ("smoke", "cherry", "cedar"))
# Rounds of one timing of each; scikit-learn is slow and takes part in every fourth.
ROUNDS: Final = 60
LEARN_EVERY: Final = 4


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured at one size; times in milliseconds, memory in bytes per ingredient."""

    ingredients: int
    candidates: int
    product_ms: float
    found_ms: float
    told_ms: float
    neighbours_ms: float
    ready_s: float
    knowledge_bytes: float
    pool_bytes: float


def measure(catalogue: Catalogue, size: int) -> Row:
    """One row of the table."""
    synthetic = breed(catalogue, size)
    start = time.thread_time()
    pool = pool_of_rows(synthetic.knowledge, synthetic.of_role(Role.MODIFIER))
    ready = time.thread_time() - start
    product, found, told, neighbours = _timings(synthetic, pool)
    return Row(
        ingredients=size,
        candidates=len(pool),
        product_ms=product,
        found_ms=found,
        told_ms=told,
        neighbours_ms=neighbours,
        ready_s=ready,
        knowledge_bytes=_knowledge_bytes(synthetic) / size,
        pool_bytes=(pool.notes.nbytes + pool.sketch.nbytes + pool.rows.nbytes) / len(pool),
    )


def _timings(synthetic: Synthetic, pool: Pool) -> tuple[float, float, float, float]:
    from scipy import sparse
    from sklearn.neighbors import NearestNeighbors
    from threadpoolctl import threadpool_limits  # type: ignore[import-untyped]

    threadpool_limits(1)  # as the service runs
    knowledge = synthetic.knowledge
    notes, weights = knowledge.space.notes, knowledge.weights
    nearest = NearestNeighbors(n_neighbors=BEST, algorithm="brute", metric="cosine").fit(notes)
    times: tuple[list[float], ...] = ([], [], [], [])
    for number, aroma in zip(range(ROUNDS), coffees(synthetic), strict=False):
        question = sparse.csr_array(aroma.notes[None])
        times[0].append(_milliseconds(notes.dot, aroma.notes))
        times[1].append(_milliseconds(best_of, knowledge, pool, aroma, weights, BEST))
        times[2].append(_milliseconds(rank, knowledge, aroma, pool, weights, BEST))
        if number % LEARN_EVERY == 0:
            times[3].append(_milliseconds(nearest.kneighbors, question))
    product, found, told, neighbours = (statistics.median(t) for t in times)
    return product, found, told, neighbours


def coffees(synthetic: Synthetic) -> Iterator[Aroma]:
    """Roasts and bags by turns, for ever."""
    space = synthetic.knowledge.space
    while True:
        for roast in Roast:
            for bag in BAGS:
                notes = {note: 1.0 for note in bag if note in space.descriptor_index}
                yield coffee_aroma(space, synthetic.catalogue, CoffeeProfile(roast), notes)


def _milliseconds(work: Callable[..., Any], *given: Any) -> float:
    start = time.thread_time()
    work(*given)
    return (time.thread_time() - start) * 1e3


def _knowledge_bytes(synthetic: Synthetic) -> int:
    space = synthetic.knowledge.space
    sparse = (space.notes, space.trust, space.odorants)
    return sum(map(_bytes, sparse)) + space.families.nbytes


def _bytes(matrix: Any) -> int:
    return int(matrix.data.nbytes + matrix.indices.nbytes + matrix.indptr.nbytes)


def table(rows: list[Row]) -> str:
    """The rows as text; the ratios say how often `told` goes into the others."""
    head = ("ingredients  modifiers   product  10 found   10 told  neighbours"
            "  told/product  neighbours/told   ready  B/ingredient  B/candidate")  # fmt: skip
    lines = [
        f"{r.ingredients:11,}  {r.candidates:9,} {r.product_ms:6.2f} ms {r.found_ms:6.2f} ms"
        f" {r.told_ms:6.2f} ms {r.neighbours_ms:8.1f} ms {r.told_ms / r.product_ms:13.2f}"
        f" {r.neighbours_ms / r.told_ms:16.1f} {r.ready_s:5.1f} s"
        f" {r.knowledge_bytes:13.0f} {r.pool_bytes:12.0f}"
        for r in rows
    ]
    return "\n".join((head, *lines))


def picture(rows: list[Row]) -> Picture:
    """Milliseconds against ingredients, both in the logarithm; each line ends in its name."""
    lines = (
        ("scikit-learn", "neighbours_ms", SOFT, [2, 3]),
        ("ten best, told", "told_ms", AFTER, [1, 0]),
        ("one product", "product_ms", BEFORE, [6, 3]),
    )
    x = amount("ingredients", "ingredients", scale={"type": "log"}, axis={"format": "~s"})
    y = amount("ms", "milliseconds", scale={"type": "log"}, axis={"format": "~g"})
    layers = []
    for name, field, colour, dash in lines:
        values = [{"ingredients": r.ingredients, "ms": getattr(r, field)} for r in rows]
        mark = {"type": "line", "color": colour, "strokeDash": dash, "point": {"color": colour}}
        layers.append(layer(values, mark, x=x, y=y))
        end = values[-1]
        words = {"type": "text", "align": "right", "dx": -8, "dy": -9, "color": colour}
        layers.append(layer([end | {"t": name}], words, x=x, y=y, text={"field": "t"}))
    return picture_of("Growth with the catalogue", table(rows).split("\n"), layers, height=280)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--largest", type=int, default=100_000)
    largest = parser.parse_args().largest
    catalogue = load_catalogue()
    rows = [measure(catalogue, size) for size in SIZES if size <= largest]
    print(table(rows))
    target = Path("build/scale.svg")
    target.parent.mkdir(exist_ok=True)
    target.write_text(svg_of(picture(rows)), encoding="utf-8")
    print(f"picture: {target}")


if __name__ == "__main__":
    main()
