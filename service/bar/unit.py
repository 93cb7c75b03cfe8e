"""One request, one transaction: a unit of work on the bar's records, committed at its edge."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Final

from sqlalchemy import Connection, Engine, select, text
from sqlalchemy.exc import DBAPIError, IntegrityError
from sqlalchemy.exc import TimeoutError as NoConnection

from service.bar.checks import clean_text
from service.bar.columns import metadata
from service.bar.engine import BUSY, WRITES, make_engine
from service.bar.migrate import migrate
from service.kit import Conflict, NotFound

LONGEST_WHO: Final = 60
# What either database says when somebody else holds a record for too long.
_OTHERS_AT_WORK: Final = ("locked", "lock timeout", "deadlock", "could not serialize")
# What SQLite's driver and PostgreSQL say of a whole number over 2^63 - 1; an address may hold one.
_TOO_LARGE: Final = ("SQLite INTEGER", "bigint out of range")
_NO_SUCH_NUMBER: Final = "no record has so large a number; look at the list again"


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
    """What one request does to the records. Only the bar room looks inside.

    who : whose hand it is, as the audit will say; empty where nothing may be written
    at : the moment of the request
    """

    connection: Connection
    who: str = ""
    at: datetime = field(default_factory=lambda: datetime.now(UTC))

    @property
    def on_postgresql(self) -> bool:
        return self.connection.dialect.name == "postgresql"


class Bar:
    """The records of one bar. Safe to share between threads; each request takes its own unit."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine

    @contextmanager
    def unit(self, who: str) -> Iterator[Unit]:
        """A unit that may write. Leaving it commits all of it; an error undoes all of it."""
        hand = clean_text("who", who, LONGEST_WHO, needed=True)
        with _answering(), self.engine.connect() as plain:
            connection = plain.execution_options(**{WRITES: True})
            with connection.begin():
                yield Unit(connection, hand)

    @contextmanager
    def look(self) -> Iterator[Unit]:
        """A unit that only reads: all of it sees the records as they were at one moment."""
        with _answering(), self.engine.connect() as plain:
            connection = plain
            if plain.dialect.name == "postgresql":
                connection = plain.execution_options(
                    isolation_level="REPEATABLE READ", postgresql_readonly=True
                )
            with connection.begin():
                yield Unit(connection)

    def close(self) -> None:
        """Let go of every connection."""
        self.engine.dispose()


def open_bar(database_url: str) -> Bar:
    """Open the records, bringing their tables up to date first."""
    engine = make_engine(database_url)
    try:
        migrate(engine)
    except BaseException:
        engine.dispose()
        raise
    return Bar(engine)


def is_empty(unit: Unit) -> bool:
    """Whether nothing was ever written here."""
    return not any(
        unit.connection.execute(select(1).select_from(table).limit(1)).first()
        for table in metadata.sorted_tables
    )


@contextmanager
def all_or_nothing(unit: Unit) -> Iterator[None]:
    """A part of a unit that is undone alone where an error leaves it; the unit may go on."""
    with unit.connection.begin_nested():
        yield


def take_turn(unit: Unit, turn: int) -> None:
    """Wait until nobody else holds this turn; it is given back when the unit ends.

    SQLite lets one unit write at a time anyway.
    """
    if unit.on_postgresql:
        unit.connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": turn})


@contextmanager
def _answering() -> Iterator[None]:
    """What the databases say of others at work, in the service's words."""
    try:
        yield
    except IntegrityError:
        raise Conflict(
            "somebody else wrote the same record, or one it depends on, at this moment; "
            "nothing was changed, look again"
        ) from None
    except NoConnection:
        raise Conflict(BUSY) from None
    except OverflowError as error:
        if _TOO_LARGE[0] not in str(error):
            raise
        raise NotFound(_NO_SUCH_NUMBER) from None
    except DBAPIError as error:
        if any(word in str(error.orig) for word in _OTHERS_AT_WORK):
            raise Conflict(BUSY) from None
        if _TOO_LARGE[1] in str(error.orig):
            raise NotFound(_NO_SUCH_NUMBER) from None
        raise
