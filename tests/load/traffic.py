"""Many hands on one bar: what they do, and what has to be true afterwards.

Writers take turns at what a busy night does: move stock between two bottles, revise a spec that
others revise too, keep trials, mark bottles out. Readers look on and check that nothing they see
is half done. Whatever goes wrong besides the stated Conflict is an error.
"""

from __future__ import annotations

import json
import random
import sys
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field, replace
from threading import Thread

from service.bar import (
    Bar,
    BottleDraft,
    SpecDraft,
    TrialDraft,
    add_bottle,
    add_spec,
    add_trial,
    audit_lines,
    bottles_on_shelf,
    list_specs,
    list_trials,
    move_stock,
    open_bar,
    read_spec,
    revise_spec,
    set_out,
)
from service.ingredients import Catalogue, load_catalogue
from service.ingredients.records import SpecPour
from service.kit import Conflict

STOCK_ML = 1_000_000.0
BOTTLES = 4
GLASS_ML = 60.0


@dataclass(slots=True)
class Tally:
    """What the hands of one process did."""

    done: Counter[str] = field(default_factory=Counter)
    conflicts: int = 0
    errors: list[str] = field(default_factory=list)
    slowest_write_s: float = 0.0


def prepare(bar: Bar, catalogue: Catalogue) -> None:
    """A small shelf with a known stock, and a spec whose two pours always fill one glass."""
    with bar.unit("setup") as unit:
        for _ in range(BOTTLES):
            add_bottle(unit, catalogue, BottleDraft(ingredient="cognac", stock_ml=STOCK_ML))
        add_spec(unit, catalogue, _draft(40.0))


def run(database_url: str, *, writers: int, readers: int, seconds: float, seed: int) -> Tally:
    """So many hands for so long, each a thread of this process."""
    catalogue, tally = load_catalogue(), Tally()
    with closing(open_bar(database_url)) as bar:
        end = time.monotonic() + seconds
        acts: list[Callable[[random.Random], str]] = [
            *[lambda dice: _write(bar, catalogue, dice)] * writers,
            *[lambda dice: _read(bar)] * readers,
        ]
        threads = [
            Thread(target=_until, args=(end, act, tally, random.Random(seed * 1000 + number)))
            for number, act in enumerate(acts)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    return tally


def check_afterwards(bar: Bar, done: Counter[str]) -> None:
    """Everything that was acknowledged is there, and nothing else is."""
    with bar.look() as unit:
        stock = sum(bottle.stock_ml for bottle in bottles_on_shelf(unit))
        (spec,) = list_specs(unit)
        trials = list_trials(unit)
    assert stock == BOTTLES * STOCK_ML, "stock was lost or made"
    assert spec.latest == 1 + done["revised"], "a revision was lost"
    assert len(trials) == done["tried"], "a trial was lost"


def _until(
    end: float, act: Callable[[random.Random], str], tally: Tally, dice: random.Random
) -> None:
    while (begun := time.monotonic()) < end:
        try:
            kind = act(dice)
        except Conflict:
            tally.conflicts += 1
        except Exception as error:
            tally.errors.append(f"{type(error).__name__}: {error}"[:300])
        else:
            tally.done[kind] += 1
            if kind != "looked":
                took = time.monotonic() - begun
                tally.slowest_write_s = max(tally.slowest_write_s, took)


def _write(bar: Bar, catalogue: Catalogue, dice: random.Random) -> str:
    turn = dice.randrange(4)
    if turn == 0:
        return _revise(bar, catalogue, dice)
    with bar.unit("writer") as unit:
        if turn == 1:
            giver, taker = dice.sample(range(1, BOTTLES + 1), 2)
            move_stock(unit, giver, -5.0)
            move_stock(unit, taker, 5.0)
            return "moved"
        if turn == 2:
            add_trial(unit, TrialDraft(spec_id=1, liking=dice.randrange(1, 10)))
            return "tried"
        set_out(unit, dice.randrange(1, BOTTLES + 1), dice.random() < 0.5)
        return "marked"


def _revise(bar: Bar, catalogue: Catalogue, dice: random.Random) -> str:
    """As a page does it: read, think, write. Somebody else may have been faster."""
    with bar.look() as unit:
        seen = read_spec(unit, 1)
    draft = _draft(seen.pours[0].volume_ml % 50.0 + 1.0)
    with bar.unit("writer") as unit:
        revise_spec(unit, catalogue, 1, seen.version, draft)
    return "revised"


def _read(bar: Bar) -> str:
    with bar.look() as unit:
        stock = sum(bottle.stock_ml for bottle in bottles_on_shelf(unit))
        spec = read_spec(unit, 1)
        audit_lines(unit, limit=20)
        again = sum(bottle.stock_ml for bottle in bottles_on_shelf(unit))
    assert stock == again == BOTTLES * STOCK_ML, "a transfer was seen half done"
    assert sum(pour.volume_ml for pour in spec.pours) == GLASS_ML, "half a revision was seen"
    return "looked"


def _draft(first_ml: float) -> SpecDraft:
    pours = (SpecPour("cognac", first_ml), SpecPour("fig-liqueur", GLASS_ML - first_ml))
    return replace(SpecDraft(name="Rope Walk", pours=pours))


if __name__ == "__main__":
    url, writers_, readers_, seconds_, seed_ = sys.argv[1:]
    found = run(url, writers=int(writers_), readers=int(readers_), seconds=float(seconds_),
                seed=int(seed_))  # fmt: skip
    print(json.dumps({"done": found.done, "conflicts": found.conflicts, "errors": found.errors,
                      "slowest_write_s": found.slowest_write_s}))  # fmt: skip
