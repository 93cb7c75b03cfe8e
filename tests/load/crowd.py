"""Traffic from several processes at once, as several workers of the service make it."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from contextlib import closing
from pathlib import Path

from service.bar import open_bar
from service.ingredients import Catalogue
from tests.load.traffic import Tally, check_afterwards, prepare

ROOT = Path(__file__).parents[2]
PROCESSES = 2


def crowd(
    database_url: str, catalogue: Catalogue, *, writers: int, readers: int, seconds: float
) -> Tally:
    """Hands shared out over two processes; what they did, after checking that all of it is kept."""
    with closing(open_bar(database_url)) as bar:
        prepare(bar, catalogue)
        each = [str(writers // PROCESSES), str(readers // PROCESSES), str(seconds)]
        command = [sys.executable, "-m", "tests.load.traffic", database_url, *each]
        running = [
            subprocess.Popen([*command, str(seed)], cwd=ROOT, stdout=subprocess.PIPE, text=True)
            for seed in range(PROCESSES)
        ]
        tally = Tally()
        for process in running:
            said = json.loads(process.communicate(timeout=seconds + 120)[0])
            tally.done.update(Counter(said["done"]))
            tally.conflicts += said["conflicts"]
            tally.errors += said["errors"]
            tally.slowest_write_s = max(tally.slowest_write_s, said["slowest_write_s"])
        check_afterwards(bar, tally.done)
    return tally
