"""How the bar's records hold out: many hands for a minute, and a shelf of 50 000 bottles.

    python -m benchmarks.store [seconds]

On SQLite and on PostgreSQL. Everything acknowledged is checked afterwards; the numbers of this
run are printed, and nothing is pinned to them.
"""

from __future__ import annotations

import io
import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager

from service.bar import load_shelf, open_bar
from service.ingredients import Catalogue, load_catalogue
from tests.bar.postgresql import running_server
from tests.load.crowd import crowd
from tests.load.test_import import ROWS, Rows

WRITERS, READERS, SECONDS = 8, 16, 60.0
FEW_ROWS = 1_000


@contextmanager
def databases() -> Iterator[dict[str, list[str]]]:
    """URLs of two empty databases of each kind."""
    with tempfile.TemporaryDirectory() as folder, running_server() as server:
        yield {
            "SQLite": [f"sqlite:///{folder}/{number}.sqlite" for number in range(2)],
            "PostgreSQL": [server.replace("NAME", name) for name in ("postgres", "template1")],
        }


def report_crowd(url: str, catalogue: Catalogue, seconds: float) -> None:
    """So many hands for so long; raises where anything acknowledged was lost."""
    tally = crowd(url, catalogue, writers=WRITERS, readers=READERS, seconds=seconds)
    reads = tally.done.pop("looked")
    writes = tally.done.total()
    print(
        f"  {WRITERS} writers, {READERS} readers, {seconds:g} s: {writes / seconds:.0f} writes/s,"
        f" {reads / seconds:.0f} reads/s, {tally.conflicts} stated conflicts,"
        f" {len(tally.errors)} errors, slowest write {tally.slowest_write_s:.2f} s"
    )
    for error in tally.errors[:5]:
        print(f"    {error}")


def report_import(url: str, catalogue: Catalogue) -> None:
    """A shelf of 50 000 rows: rows per second, and how much more memory than for 1 000."""
    names = [i.name for i in catalogue.ingredients.values() if i.role != "coffee"]
    with closing(open_bar(url)) as bar, bar.unit("benchmark") as unit:
        # Statements are compiled, and what is kept for showing is there, before it counts.
        load_shelf(unit, catalogue, io.BufferedReader(Rows(names, FEW_ROWS)), write=True)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        begun, worked = time.perf_counter(), time.process_time()
        file = io.BufferedReader(Rows(names, ROWS))
        done = load_shelf(unit, catalogue, file, write=True)
        took, worked = time.perf_counter() - begun, time.process_time() - worked
        grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    print(
        f"  {done.rows} rows of a shelf: {took:.1f} s ({worked:.1f} s of processor here),"
        f" {done.rows / took:.0f} rows/s, {grown:.0f} MiB more at the peak than for {FEW_ROWS}"
    )


def main() -> None:
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    catalogue = load_catalogue()
    with databases() as urls:
        for kind, (first, second) in urls.items():
            print(kind)
            report_import(first, catalogue)
            report_crowd(second, catalogue, seconds)


if __name__ == "__main__":
    main()
