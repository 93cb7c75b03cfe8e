"""Visits that were ended: the cookie is good for a day, so signing out has to be remembered.

The records keep it, because every worker has to know. Looked up once in a while and not for every
page: signing out works at once where it was asked for, and everywhere within a second.
"""

from __future__ import annotations

import hashlib
import time
from datetime import UTC, datetime, timedelta
from typing import Final

from anyio import Lock
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request

from service.bar import Bar, ended_visits, note_sign_out
from service.web.security.visits import LONGEST_S, Visit

LOOK_AGAIN_S: Final = 1.0


class EndedVisits:
    """What one worker knows of them."""

    def __init__(self) -> None:
        self._marks: frozenset[str] = frozenset()
        self._looked_at = -LOOK_AGAIN_S
        self._looking = Lock()

    async def holds(self, bar: Bar, visit: Visit) -> bool:
        """Whether a visit was ended."""
        async with self._looking:
            if time.monotonic() - self._looked_at >= LOOK_AGAIN_S:
                self._marks = await run_in_threadpool(_marks, bar)
                self._looked_at = time.monotonic()
        return _mark(visit) in self._marks

    def look_again(self) -> None:
        """Before the next answer."""
        self._looked_at = -LOOK_AGAIN_S


def end(request: Request, visit: Visit, hand: str) -> None:
    """A visit is over, for every copy of its cookie. `hand` is what the audit says."""
    bar: Bar = request.app.state.bar
    with bar.unit(hand) as unit:
        note_sign_out(unit, _mark(visit))
    ended: EndedVisits = request.app.state.ended
    ended.look_again()


def _marks(bar: Bar) -> frozenset[str]:
    # Older cookies are refused for their age.
    since = datetime.now(UTC) - timedelta(seconds=LONGEST_S)
    with bar.look() as unit:
        return ended_visits(unit, since)


def _mark(visit: Visit) -> str:
    return hashlib.sha256(visit.id.encode()).hexdigest()[:32]
