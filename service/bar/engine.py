"""Opening a database: SQLite in WAL mode by default, PostgreSQL by URL."""

from __future__ import annotations

import random
import sqlite3
import time
from contextlib import closing
from pathlib import Path
from typing import Any, Final

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError

from service.kit import BadData, Conflict

FIELD: Final = "MARC_DATABASE_URL"
# A writer waits this long for others before the person is told to try again.
PATIENCE_SECONDS: Final = 30.0
BUSY: Final = "the records are busy with other changes; nothing was changed, try again"
# Connections a process keeps open, and how many more it may open at once.
POOL_SIZE, POOL_OVERFLOW = 5, 20
# Set on a connection whose transaction will write; SQLite then asks for its turn at once.
WRITES: Final = "marc_writes"
_WAL_TRIES: Final = 200
# How soon a waiting writer looks again whether it is its turn; a write takes about as long.
_LOOK_AGAIN_S: Final = (0.0005, 0.004)


def make_engine(database_url: str) -> Engine:
    """An engine for the records; BadData says what is wrong with the URL or the place."""
    url = _read_url(database_url)
    if url.get_backend_name() == "sqlite":
        return _sqlite(url)
    if url.get_backend_name() == "postgresql":
        return _postgresql(url)
    raise BadData(
        f"{url.get_backend_name()!r} is no database used here; give sqlite:///FILE or "
        "postgresql://USER@HOST/NAME",
        field=FIELD,
    )


def shown(engine: Engine) -> str:
    """The URL without its password."""
    return engine.url.render_as_string(hide_password=True)


def sqlite_file(engine: Engine) -> Path | None:
    """The file of a SQLite database; None for PostgreSQL."""
    if engine.dialect.name != "sqlite":
        return None
    return Path(engine.url.database or "")


def _read_url(database_url: str) -> URL:
    try:
        url = make_url(database_url)
    except ArgumentError:
        raise BadData("this is no database URL; write sqlite:///FILE", field=FIELD) from None
    if url.drivername in {"postgres", "postgresql"}:
        return url.set(drivername="postgresql+psycopg")
    return url


def _sqlite(url: URL) -> Engine:
    if url.database in {None, "", ":memory:"}:
        raise BadData("records must be kept in a file; write sqlite:///FILE", field=FIELD)
    file = Path(str(url.database))
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadData(f"{file.parent} cannot be made: {error.strerror}", field=FIELD) from None
    engine = create_engine(
        url,
        pool_size=POOL_SIZE,
        max_overflow=POOL_OVERFLOW,
        connect_args={"timeout": PATIENCE_SECONDS, "check_same_thread": False},
    )
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    try:
        _to_wal(engine, file)
    except BadData:
        engine.dispose()
        raise
    return engine


def _set_up_sqlite(connection: sqlite3.Connection, _record: Any) -> None:
    connection.isolation_level = None  # the driver begins nothing by itself; see _begin_sqlite
    cursor = connection.cursor()
    cursor.execute("PRAGMA foreign_keys = ON")
    # Every commit reaches the disk before it is acknowledged.
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    """A transaction that will write queues for its turn first, so it never reads stale rows."""
    if not connection.get_execution_options().get(WRITES, False):
        connection.exec_driver_sql("BEGIN")
        return
    driver = connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    _take_turn(driver)


def _take_turn(driver: sqlite3.Connection) -> None:
    """Begin to write as soon as nobody else does.

    SQLite by itself would look again only every tenth of a second, and on a busy night some
    hands would wait for many of those.
    """
    end = time.monotonic() + PATIENCE_SECONDS
    driver.execute("PRAGMA busy_timeout = 0")
    try:
        while True:
            try:
                driver.execute("BEGIN IMMEDIATE")
                return
            except sqlite3.OperationalError as error:
                if "locked" not in str(error):
                    raise
            if time.monotonic() > end:
                raise Conflict(BUSY)
            time.sleep(random.uniform(*_LOOK_AGAIN_S))
    finally:
        driver.execute(f"PRAGMA busy_timeout = {int(PATIENCE_SECONDS * 1000)}")


def _to_wal(engine: Engine, file: Path) -> None:
    """Readers and a writer side by side. The switch is kept in the file and made only once; SQLite
    does not wait for others while it is made, so this does."""
    for _ in range(_WAL_TRIES):
        try:
            with closing(engine.raw_connection()) as raw:
                raw.cursor().execute("PRAGMA journal_mode = WAL")
            return
        except (DBAPIError, sqlite3.DatabaseError) as error:
            reason = error.orig if isinstance(error, DBAPIError) else error
            if "locked" not in str(reason):
                raise BadData(
                    f"{file} cannot be opened as the bar's records: {reason}", field=FIELD
                ) from None
            time.sleep(PATIENCE_SECONDS / _WAL_TRIES)
    raise BadData(f"{file} is held by another program; close that one first", field=FIELD)


def _postgresql(url: URL) -> Engine:
    patience = f"-c lock_timeout={int(PATIENCE_SECONDS * 1000)}"
    try:
        engine = create_engine(
            url,
            pool_size=POOL_SIZE,
            max_overflow=POOL_OVERFLOW,
            pool_pre_ping=True,
            connect_args={"options": patience},
        )
    except ModuleNotFoundError:
        raise BadData(
            "PostgreSQL needs the driver psycopg; install this package with its extra 'postgresql'",
            field=FIELD,
        ) from None
    try:
        engine.connect().close()
    except DBAPIError as error:
        engine.dispose()
        reason = str(error.orig).strip().splitlines()[0]
        raise BadData(
            f"{shown(engine)} does not answer ({reason}); start it, or correct the URL",
            field=FIELD,
        ) from None
    return engine
