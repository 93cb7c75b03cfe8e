"""What a route may ask for, as annotated names.

A route that reads records takes `LookHere`, one that changes them takes `UnitHere`: one unit for
the whole request, committed after the route has made its answer and before the answer leaves; an
error on the way undoes all of it. Such routes are plain `def`, so that they wait in a thread.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterator
from typing import Annotated, Final

from anyio import CapacityLimiter
from fastapi import Depends, Request

from service.bar import Bar, Unit
from service.counter.known import Known
from service.counter.this_bar import BarMemory, ThisBar
from service.web.security import WhoHere, may_write

# Requests that hold a unit, or wait for one, at once. Fewer than there are threads (40) and
# connections (25): those that wait for the one writer must not keep it from a thread to finish in.
UNITS_AT_ONCE: Final = 16


async def known_of(request: Request) -> Known:
    """All that was loaded at the start."""
    known: Known = request.app.state.known
    return known


async def bar_of(request: Request) -> Bar:
    """The bar's records; most routes want a unit of them."""
    bar: Bar = request.app.state.bar
    return bar


KnownHere = Annotated[Known, Depends(known_of)]
BarHere = Annotated[Bar, Depends(bar_of)]


async def _place(request: Request) -> AsyncIterator[None]:
    """A place among those that use the records; waiting for it takes no thread."""
    places: CapacityLimiter = request.app.state.places
    async with places:
        yield


Place = Annotated[None, Depends(_place, scope="function")]


def _look(bar: BarHere, _place: Place) -> Iterator[Unit]:
    with bar.look() as unit:
        yield unit


def _unit(bar: BarHere, who: WhoHere, _place: Place) -> Iterator[Unit]:
    may_write(who)
    with bar.unit(who.name) as unit:
        yield unit


LookHere = Annotated[Unit, Depends(_look, scope="function")]
UnitHere = Annotated[Unit, Depends(_unit, scope="function")]


async def memory_of(request: Request) -> BarMemory:
    """What this worker remembers of the bar."""
    memory: BarMemory = request.app.state.memory
    return memory


MemoryHere = Annotated[BarMemory, Depends(memory_of)]


def _look_bar(unit: LookHere, memory: MemoryHere, known: KnownHere) -> ThisBar:
    return memory.this_bar(unit, known)


def _unit_bar(unit: UnitHere, memory: MemoryHere, known: KnownHere) -> ThisBar:
    return memory.this_bar(unit, known)


# This bar tonight, in the unit of the request: for routes that look, and for those that change.
BarLooked = Annotated[ThisBar, Depends(_look_bar)]
BarChanged = Annotated[ThisBar, Depends(_unit_bar)]


async def _this_bar(bar: BarHere, memory: MemoryHere, known: KnownHere) -> Callable[[], ThisBar]:
    def read() -> ThisBar:
        with bar.look() as unit:
            return memory.this_bar(unit, known)

    return read


# For routes that compute and touch the records only where the bar is asked for: a function that
# reads it, to be called in a thread.
ThisBarHere = Annotated[Callable[[], ThisBar], Depends(_this_bar)]
