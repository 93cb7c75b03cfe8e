"""Eight hands write and sixteen look on; the full minute of it is in `benchmarks/store.py`."""

from __future__ import annotations

from service.ingredients import Catalogue
from tests.load.crowd import crowd

SECONDS = 4.0


def test_8_writers_and_16_readers_meet_nothing_but_the_stated_conflict(
    database_url: str, catalogue: Catalogue
) -> None:
    tally = crowd(database_url, catalogue, writers=8, readers=16, seconds=SECONDS)
    assert tally.errors == []
    assert min(tally.done[kind] for kind in ("moved", "tried", "marked", "revised")) > 0
    assert tally.done["looked"] > 50
    assert tally.conflicts > 0, "nobody met anybody, so nothing was tested"
