"""Tries to sign in, and visits that were ended, kept in the audit: there every worker sees them,
and so does the owner."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from typing import Any, Final

from sqlalchemy import func, insert, select

from service.bar.checks import clean_line
from service.bar.tables import audit
from service.bar.unit import Unit, take_turn

NOUN: Final = "sign-in"
TRIED, DONE = "tried", "signed in"
VISIT: Final = "visit"
ENDED: Final = "signed out"
# Our estimate: a person who knows the passphrase slips a few times, and never ten.
WINDOW: Final = timedelta(minutes=15)
MOST_FROM_ONE: Final = 10
MOST_FROM_ALL: Final = 100
# Any fixed number: whoever holds it on PostgreSQL counts tries, the others wait.
_TURN: Final = 0x6C6F67696E


@dataclass(frozen=True, slots=True)
class TooManyTries:
    """Nobody may try from there before so many seconds have passed."""

    wait_seconds: int


def note_try(unit: Unit, address: str) -> TooManyTries | None:
    """Count a try from an address before it is looked at; refuse it where there were too many.

    Counted first, so that a thousand tries at once are not all looked at.
    """
    take_turn(unit, _TURN)
    since = unit.at - WINDOW
    tries = select(func.count(), func.min(audit.c.at)).where(
        audit.c.noun == NOUN, audit.c.what == TRIED, audit.c.at > since
    )
    from_here = tries.where(
        audit.c.record == address, audit.c.id > func.coalesce(_last_done(address), 0)
    )
    for query, most in ((from_here, MOST_FROM_ONE), (tries, MOST_FROM_ALL)):
        count, first = unit.connection.execute(query).one()
        if count >= most:
            return TooManyTries(max(1, ceil((first - since).total_seconds())))
    _write(unit, address, TRIED)
    return None


def note_sign_in(unit: Unit, address: str) -> None:
    """The right words were said: earlier slips from there count no longer."""
    _write(unit, address, DONE)


def note_sign_out(unit: Unit, visit: str) -> None:
    """A visit is over, also for whoever holds a copy of its cookie. `visit` is a word that stands
    for it, and opens nothing."""
    _write(unit, visit, ENDED, noun=VISIT)


def ended_visits(unit: Unit, since: datetime) -> frozenset[str]:
    """The words of all visits that were ended after a moment."""
    ended = select(audit.c.record).where(
        audit.c.noun == VISIT, audit.c.what == ENDED, audit.c.at > since
    )
    return frozenset(unit.connection.execute(ended).scalars())


def _last_done(address: str) -> Any:
    return (
        select(func.max(audit.c.id))
        .where(audit.c.noun == NOUN, audit.c.record == address, audit.c.what == DONE)
        .scalar_subquery()
    )


def _write(unit: Unit, record: str, what: str, noun: str = NOUN) -> None:
    values = {"at": unit.at, "who": unit.who, "noun": noun, "version": 0, "what": what}
    record = clean_line("record", record)
    unit.connection.execute(insert(audit), [{**values, "record": record, "changes": {}}])
