"""A shelf of 50 000 bottles loads while one waits, and takes no more memory than a small one."""

from __future__ import annotations

import io
import time
import tracemalloc
from collections.abc import Iterator

import pytest

from service.bar import Bar, Outcome, load_shelf
from service.ingredients import Catalogue
from tests.bar.drafts import WHO

ROWS = 50_000
# By the clock, although tests share their machine: alone it takes about a fifth of it.
SECONDS_ALLOWED = 20.0
HEAD = "ingredient;label;abv_percent;size_ml;price;stock_ml;allergens;notes;out\n"


class Rows(io.RawIOBase):
    """A file that is made while it is read, so that it takes no memory of its own."""

    def __init__(self, names: list[str], rows: int) -> None:
        self._lines = self._written(names, rows)
        self._left = b""

    @staticmethod
    def _written(names: list[str], rows: int) -> Iterator[bytes]:
        yield HEAD.encode()
        for number in range(rows):
            name = "no such thing" if number % 1_000 == 999 else names[number % len(names)]
            yield f"{name};row {number};{number % 96},5;700;2{number % 10},5;1400;;é;no\n".encode()

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: memoryview) -> int:  # type: ignore[override]
        while len(self._left) < len(buffer):
            if not (line := next(self._lines, b"")):
                break
            self._left += line
        given, self._left = self._left[: len(buffer)], self._left[len(buffer) :]
        buffer[: len(given)] = given
        return len(given)


@pytest.fixture(scope="module")
def names(catalogue: Catalogue) -> list[str]:
    return [i.name for i in catalogue.ingredients.values() if i.role != "coffee"]


def load(bar: Bar, catalogue: Catalogue, names: list[str], rows: int, told: list[int]) -> None:
    with bar.unit(WHO) as unit:
        file = io.BufferedReader(Rows(names, rows))
        done = load_shelf(unit, catalogue, file, write=True, progress=told.append)
    assert done.counts[Outcome.ADDED] + done.bad_count == done.rows == rows
    assert done.bad_count == rows // 1_000


def test_50_000_rows_load_in_20_seconds_and_say_how_far_they_are(
    bar: Bar, catalogue: Catalogue, names: list[str]
) -> None:
    told: list[int] = []
    begun = time.monotonic()
    load(bar, catalogue, names, ROWS, told)
    assert time.monotonic() - begun < SECONDS_ALLOWED
    assert told == list(range(1_000, ROWS + 1, 1_000))


def test_three_times_the_rows_take_no_more_memory(
    bar: Bar, catalogue: Catalogue, names: list[str]
) -> None:
    load(bar, catalogue, names, 1_000, [])  # statements and names are compiled once
    peaks = []
    for rows in (2_000, 6_000):
        tracemalloc.start()
        load(bar, catalogue, names, rows, [])
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    # Kept for showing: the first thousand rows of either kind. The other 4 000, if they were held
    # at about two kilobytes each, would double the peak; a tenth is the allocator's mood.
    assert peaks[1] < 1.1 * peaks[0]
